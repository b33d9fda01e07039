#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/cleaning/exposure.hpp"
#include "tedge/cleaning/mixture.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json or_null(const std::optional<double>& value) {
    return value ? json(*value) : json(nullptr);
}

void add_warnings(const std::vector<cleaning::Warning>& warnings, Answer& answer) {
    answer.fields["warnings"] = json::array();
    for (const cleaning::Warning& warning : warnings) {
        answer.fields["warnings"].push_back({{"code", warning.code}, {"text", warning.text}});
        answer.lines.push_back(warning.text);
    }
}

Expected<Answer> mixture(Context& /*context*/, const Arguments& arguments) {
    const auto mixed = cleaning::parse_mixture(arguments.position("MIXTURE"));
    if (!mixed) return pass_on(mixed);
    const cleaning::MixtureFigures figures = cleaning::figures_of(*mixed);
    Answer answer;
    answer.fields["teas"] = {{"fd", figures.teas.fd}, {"fp", figures.teas.fp}, {"fh", figures.teas.fh}};
    answer.fields["hansen"] = nullptr;
    answer.lines = {fmt::format("fd {} fp {} fh {} (fractional, by volume)", format_fixed(figures.teas.fd, 1),
                                format_fixed(figures.teas.fp, 1), format_fixed(figures.teas.fh, 1))};
    if (figures.hansen) {
        answer.fields["hansen"] = {{"dD", figures.hansen->dD}, {"dP", figures.hansen->dP}, {"dH", figures.hansen->dH}};
        answer.lines.push_back(fmt::format("δD {} δP {} δH {} MPa½ (Hansen, by volume)",
                                           format_fixed(figures.hansen->dD, 1), format_fixed(figures.hansen->dP, 1),
                                           format_fixed(figures.hansen->dH, 1)));
    }
    add_warnings(figures.warnings, answer);
    return answer;
}

json low_high(const cleaning::LowHigh& range) {
    return {{"low", range.low}, {"high", range.high}};
}

Expected<Answer> exposure(Context& /*context*/, const Arguments& arguments) {
    const auto agent = cleaning::parse_mixture(*arguments.option("agent"));
    if (!agent) return pass_on(agent);
    cleaning::ExposureQuestion question;
    question.agent = *agent;
    for (const auto& [name, value] :
         {std::pair{"ml-per-hour", &question.evaporated_ml_per_hour}, std::pair{"room-m3", &question.room_m3},
          std::pair{"air-changes", &question.air_changes_per_hour}}) {
        const auto number = arguments.number(name);
        if (!number) return pass_on(number);
        *value = number->value_or(0.0);
    }
    const auto report = cleaning::estimate_exposure(question);
    if (!report) return pass_on(report);
    Answer answer;
    answer.fields = {
        {"ppm", report->ppm},
        {"mg_m3", report->mg_m3},
        {"share_of_limit", or_null(report->share_of_limit)},
        {"near_field", low_high(report->near_field_ppm)},
        {"near_field_share", report->near_field_share ? low_high(*report->near_field_share) : json(nullptr)},
        {"near_field_assumption", report->near_field_assumption}};
    answer.lines = {
        fmt::format("Room average {} ppm ({} mg/m³); at the swab {} to {} ppm.", format_fixed(report->ppm, 1),
                    format_fixed(report->mg_m3, 0), format_fixed(report->near_field_ppm.low, 0),
                    format_fixed(report->near_field_ppm.high, 0)),
        report->share_of_limit ? fmt::format("{} of the limit in the room.", format_fixed(*report->share_of_limit, 2))
                               : std::string("No limit is known for all of it."),
        report->near_field_assumption};
    add_warnings(report->warnings, answer);
    return answer;
}

}  // namespace

std::vector<Command> cleaning_commands() {
    return {
        {"mixture",
         {{"MIXTURE"}, {}},
         "Where a solvent mixture lies: \"ethanol 20, isooctane 80\", percent by volume.",
         mixture},
        {"exposure",
         {{}, {"agent", "ml-per-hour", "room-m3", "air-changes"}, {"agent", "ml-per-hour", "room-m3", "air-changes"}},
         "Solvent vapour in the room and at the swab, an estimate.",
         exposure},
    };
}

}  // namespace tedge::cli
