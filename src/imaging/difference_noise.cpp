#include "tedge/imaging/difference_noise.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr double most_samples = 40'000.0;

Lab lab_of_pixel(const Raster8& picture, int x, int y) {
    return lab_from_srgb8(picture.at(x, y, 0), picture.at(x, y, 1), picture.at(x, y, 2));
}

double noise_at(const Raster8& first, const Raster8& second, int x, int y) {
    const Lab here = lab_of_pixel(first, x, y), beside = lab_of_pixel(first, x + 1, y);
    const Lab there = lab_of_pixel(second, x, y), beside_there = lab_of_pixel(second, x + 1, y);
    const auto noise = [&](double Lab::* part) {
        return ((there.*part - here.*part) - (beside_there.*part - beside.*part)) / std::numbers::sqrt2;
    };
    return delta_e00(here, {here.l + noise(&Lab::l), here.a + noise(&Lab::a), here.b + noise(&Lab::b)});
}

}  // namespace

double noise_delta_e00(const Raster8& reference_srgb, const Raster8& registered_srgb, const Raster8& counted) {
    const double pixels = static_cast<double>(counted.width_px()) * counted.height_px();
    const int step = std::max(1, static_cast<int>(std::ceil(std::sqrt(pixels / most_samples))));
    std::vector<double> found;
    for (int y = step / 2; y < counted.height_px(); y += step)
        for (int x = step / 2; x + 1 < counted.width_px(); x += step)
            if (counted.at(x, y) != 0 && counted.at(x + 1, y) != 0)
                found.push_back(noise_at(reference_srgb, registered_srgb, x, y));
    if (found.empty()) return 0.0;
    const auto quartile = found.begin() + static_cast<std::ptrdiff_t>(3 * found.size() / 4);
    std::ranges::nth_element(found, quartile);
    return *quartile;
}

}  // namespace tedge::imaging
