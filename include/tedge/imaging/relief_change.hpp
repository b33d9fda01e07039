// Where relief changed between two registered photographs in raking light from the same side: cupping that was
// flattened, paint that lifted anew.
//
// The logarithm of what a photograph shows is that of the paint plus that of the light on its slopes. Paint that stayed
// the same goes out in the difference of two such logarithms, and with it whatever the exposures differ by; slow
// changes of the lamp are taken out by subtracting an average over some 10 mm. What is left is the change of shading.
// Its root mean square over some 4 mm is how much changed. Whether slopes became stronger or weaker is told for each
// place as a whole, by whether the change goes with or against what both pictures show there; paint of strong contrast
// can hide it, and then it is not told.
//
// The floor, below which nothing is said: twice the root of the sum of squares of
//  - the noise: the median over the picture of that root mean square, for less than half of a picture lifts at once;
//  - what a misfit makes: the estimated error of that place times the root mean square gradient there, of the picture
//  that has more.
// A rule of our own. Outlines reach some 4 mm beyond what changed. A change of surface that is no relief (cleaning,
// retouching, gloss) shows as well when it has edges finer than some 10 mm: look at both photographs.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/raster.hpp"
#include "tedge/imaging/registration.hpp"

namespace tedge::imaging {

// The lamp of one photograph: on which side it stood ("left", "top-left", …; empty: not known), how far above the
// surface.
struct RakingLamp {
    std::string side;
    std::optional<double> angle_degrees;
};

// Whether two lamps shade the same slopes: what to know when their angles are unknown or differ a little, or "".
// Errors: relief.side-unknown, relief.sides-differ, relief.angles-differ (by more than 10 degrees: shading grows with
// the cotangent).
[[nodiscard]] Expected<std::string> lamps_agree(const RakingLamp& before, const RakingLamp& after);

struct ReliefChangeOptions {
    RakingLamp before;
    RakingLamp after;
    double mm_per_px = 0.0;
    double error_px = 0.0;  // of where the two lie on each other, one standard deviation: one for all,
    std::vector<const RegistrationErrorMap*> error_maps{};  // and maps over these pixels; they join in quadrature
    const Raster8* counted = nullptr;                       // 1 channel: 0 where nothing can be said. Null: everywhere
    double least_cm2 = 0.1;                                 // smaller places are not told
};

enum class ReliefTurn { stronger, weaker, unclear };  // lifted anew; flattened; changed, and no more can be said
[[nodiscard]] std::string_view to_text(ReliefTurn turn);

struct ReliefPlace {
    Region region;  // on the face
    double area_cm2 = 0.0;
    ReliefTurn turn = ReliefTurn::unclear;
    double strength = 0.0;  // how many times the floor, the mean over the place
};

struct ReliefChange {
    // Change of shading over its floor, 1 channel: beyond 1 relief changed; 0 where nothing can be said.
    RasterF change;
    double noise = 0.0;                 // of the floor: root mean square of the log of light; 0.01 is one percent
    std::vector<ReliefPlace> places{};  // largest first
    std::string note{};                 // when an angle is not known, or differs a little
};

// Pictures are sRGB or grey, of one size; the placement is of their pixels. Errors: those of lamps_agree,
// relief.scale-unknown, relief.too-coarse (more than 1.25 mm to a pixel),
// colour-difference.sizes-differ, .gate-differs, .empty, cancelled.
[[nodiscard]] Expected<ReliefChange> relief_change(const Raster8& before, const Raster8& after,
                                                   const Placement& face_from_map, const ReliefChangeOptions& options,
                                                   const Progress& progress = {});

}  // namespace tedge::imaging
