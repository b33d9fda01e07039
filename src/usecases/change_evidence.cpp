#include "change_evidence.hpp"

#include <fmt/format.h>

#include <cmath>

#include "tedge/imaging/colour_fit.hpp"

namespace tedge::usecases {
namespace {

using casebook::CaseSnapshot;
using casebook::Record;

// What is wrong with the chart of one of the two; "" when it is measured.
std::string wanting(const PhotographChart& chart, std::string_view which) {
    switch (chart.state) {
        case ChartState::none:
            return fmt::format("no chart is in the {}", which);
        case ChartState::unmeasured:
            return fmt::format("a chart is in the {} and is not measured yet: measure it first", which);
        case ChartState::no_fit:
            return fmt::format(
                "the chart in the {} was measured without a correction that fits it as it is recorded now: "
                "measure it again",
                which);
        case ChartState::measured:
            break;
    }
    return "";
}

std::string as_sentence(std::string text) {
    if (text.empty()) return text;
    text[0] = static_cast<char>(text[0] - 'a' + 'A');  // all of them begin with an ASCII letter
    return text + ".";
}

// Nothing in the photograph itself bears witness to such a chart.
std::string of_session_words(const ChartsOfPair& charts) {
    const bool first = charts.first.is_of_session, second = charts.second.is_of_session;
    if (!first && !second) return "";
    return fmt::format(", {} by one photographed apart, in the light and exposure that {} said to share",
                       first && second ? "both"
                       : first         ? "the first"
                                       : "the second",
                       first && second ? "they are" : "it is");
}

std::string missing_in(const PhotographChart& first, const PhotographChart& second) {
    if (first.state == ChartState::none && second.state == ChartState::none)
        return "No chart is in either photograph: it takes a 24-patch chart beside the picture both times, and "
               "measured.";
    const std::string one = wanting(first, "first"), other = wanting(second, "second");
    return as_sentence(one + (one.empty() || other.empty() ? "" : "; ") + other);
}

}  // namespace

ChartsOfPair charts_of(const CaseSnapshot& snapshot, const Record& first, const Record& second) {
    ChartsOfPair charts{chart_of(snapshot, first), chart_of(snapshot, second), ""};
    charts.missing = missing_in(charts.first, charts.second);
    return charts;
}

Floor floor_of(const ChartsOfPair& charts, double noise_delta_e00) {
    if (!charts.both())
        return {std::nullopt,
                "A look, not a measurement. " + charts.missing +
                    " Colours are compared as the photographs were developed: another exposure or white balance counts "
                    "as a change, and below which difference nothing is evidence is not known."};
    const double floor = std::hypot(charts.first.left_out_delta_e00, charts.second.left_out_delta_e00, noise_delta_e00);
    return {floor, fmt::format("Both are corrected by their charts{}. {}", of_session_words(charts),
                               imaging::change_floor(floor, 0.0).sentence)};
}

}  // namespace tedge::usecases
