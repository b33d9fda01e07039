#include <catch2/catch.hpp>
#include <cmath>

#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

BsplineDisplacement wavy(PointMm origin, double spacing, int columns, int rows, double amplitude) {
    std::vector<PointMm> coefficients;
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c)
            coefficients.push_back({amplitude * std::sin(0.9 * c + 0.3 * r), amplitude * std::cos(0.5 * c - 0.8 * r)});
    }
    return BsplineDisplacement::make(origin, spacing, columns, rows, coefficients).value();
}

RegistrationReport bent_report() {
    RegistrationReport report;
    report.usable = true;
    report.reference_size = {3000, 2000};
    report.moving_size = {2800, 2100};
    report.error_px = 0.1;
    report.reference_from_moving.homography =
        Homography::from_row_major({1.02, 0.03, -20, -0.02, 0.98, 15, 4e-6, -3e-6, 1}).value();
    report.reference_from_moving.displacement = wavy({-300, -300}, 150, 26, 19, 3.0);
    return report;
}

}  // namespace

TEST_CASE("A photograph is placed through the reference it was registered to") {
    const RegistrationReport report = bent_report();
    // 0.25 mm a pixel, a little perspective, and a displacement of its own.
    Placement reference;
    reference.face_from_photo = Homography::from_row_major({0.25, 0.001, -3, 0.0005, 0.25, 2, 2e-6, 1e-6, 1}).value();
    reference.displacement = wavy({-100, -100}, 60, 18, 14, 0.4);
    reference.error_mm = 0.05;
    const auto composed = compose_placement(reference, report);
    REQUIRE(composed);
    const Placement& placed = composed->face_from_moving;
    CHECK(composed->fit_error_mm < 0.005);
    // 0.05 mm of the reference and 0.1 px of 0.25 mm, in quadrature, and the fit's own.
    CHECK(placed.error_mm == Approx(std::hypot(0.05, 0.025)).epsilon(0.05));

    double worst_mm = 0.0;
    double worst_px = 0.0;
    for (int y = 50; y < 2050; y += 37) {
        for (int x = 60; x < 2750; x += 41) {
            const PointPx moving{static_cast<double>(x), static_cast<double>(y)};
            const PointPx through = report.reference_from_moving.map(moving);
            if (through.x_px < 0 || through.y_px < 0 || through.x_px > 2999 || through.y_px > 1999) continue;
            const PointMm exact = reference.to_face(through);
            const PointMm direct = placed.to_face(moving);
            worst_mm = std::max(worst_mm, std::hypot(exact.x_mm - direct.x_mm, exact.y_mm - direct.y_mm));
            const auto back = placed.to_photo(direct);
            REQUIRE(back);
            worst_px = std::max(worst_px, std::hypot(back->x_px - moving.x_px, back->y_px - moving.y_px));
        }
    }
    CHECK(worst_mm < 0.005);  // a fiftieth of a pixel
    CHECK(worst_px < 2e-3);
}

TEST_CASE("Two plane maps compose exactly, without a displacement") {
    RegistrationReport report = bent_report();
    report.reference_from_moving.displacement.reset();
    const Placement reference{Homography::scaling(0.2, 0.2), std::nullopt, 0.0};
    const auto composed = compose_placement(reference, report);
    REQUIRE(composed);
    CHECK_FALSE(composed->face_from_moving.displacement);
    CHECK(composed->fit_error_mm == 0.0);
    const PointPx through = report.reference_from_moving.map({700, 900});
    CHECK(composed->face_from_moving.to_face({700, 900}).x_mm == Approx(0.2 * through.x_px).epsilon(1e-12));
}

TEST_CASE("A registration that cannot be trusted places nothing") {
    RegistrationReport report = bent_report();
    report.usable = false;
    CHECK(compose_placement(Placement{}, report).error().code == "registration.not-usable");
}
