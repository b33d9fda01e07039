#include "tedge/imaging/legibility.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "local_mean.hpp"
#include "principal_axes.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t codes = 65536;
constexpr double darkest_light = 1e-4;     // below it a sensor says nothing; keeps black from going to minus infinity
constexpr float least_deviation = 0.002F;  // of the logarithm: evener surroundings are not spread any further
constexpr int most_radius_px = 2000;

std::unexpected<Error> refused(std::string_view what, std::string_view why, std::string_view next) {
    return fail("legibility." + std::string(what), std::string(why), std::string(next));
}

const std::vector<float>& log_light() {
    static const std::vector<float> table = [] {
        std::vector<float> out(codes);
        for (std::size_t i = 0; i < codes; ++i)
            out[i] = static_cast<float>(
                std::log(darkest_light + srgb_decoded(static_cast<double>(i) / static_cast<double>(codes - 1))));
        return out;
    }();
    return table;
}

std::size_t channels_of(std::span<const Raster16> lights) {
    std::size_t out = 0;
    for (const Raster16& light : lights) out += static_cast<std::size_t>(light.channels());
    return out;
}

Expected<void> check_lights(std::span<const Raster16> lights, const Raster8* counted) {
    if (lights.empty() || lights[0].empty())
        return refused("no-lights", "There is no photograph to read from.", "Choose at least one.");
    for (const Raster16& light : lights)
        if (!(light.size() == lights[0].size()) || (light.channels() != 1 && light.channels() != 3))
            return refused("sizes-differ", "The photographs do not lie pixel on pixel.",
                           "Register them to the first one.");
    if (counted != nullptr && (!(counted->size() == lights[0].size()) || counted->channels() != 1))
        return refused("sizes-differ", "The part that counts has another size than the photographs.",
                       "Make it for these.");
    return {};
}

Expected<void> check_recipe(const LegibilityRecipe& recipe, std::size_t channels) {
    const bool ratio = recipe.method == LegibilityMethod::channel_ratio;
    const bool axes = recipe.method == LegibilityMethod::principal_component;
    const std::size_t highest = axes ? recipe.component : std::max(recipe.channel, ratio ? recipe.divisor : 0);
    if (highest >= channels)
        return refused("no-such-channel", "The photographs have fewer channels than the one asked for.",
                       "Count them from 0 through all photographs.");
    const bool needs_surroundings = recipe.method == LegibilityMethod::local_contrast;
    if (recipe.smooth_px < 0 || recipe.smooth_px > most_radius_px || recipe.surroundings_px > most_radius_px ||
        recipe.surroundings_px < (needs_surroundings ? 1 : 0) || !(recipe.clipped_share >= 0.0) ||
        !(recipe.clipped_share < 0.5))
        return refused("parameters", "A radius or the share of clipped pixels lies outside what can be used.",
                       "Radii go to 2,000 px, local contrast needs one; the share stays below a half.");
    return {};
}

RasterF minus(RasterF a, const RasterF& b) {
    for (std::size_t i = 0; i < a.samples().size(); ++i) a.samples()[i] -= b.samples()[i];
    return a;
}

// Channel `index` through all lights, as logarithms, smoothed and without its surroundings as the recipe says.
RasterF prepared(std::span<const Raster16> lights, std::size_t index, const LegibilityRecipe& recipe) {
    std::size_t light = 0;
    for (; index >= static_cast<std::size_t>(lights[light].channels()); ++light)
        index -= static_cast<std::size_t>(lights[light].channels());
    const Raster16& from = lights[light];
    RasterF out(from.width_px(), from.height_px(), 1);
    const auto& table = log_light();
    const auto step = static_cast<std::size_t>(from.channels());
    for (std::size_t i = 0; i < out.samples().size(); ++i) out.samples()[i] = table[from.samples()[i * step + index]];
    if (recipe.smooth_px > 0) out = local_mean(out, recipe.smooth_px);
    if (recipe.surroundings_px == 0) return out;
    return minus(out, local_mean(local_mean(out, recipe.surroundings_px), recipe.surroundings_px));
}

RasterF local_contrast(RasterF flat, int radius) {
    RasterF squares = flat;
    for (float& value : squares.samples()) value *= value;
    const RasterF variance = local_mean(squares, radius);
    for (std::size_t i = 0; i < flat.samples().size(); ++i)
        flat.samples()[i] /= std::max(least_deviation, std::sqrt(std::max(0.0F, variance.samples()[i])));
    return flat;
}

Expected<RasterF> component_of(std::span<const Raster16> lights, const LegibilityRecipe& recipe, const Raster8* counted,
                               PrincipalComponents& components, const Progress& progress) {
    const std::size_t channels = channels_of(lights);
    std::vector<RasterF> planes;
    for (std::size_t i = 0; i < channels; ++i) {
        if (progress.stopped()) return cancelled();
        progress.at(0.6 * static_cast<double>(i) / static_cast<double>(channels), "reading lights");
        planes.push_back(prepared(lights, i, recipe));
    }
    progress.at(0.6, "finding components");
    components = principal_components(planes, counted);
    if (progress.stopped()) return cancelled();
    RasterF out(planes[0].width_px(), planes[0].height_px(), 1);
    for (std::size_t channel = 0; channel < channels; ++channel) {
        const auto loading = static_cast<float>(components.loadings[recipe.component][channel]);
        for (std::size_t i = 0; i < out.samples().size(); ++i)
            out.samples()[i] += loading * planes[channel].samples()[i];
    }
    return out;
}

Expected<RasterF> combined(std::span<const Raster16> lights, const LegibilityRecipe& recipe, const Raster8* counted,
                           PrincipalComponents& components, const Progress& progress) {
    if (recipe.method == LegibilityMethod::principal_component)
        return component_of(lights, recipe, counted, components, progress);
    progress.at(0.0, "reading lights");
    RasterF first = prepared(lights, recipe.channel, recipe);
    if (progress.stopped()) return cancelled();
    if (recipe.method == LegibilityMethod::local_contrast)
        return local_contrast(std::move(first), recipe.surroundings_px);
    return minus(std::move(first), prepared(lights, recipe.divisor, recipe));
}

// The values at both clipped shares of the pixels that count.
std::array<float, 2> range_of(const RasterF& plane, const Raster8* counted, double clipped_share) {
    std::vector<float> values;
    for (std::size_t i = 0; i < plane.samples().size(); ++i)
        if (counted == nullptr || counted->samples()[i] != 0) values.push_back(plane.samples()[i]);
    if (values.empty()) return {0.0F, 1.0F};
    const auto at = [&](double share) {
        const auto nth = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
        std::ranges::nth_element(values, nth);
        return *nth;
    };
    return {at(clipped_share), at(1.0 - clipped_share)};
}

Raster8 stretched(const RasterF& plane, const std::array<float, 2>& range) {
    Raster8 out(plane.width_px(), plane.height_px(), 1);
    const float span = std::max(1e-9F, range[1] - range[0]);
    for (std::size_t i = 0; i < out.samples().size(); ++i) {
        const float share = std::clamp((plane.samples()[i] - range[0]) / span, 0.0F, 1.0F);
        out.samples()[i] = static_cast<std::uint8_t>(255.0F * share + 0.5F);
    }
    return out;
}

constexpr std::array<std::string_view, 3> names{"local-contrast", "channel-ratio", "principal-component"};

}  // namespace

Expected<LegibilityView> legibility_view(std::span<const Raster16> lights, const LegibilityRecipe& recipe,
                                         const Raster8* counted, const Progress& progress) {
    if (const auto fine = check_lights(lights, counted); !fine) return pass_on(fine);
    if (const auto fine = check_recipe(recipe, channels_of(lights)); !fine) return pass_on(fine);
    LegibilityView out;
    const auto plane = combined(lights, recipe, counted, out.components, progress.part(0.0, 0.9));
    if (!plane) return pass_on(plane);
    if (progress.stopped()) return cancelled();
    progress.at(0.9, "spreading contrast");
    out.gray = stretched(*plane, range_of(*plane, counted, recipe.clipped_share));
    return out;
}

std::string_view name_of(LegibilityMethod method) {
    return names[static_cast<std::size_t>(method)];
}

Expected<LegibilityMethod> parse_legibility_method(std::string_view name) {
    const auto found = std::ranges::find(names, name);
    if (found == names.end())
        return refused("method", "This is no way of making an inscription legible.",
                       "Say local-contrast, channel-ratio or principal-component.");
    return static_cast<LegibilityMethod>(found - names.begin());
}

}  // namespace tedge::imaging
