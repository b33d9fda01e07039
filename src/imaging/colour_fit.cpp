#include "tedge/imaging/colour_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "colour_model.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

constexpr double most_clipped = 0.02;
constexpr std::size_t least_patches = 15;
constexpr int least_neutrals = 3;
// The larger model must foretell better by more than chance would have it on two dozen patches.
constexpr double clearly_better = 0.95;

bool usable(const PatchReading& patch) {
    return patch.pixels > 0 && patch.clipped_share <= most_clipped &&
           std::max({patch.mean.r, patch.mean.g, patch.mean.b}) > 0.0;
}

double mean_of(const Rgb& rgb) {
    return (rgb.r + rgb.g + rgb.b) / 3.0;
}

// What brings each channel of the neutrals to the reference's Y, by relative least squares; black is left to glare.
Rgb gains_from_neutrals(const ChartReading& reading, const ChartReference& reference) {
    const auto gain = [&](double Rgb::* channel) {
        double above = 0.0;
        double below = 0.0;
        for (std::size_t i = chart_white; i < chart_black; ++i) {
            if (!usable(reading.patches[i])) continue;
            const double y = xyz_from_lab(reference.lab[i]).y;
            const double share = reading.patches[i].mean.*channel / y;
            above += share;
            below += share * share;
        }
        return below > 0.0 ? above / below : 1.0;
    };
    return {gain(&Rgb::r), gain(&Rgb::g), gain(&Rgb::b)};
}

Rgb balanced(const Rgb& linear, const Rgb& gains) {
    return {linear.r * gains.r, linear.g * gains.g, linear.b * gains.b};
}

struct ModelFit {
    std::array<double, 18> coefficients{};
    std::array<Lab, chart_patches> fitted{};
    std::array<Lab, chart_patches> foretold{};
    double foretold_mean = 0.0;  // without black
    double foretold_p90 = 0.0;
};

// Not of an empty list.
double mean_of(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double percentile(std::vector<double> values, double share) {
    std::ranges::sort(values);
    const double rank = share * static_cast<double>(values.size() - 1);
    const auto low = static_cast<std::size_t>(rank);
    const std::size_t high = std::min(low + 1, values.size() - 1);
    return values[low] + (rank - static_cast<double>(low)) * (values[high] - values[low]);
}

struct Usable {
    std::vector<FitPatch> patches;
    std::vector<std::size_t> index;  // on the chart
};

std::optional<ModelFit> fitted_model(const Usable& usable_patches, ColourModel model) {
    const auto whole = fitted_coefficients(usable_patches.patches, model);
    if (!whole) return std::nullopt;
    ModelFit out{.coefficients = *whole};
    std::vector<double> errors;
    for (std::size_t i = 0; i < usable_patches.patches.size(); ++i) {
        const FitPatch& patch = usable_patches.patches[i];
        std::vector<FitPatch> others = usable_patches.patches;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        const auto without = fitted_coefficients(others, model);
        if (!without) return std::nullopt;
        const std::size_t at = usable_patches.index[i];
        out.fitted[at] = lab_from_xyz(modelled(*whole, patch.balanced));
        out.foretold[at] = lab_from_xyz(modelled(*without, patch.balanced));
        if (at == chart_black) continue;
        const double error = delta_e00(out.foretold[at], patch.reference);
        errors.push_back(error);
    }
    out.foretold_mean = mean_of(errors);
    out.foretold_p90 = percentile(errors, 0.9);
    return out;
}

PatchErrors errors_of(const std::array<PatchFit, chart_patches>& patches, Lab PatchFit::* which,
                      LightnessWeight lightness) {
    PatchErrors out;
    std::vector<double> values;
    for (std::size_t i = 0; i < chart_black; ++i) {
        if (!patches[i].used) continue;
        const double error = delta_e00(patches[i].*which, patches[i].reference, lightness);
        if (error >= out.max) {
            out.max = error;
            out.worst = patches[i].name;
        }
        values.push_back(error);
    }
    out.mean = mean_of(values);
    out.p90 = percentile(values, 0.9);
    out.p95 = percentile(values, 0.95);
    out.patches = static_cast<int>(values.size());
    return out;
}

// The spread of L* among a patch's pixels: of the mean of the channels, carried through the slope of L* there.
double noise_l(const PatchReading& patch, double fitted_l) {
    const double level = mean_of(patch.mean);
    if (level <= 0.0) return 0.0;
    const double relative = std::sqrt(patch.deviation.r * patch.deviation.r + patch.deviation.g * patch.deviation.g +
                                      patch.deviation.b * patch.deviation.b) /
                            3.0 / level;
    // L* = 116 Y^(1/3) - 16, so dL* = (L* + 16) / 3 · dY/Y.
    return (fitted_l + 16.0) / 3.0 * relative;
}

void judge_neutrals(const ChartReading& reading, ColourFit& fit) {
    for (std::size_t i = chart_white; i < chart_black; ++i) {
        const PatchFit& patch = fit.patches[i];
        if (!patch.used) continue;
        fit.white_balance_delta_ab =
            std::max(fit.white_balance_delta_ab,
                     std::hypot(patch.fitted.a - patch.reference.a, patch.fitted.b - patch.reference.b));
        fit.tone_delta_l = std::max(fit.tone_delta_l, std::abs(patch.fitted.l - patch.reference.l));
        fit.noise_l = std::max(fit.noise_l, noise_l(reading.patches[i], patch.fitted.l));
    }
}

void fill_patches(const Usable& usable_patches, const ChartReference& reference, const ModelFit& model,
                  ColourFit& fit) {
    for (std::size_t i = 0; i < chart_patches; ++i)
        fit.patches[i] = {.name = chart_patch_names()[i], .reference = reference.lab[i], .used = false};
    for (const std::size_t at : usable_patches.index) {
        PatchFit& patch = fit.patches[at];
        patch.used = true;
        patch.fitted = model.fitted[at];
        patch.foretold = model.foretold[at];
        patch.fitted_delta_e00 = delta_e00(patch.fitted, patch.reference);
        patch.foretold_delta_e00 = delta_e00(patch.foretold, patch.reference);
    }
    fit.black = fit.patches[chart_black];
}

Expected<Usable> usable_of(const ChartReading& reading, const ChartReference& reference, const Rgb& gains) {
    Usable out;
    int neutrals = 0;
    for (std::size_t i = 0; i < chart_patches; ++i) {
        if (!usable(reading.patches[i])) continue;
        neutrals += i >= chart_white && i < chart_black ? 1 : 0;
        out.patches.push_back({balanced(reading.patches[i].mean, gains), reference.lab[i]});
        out.index.push_back(i);
    }
    if (out.patches.size() < least_patches || neutrals < least_neutrals)
        return fail("colour-fit.too-few-patches", "Too many patches of the colour chart are clipped or empty.",
                    "Expose less and photograph the chart again.");
    return out;
}

}  // namespace

Xyz ColourTransform::xyz(const Rgb& linear) const {
    return modelled(coefficients_, balanced(linear, gains_));
}

Expected<ColourFit> fit_chart(const ChartReading& reading, const ChartReference& reference) {
    const Rgb gains = gains_from_neutrals(reading, reference);
    const auto usable_patches = usable_of(reading, reference, gains);
    if (!usable_patches) return pass_on(usable_patches);
    const auto matrix = fitted_model(*usable_patches, ColourModel::matrix);
    if (!matrix)
        return fail("colour-fit.not-fitted", "The patches do not differ enough in colour to calibrate by.",
                    "Check that the photograph is in colour and the chart lies in one light.");
    const auto root = fitted_model(*usable_patches, ColourModel::root_polynomial);
    const bool take_root = root && root->foretold_mean < clearly_better * matrix->foretold_mean &&
                           root->foretold_p90 <= matrix->foretold_p90;
    const ModelFit& chosen = take_root ? *root : *matrix;

    ColourFit fit;
    fit.transform =
        ColourTransform(take_root ? ColourModel::root_polynomial : ColourModel::matrix, gains, chosen.coefficients);
    fit.light = reading.light;
    fit.edition = reference.id;
    fit.edition_title = reference.title;
    fill_patches(*usable_patches, reference, chosen, fit);
    fit.fitted = errors_of(fit.patches, &PatchFit::fitted, LightnessWeight::standard);
    fit.foretold = errors_of(fit.patches, &PatchFit::foretold, LightnessWeight::standard);
    fit.foretold_flat = errors_of(fit.patches, &PatchFit::foretold, LightnessWeight::one);
    fit.matrix_foretold_mean = matrix->foretold_mean;
    fit.root_polynomial_foretold_mean = root ? root->foretold_mean : 0.0;
    fit.exposure_stops = -std::log2(gains.g);
    judge_neutrals(reading, fit);
    fit.notes = reading.notes;
    if (reading.light == ChartLight::srgb)
        fit.notes.emplace_back(
            "The photograph was developed before it was measured: a tone curve that the camera laid over it cannot be "
            "undone. A raw file measures better.");
    return fit;
}

ChangeFloor change_floor(const ColourFit& first, const ColourFit& second) {
    return change_floor(first.foretold.mean, second.foretold.mean);
}

ChangeFloor change_floor(double first_delta_e00, double second_delta_e00) {
    const double floor = std::hypot(first_delta_e00, second_delta_e00);
    return {.delta_e00 = floor,
            .sentence = "Differences below " + format_fixed(floor, 1) + " ΔE00 are no evidence of a change."};
}

}  // namespace tedge::imaging
