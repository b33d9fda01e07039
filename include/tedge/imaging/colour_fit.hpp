// From what a chart's patches measure to a calibration of the photograph, and how good it is.
//
// The model takes linear red, green, blue to XYZ relative to D50: a 3×3 matrix, or the root-polynomial of degree 2 with
// √(rg), √(gb), √(rb) beside it (Finlayson, Mackiewicz and Hurlbert, IEEE Transactions on Image Processing 24(5),
// 2015), which like a matrix keeps every ratio when the exposure changes. Both are fitted by weighted least squares and
// then by the sum of ΔE00 over the patches. The larger model is taken only when leaving one patch out says that it
// foretells patches better, not because it fits better.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/imaging/chart_reference.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

enum class ColourModel { matrix, root_polynomial };

class ColourTransform {
public:
    ColourTransform() = default;
    // coefficients: for X, Y and Z in turn, those of r, g, b and of √(rg), √(gb), √(rb) (zero for a matrix), to be
    // applied to the camera's values times `gains`.
    ColourTransform(ColourModel model, const Rgb& gains, const std::array<double, 18>& coefficients)
        : model_(model), gains_(gains), coefficients_(coefficients) {}

    [[nodiscard]] ColourModel model() const { return model_; }
    [[nodiscard]] const Rgb& gains() const { return gains_; }
    [[nodiscard]] const std::array<double, 18>& coefficients() const { return coefficients_; }

    // Linear values of the photograph, full scale 1, to XYZ and CIELAB of D50; the chart's white has its own Y.
    [[nodiscard]] Xyz xyz(const Rgb& linear) const;
    [[nodiscard]] Lab lab(const Rgb& linear) const { return lab_from_xyz(xyz(linear)); }

private:
    ColourModel model_ = ColourModel::matrix;
    Rgb gains_{1.0, 1.0, 1.0};
    std::array<double, 18> coefficients_{};
};

// ΔE00 over patches; percentile as in colour_difference.hpp.
struct PatchErrors {
    double mean = 0.0;
    double p90 = 0.0;
    double p95 = 0.0;
    double max = 0.0;
    std::string worst{};  // name of the patch with the largest
    int patches = 0;
};

struct PatchFit {
    std::string name;
    Lab reference{};
    Lab fitted{};    // by the model that saw this patch
    Lab foretold{};  // by the model fitted without it
    double fitted_delta_e00 = 0.0;
    double foretold_delta_e00 = 0.0;
    bool used = true;  // false: clipped, or no pixels; it is in no figure
};

struct ColourFit {
    ColourTransform transform{};
    ChartLight light = ChartLight::srgb;
    std::string edition{};  // ChartReference::id
    std::string edition_title{};
    std::array<PatchFit, chart_patches> patches{};
    // Patch 24 stands apart: glare of the scene lifts black, and one patch would rule mean and maximum.
    PatchErrors fitted{};
    PatchErrors foretold{};               // leave-one-out: what to expect of a colour that is not on the chart
    PatchErrors foretold_flat{};          // the same with S_L = 1, as guidelines for flat artwork ask
    PatchFit black{};                     // patch 24 again
    double white_balance_delta_ab = 0.0;  // largest distance in a*, b* over the neutrals but black, fitted
    double tone_delta_l = 0.0;            // largest |ΔL*| over the neutrals but black, fitted
    double noise_l = 0.0;                 // largest standard deviation of L* over the neutrals but black, of pixels
    double exposure_stops = 0.0;        // by which full exposure was missed: 0 when white has its own Y at full scale 1
    double matrix_foretold_mean = 0.0;  // leave-one-out mean of either model
    double root_polynomial_foretold_mean = 0.0;
    std::vector<std::string> notes{};  // one sentence each
};

// Errors: colour-fit.too-few-patches (fewer than 15, or fewer than 3 of the neutrals, are neither clipped nor empty),
// colour-fit.not-fitted (their values do not span three colours).
[[nodiscard]] Expected<ColourFit> fit_chart(const ChartReading& reading, const ChartReference& reference);

// Below this a change between two calibrated photographs is no evidence of a change of the picture: both photographs'
// leave-one-out means added as independent errors, the root of the sum of their squares (derived, not published).
struct ChangeFloor {
    double delta_e00 = 0.0;
    std::string sentence;  // "Differences below 3.1 ΔE00 are no evidence of a change."
};
[[nodiscard]] ChangeFloor change_floor(const ColourFit& first, const ColourFit& second);
// The same of two leave-one-out means that were recorded.
[[nodiscard]] ChangeFloor change_floor(double first_delta_e00, double second_delta_e00);

}  // namespace tedge::imaging
