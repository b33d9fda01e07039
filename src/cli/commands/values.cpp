#include "values.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cli {

using nlohmann::json;

Expected<casebook::FieldValues> parse_values(std::string_view text) {
    constexpr int deepest_nesting = 64;  // a record needs a few levels; what goes deeper exhausts whoever walks it
    std::vector<std::set<std::string>> names(deepest_nesting + 2);
    bool fits = true;
    const auto keep = [&](int depth, json::parse_event_t event, json& parsed) {
        fits = fits && depth <= deepest_nesting;
        if (!fits) return false;
        auto& here = names[static_cast<std::size_t>(depth)];
        // An object's names come one deeper than its brace; of two that are alike nobody knows which is meant.
        if (event == json::parse_event_t::object_start) names[static_cast<std::size_t>(depth) + 1].clear();
        if (event == json::parse_event_t::key) fits = here.insert(parsed.get<std::string>()).second;
        return fits;
    };
    const json parsed = json::parse(text, keep, false);
    if (!fits || !parsed.is_object()) {
        return fail("usage.not-values", "The values are to be one JSON object, each name once in it.",
                    "Write them as {\"field\": value, …}; see `tedge kind list` for the fields.");
    }
    casebook::FieldValues values;
    for (const auto& [name, value] : parsed.items()) {
        if (value.is_null()) {
            values.unset(name);
        } else {
            values.value(name, value);
        }
    }
    return values;
}

Expected<std::array<PointPx, 4>> parse_corners(std::string_view text) {
    const auto refuse = [] {
        return fail("usage.not-corners", "--corners is to be eight numbers with commas between them.",
                    "Give x,y of the four corners from the top left clockwise, in pixels.");
    };
    const auto numbers = split(text, ',');
    std::array<PointPx, 4> corners;
    if (numbers.size() != 8) return refuse();
    for (std::size_t i = 0; i < 4; ++i) {
        const auto x = parse_number(numbers[2 * i]);
        const auto y = parse_number(numbers[2 * i + 1]);
        if (!x || !y) return refuse();
        corners[i] = {*x, *y};
    }
    return corners;
}

Expected<std::vector<PointMm>> parse_points(std::string_view option, std::string_view text) {
    std::vector<PointMm> points;
    for (const std::string_view pair : split(text, ';')) {
        const auto numbers = split(pair, ',');
        const auto x = parse_number(numbers.front());
        const auto y = parse_number(numbers.back());
        if (numbers.size() != 2 || !x || !y) {
            return fail("usage.not-points", fmt::format("--{} is to be pairs of numbers in mm.", option),
                        "Write them as x,y;x,y.");
        }
        points.push_back({*x, *y});
    }
    return points;
}

Expected<std::vector<double>> parse_pixel_numbers(std::string_view option, std::string_view text, std::size_t count) {
    std::vector<double> out;
    for (const std::string_view word : split(text, ',')) {
        const auto number = parse_number(word);
        if (!number || *number < 0.0 || *number > 1e6) break;
        out.push_back(*number);
    }
    if (out.size() != count || split(text, ',').size() != count)
        return fail("usage.not-pixels",
                    fmt::format("--{} is to be {} numbers of pixels with commas between them.", option, count),
                    count == 2 ? "Give x,y." : "Give x,y,width,height.");
    return out;
}

namespace {

bool is_place(std::string_view name) {
    return name.front() >= 'A' && name.front() <= 'Z';
}

}  // namespace

Expected<Uuid> id_at(const Arguments& arguments, std::string_view name) {
    return said_by(name, parse_uuid(is_place(name) ? arguments.position(name) : arguments.option_or(name, "")));
}

Expected<std::vector<Uuid>> ids_at(const Arguments& arguments, std::string_view name) {
    const std::string text = is_place(name) ? arguments.position(name) : arguments.option_or(name, "");
    std::vector<Uuid> ids;
    if (text.empty()) return ids;
    for (const std::string_view part : split(text, ',')) {
        const auto id = said_by(name, parse_uuid(trimmed(part)));
        if (!id) return pass_on(id);
        ids.push_back(*id);
    }
    return ids;
}

void tell_kept(const usecases::KeptPicture& kept, Answer& answer) {
    answer.fields["id"] = to_text(kept.done.record);
    answer.fields["sha256"] = kept.sha256;
    answer.fields["already"] = kept.already;
    answer.lines.push_back(kept.already ? "This picture is kept already."
                                        : fmt::format("Kept as {}.", to_text(kept.done.record)));
}

Answer done_answer(const usecases::Done& done, std::string_view what) {
    return {{{"id", to_text(done.record)}}, {fmt::format("{}  {}", to_text(done.record), what)}};
}

}  // namespace tedge::cli
