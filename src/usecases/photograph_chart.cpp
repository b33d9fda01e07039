#include "photograph_chart.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "tedge/casebook/number_list.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;
using imaging::ChartLight;
using imaging::ColourModel;
using nlohmann::json;

constexpr const char* matrix_word = "matrix";
constexpr const char* root_word = "root-polynomial";
constexpr const char* camera_word = "camera";
constexpr const char* srgb_word = "srgb";

template <std::size_t count>
std::optional<std::array<double, count>> exactly(const std::optional<std::vector<double>>& numbers) {
    std::array<double, count> out{};
    if (!numbers || numbers->size() != count) return std::nullopt;
    std::ranges::copy(*numbers, out.begin());
    return out;
}

// Nothing is evened by a board whose measurement was removed (board_of).
std::string board_in_force(const CaseSnapshot& snapshot, const Record& photograph) {
    const auto id = photograph.body.record("even_board");
    const Record* board = id ? snapshot.find(*id) : nullptr;
    return board != nullptr && board->body.has("sha256") ? to_text(*id) : "";
}

}  // namespace

bool read_correction(const casebook::Body& body, const std::string& at, PhotographChart& chart) {
    const std::string model = body.text_or(at + "/model"), light = body.text_or(at + "/light");
    if ((model != matrix_word && model != root_word) || (light != camera_word && light != srgb_word)) return false;
    const auto gains = exactly<3>(casebook::numbers_at(body, at + "/gains"));
    const auto coefficients = exactly<18>(casebook::numbers_at(body, at + "/coefficients"));
    if (!gains || !coefficients) return false;
    chart.transform =
        imaging::ColourTransform(model == matrix_word ? ColourModel::matrix : ColourModel::root_polynomial,
                                 {.r = (*gains)[0], .g = (*gains)[1], .b = (*gains)[2]}, *coefficients);
    chart.light = light == camera_word ? ChartLight::camera : ChartLight::srgb;
    return true;
}

const Record* newest_of_chart(const CaseSnapshot& snapshot, const Record& photograph) {
    const Record* newest = nullptr;
    for (const Record* each : snapshot.of_kind("measurement"))
        if (each->body.text_or("unit") == "ΔE00" && each->body.number("value") &&
            each->body.text_or("from_photographs/" + to_text(photograph.id)) == "chart")
            newest = each;
    return newest;
}

const Record* chart_of_session(const CaseSnapshot& snapshot, const Record& photograph) {
    const auto id = photograph.body.record("session_chart");
    const Record* measured = id ? snapshot.find(*id) : nullptr;
    return measured != nullptr && measured->body.number("value") ? measured : nullptr;
}

bool corrects_colours(const casebook::Body& measurement) {
    PhotographChart ignored;
    return measurement.number("value").has_value() && read_correction(measurement, "chart_fit", ignored);
}

PhotographChart chart_of(const CaseSnapshot& snapshot, const Record& photograph) {
    PhotographChart chart;
    const Record* own = newest_of_chart(snapshot, photograph);
    const Record* of_session = chart_of_session(snapshot, photograph);
    for (const Record* measured : {own, of_session}) {
        if (measured == nullptr || !is_evened_alike(snapshot, measured->body, photograph) ||
            !read_correction(measured->body, "chart_fit", chart))
            continue;
        chart.state = ChartState::measured;
        chart.left_out_delta_e00 = *measured->body.number("value");
        chart.is_of_session = measured == of_session;
        return chart;
    }
    if (own != nullptr || of_session != nullptr) {
        chart.state = ChartState::no_fit;
        chart.is_of_session = own == nullptr;
    } else if (photograph.body.flag("has_chart")) {
        chart.state = ChartState::unmeasured;
    }
    return chart;
}

bool is_evened_alike(const CaseSnapshot& snapshot, const casebook::Body& measurement, const Record& photograph) {
    return measurement.text_or("chart_fit/board") == board_in_force(snapshot, photograph);
}

json chart_fit_json(const imaging::ColourFit& fit, const std::string& board) {
    json out = correction_json(fit.transform, fit.light);
    out["edition"] = fit.edition;
    out["board"] = board;
    out["left_out"] = {{"mean", fit.foretold.mean}, {"p90", fit.foretold.p90},     {"p95", fit.foretold.p95},
                       {"max", fit.foretold.max},   {"worst", fit.foretold.worst}, {"patches", fit.foretold.patches}};
    out["left_out_flat"] = {{"mean", fit.foretold_flat.mean}, {"max", fit.foretold_flat.max}};
    out["white_balance_delta_ab"] = fit.white_balance_delta_ab;
    out["tone_delta_l"] = fit.tone_delta_l;
    out["noise_l"] = fit.noise_l;
    return out;
}

json correction_json(const imaging::ColourTransform& transform, ChartLight light) {
    const imaging::Rgb& gains = transform.gains();
    return {{"model", transform.model() == ColourModel::matrix ? matrix_word : root_word},
            {"light", light == ChartLight::camera ? camera_word : srgb_word},
            {"gains", {gains.r, gains.g, gains.b}},
            {"coefficients", transform.coefficients()}};
}

std::optional<imaging::PatchErrors> patch_errors_kept(const casebook::Body& measurement) {
    const auto number = [&](const char* name) { return measurement.number(std::string("chart_fit/left_out/") + name); };
    const auto mean = number("mean"), p90 = number("p90"), p95 = number("p95"), max = number("max");
    if (!mean || !p90 || !p95 || !max) return std::nullopt;
    return imaging::PatchErrors{.mean = *mean,
                                .p90 = *p90,
                                .p95 = *p95,
                                .max = *max,
                                .worst = measurement.text_or("chart_fit/left_out/worst"),
                                .patches = static_cast<int>(number("patches").value_or(0.0))};
}

imaging::CaptureFigures figures_kept(const casebook::Body& measurement) {
    return {.colour_mean_delta_e00 = measurement.number("value"),
            .colour_p90_delta_e00 = measurement.number("chart_fit/left_out/p90"),
            .colour_max_delta_e00 = measurement.number("chart_fit/left_out/max"),
            .colour_mean_flat_delta_e00 = measurement.number("chart_fit/left_out_flat/mean"),
            .colour_max_flat_delta_e00 = measurement.number("chart_fit/left_out_flat/max"),
            .white_balance_delta_ab = measurement.number("chart_fit/white_balance_delta_ab"),
            .tone_delta_l = measurement.number("chart_fit/tone_delta_l"),
            .noise_l = measurement.number("chart_fit/noise_l"),
            .non_uniformity_percent = {},
            .sfr10_percent = {},
            .scale_error_percent = {}};
}

}  // namespace tedge::usecases
