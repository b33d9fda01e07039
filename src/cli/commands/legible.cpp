// Faint inscriptions made easier to read.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/make_legible.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<std::vector<Uuid>> photographs_of(const Arguments& arguments) {
    const auto first = id_at(arguments, "PHOTOGRAPH");
    if (!first) return pass_on(first);
    std::vector<Uuid> out{*first};
    const auto others = ids_at(arguments, "with");
    if (!others) return pass_on(others);
    out.insert(out.end(), others->begin(), others->end());
    return out;
}

// A whole number not below 0.
template <class Number>
Expected<Number> whole(const Arguments& arguments, std::string_view name, Number otherwise) {
    const auto text = arguments.option(name);
    if (!text) return otherwise;
    const auto value = said_by(name, parse_integer(*text));
    if (!value) return pass_on(value);
    if (*value < 0 || *value > 100'000)
        return fail("usage.not-a-number", fmt::format("--{} takes a whole number from 0 to 100,000.", name),
                    "Give another one.");
    return static_cast<Number>(*value);
}

Expected<imaging::LegibilityRecipe> recipe_of(const Arguments& arguments) {
    imaging::LegibilityRecipe out;
    const auto method = said_by("method", imaging::parse_legibility_method(*arguments.option("method")));
    if (!method) return pass_on(method);
    out.method = *method;
    const auto channel = whole(arguments, "channel", out.channel);
    const auto divisor = whole(arguments, "divisor", out.divisor);
    const auto component = whole(arguments, "component", out.component);
    const auto smooth = whole(arguments, "smooth-px", out.smooth_px);
    const bool local = out.method == imaging::LegibilityMethod::local_contrast;
    const auto surroundings = whole(arguments, "surroundings-px", local ? 40 : out.surroundings_px);
    if (!channel) return pass_on(channel);
    if (!divisor) return pass_on(divisor);
    if (!component) return pass_on(component);
    if (!smooth) return pass_on(smooth);
    if (!surroundings) return pass_on(surroundings);
    out.channel = *channel;
    out.divisor = *divisor;
    out.component = *component;
    out.smooth_px = *smooth;
    out.surroundings_px = *surroundings;
    return out;
}

Expected<std::optional<Region>> region_of(const Arguments& arguments) {
    const auto text = arguments.option("place");
    if (!text) return std::optional<Region>{};
    const auto region = said_by("place", Region::from_geojson(*text));
    if (!region) return pass_on(region);
    return std::optional<Region>(*region);
}

Expected<Answer> legible(Context& context, const Arguments& arguments) {
    usecases::LegibilityWanted wanted;
    const auto photographs = photographs_of(arguments);
    const auto recipe = recipe_of(arguments);
    const auto region = region_of(arguments);
    if (!photographs) return pass_on(photographs);
    if (!recipe) return pass_on(recipe);
    if (!region) return pass_on(region);
    wanted.photographs = *photographs;
    wanted.recipe = *recipe;
    wanted.region = *region;
    wanted.caption = arguments.option_or("caption", "");
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto made = usecases::make_legible(*acting, wanted, context.progress());
    if (!made) return pass_on(made);
    Answer answer;
    answer.fields = {{"id", to_text(made->picture.done.record)},
                     {"sha256", made->picture.sha256},
                     {"already", made->picture.already},
                     {"method", imaging::name_of(made->recipe.method)},
                     {"px_per_mm", made->px_per_mm},
                     {"eigenvalues", made->components.eigenvalues},
                     {"loadings", made->components.loadings},
                     {"inputs_sha256", made->recipe.inputs_sha256}};
    answer.lines = {fmt::format("Kept as {}. It shows what the photographs hold, with more contrast and more noise.",
                                to_text(made->picture.done.record))};
    return answer;
}

}  // namespace

std::vector<Command> legibility_commands() {
    return {
        {"photograph legible",
         {{"DIR", "PHOTOGRAPH"},
          {"with", "method", "channel", "divisor", "component", "smooth-px", "surroundings-px", "place", "caption"},
          {"method"}},
         "Makes a faint inscription easier to read: local-contrast, channel-ratio or principal-component.",
         legible},
    };
}

}  // namespace tedge::cli
