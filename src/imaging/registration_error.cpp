#include "tedge/imaging/registration_error.hpp"

#include <cmath>

namespace tedge::imaging {

double error_at(double error_px, const std::vector<const RegistrationErrorMap*>& maps, PointPx reference) {
    double square = error_px * error_px;
    for (const RegistrationErrorMap* map : maps) {
        const double error = map->at(reference);
        if (error < 0.0) return -1.0;
        square += error * error;
    }
    return std::sqrt(square);
}

}  // namespace tedge::imaging
