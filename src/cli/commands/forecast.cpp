// How the picture may look once it is cleaned, told from cleaned windows.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/forecast_cleaning.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

// "[{…}, {…}]": a GeoJSON shape in mm of the face for each window.
Expected<std::vector<Region>> parse_windows(const std::string& text) {
    constexpr int deepest_nesting = 16;  // a shape needs six levels; what goes deeper exhausts whoever walks it
    bool fits = true;
    const auto keep = [&fits](int depth, json::parse_event_t, json&) {
        fits = fits && depth <= deepest_nesting;
        return fits;
    };
    const json shapes = json::parse(text, keep, false);
    if (!fits || !shapes.is_array())
        return fail("usage.not-windows", "--windows is not a list of GeoJSON shapes.",
                    R"(Give [{"type":"Polygon","coordinates":[…]}, …] in mm of the face.)");
    if (shapes.empty())
        return fail(
            "usage.no-windows", "--windows names no window.",
            "Outline at least one; left out altogether, the places of recorded trials and treatments are taken.");
    std::vector<Region> windows;
    for (const json& each : shapes) {
        auto region = Region::from_geojson(each.dump());
        if (!region) return pass_on(region);
        windows.push_back(*std::move(region));
    }
    return windows;
}

json error_json(const std::optional<imaging::ForecastError>& error) {
    if (!error) return nullptr;
    return {{"mean", error->mean}, {"p95", error->p95}};
}

json windows_json(const usecases::ForecastMade& made) {
    json out = json::array();
    for (const imaging::ForecastWindow& each : made.forecast.windows) {
        const auto& record = made.window_records.at(static_cast<std::size_t>(each.number) - 1);
        out.push_back({{"number", each.number},
                       {"record", record ? json(to_text(*record)) : json(nullptr)},
                       {"used", each.used},
                       {"why_not", each.used ? json(nullptr) : json(each.why_not)},
                       {"pixels", each.pixels},
                       {"seen_change_delta_e00", each.seen_change},
                       {"thickness", each.used ? json(each.thickness) : json(nullptr)},
                       {"left_out_delta_e00", error_json(each.left_out)}});
    }
    return out;
}

Answer forecast_answer(const usecases::ForecastMade& made) {
    const imaging::CleaningForecast& forecast = made.forecast;
    Answer answer;
    answer.fields = {{"id", to_text(made.picture.done.record)},
                     {"sha256", made.picture.sha256},
                     {"already", made.picture.already},
                     {"uncertainty_id", to_text(made.uncertainty.done.record)},
                     {"uncertainty_sha256", made.uncertainty.sha256},
                     {"seen_change_delta_e00", forecast.seen_change},
                     {"mean_uncertainty_delta_e00", forecast.mean_uncertainty},
                     {"left_out_windows_delta_e00", error_json(forecast.left_out_windows)},
                     {"left_out_halves_delta_e00", error_json(forecast.left_out_halves)},
                     {"absorption", forecast.absorption},
                     {"veil", forecast.veil},
                     {"thickness_variation", forecast.thickness_variation},
                     {"windows", windows_json(made)},
                     {"notes", forecast.notes}};
    answer.lines = {
        fmt::format("A forecast, no promise: sure to ΔE00 {} on the average; cleaning changed {} in the "
                    "windows.",
                    format_fixed(forecast.mean_uncertainty, 1), format_fixed(forecast.seen_change, 1))};
    answer.lines.insert(answer.lines.end(), forecast.notes.begin(), forecast.notes.end());
    return answer;
}

Expected<void> check_jpeg(const Arguments& arguments) {
    const auto out = arguments.option("out");
    if (!out ||
        imaging::format_for(path_from_utf8(*out)).value_or(imaging::PictureFormat::png) == imaging::PictureFormat::jpeg)
        return {};
    return fail("forecast.jpeg-only", "A forecast is written as JPEG, as the case keeps it.",
                "Let the name end in .jpg.", {{"option", "out"}});
}

Expected<Answer> forecast(Context& context, const Arguments& arguments) {
    const auto uncleaned = id_at(arguments, "PHOTOGRAPH");
    if (!uncleaned) return pass_on(uncleaned);
    const auto cleaned = id_at(arguments, "cleaned");
    if (!cleaned) return pass_on(cleaned);
    usecases::ForecastWanted wanted{*uncleaned, *cleaned, {}, arguments.flag("wetted")};
    if (const auto text = arguments.option("windows")) {
        auto windows = parse_windows(*text);
        if (!windows) return pass_on(windows);
        wanted.windows = *std::move(windows);
    }
    if (const auto jpeg = check_jpeg(arguments); !jpeg) return pass_on(jpeg);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto made = usecases::forecast_cleaning(*acting, wanted, context.progress());
    if (!made) return pass_on(made);
    if (const auto out = arguments.option("out")) {
        if (auto written = write_file_durably(path_from_utf8(*out), made->file); !written) return pass_on(written);
    }
    return forecast_answer(*made);
}

}  // namespace

std::vector<Command> forecast_commands() {
    return {
        {"photograph forecast",
         {{"DIR", "PHOTOGRAPH"}, {"cleaned", "windows", "out"}, {"cleaned"}, {"wetted"}, {"out"}},
         "Shows how the picture may look once it is cleaned, told from cleaned windows (JPEG, marked as a forecast).",
         forecast},
    };
}

}  // namespace tedge::cli
