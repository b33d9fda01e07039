#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/provenance/civil_day.hpp"
#include "tedge/provenance/edtf.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

constexpr std::uint64_t largest_chain_bytes = 10'000'000;

json day_or_null(const std::optional<provenance::DayNumber>& day) {
    return day ? json(provenance::to_iso_text(*day)) : json(nullptr);
}

Expected<Answer> edtf(Context& /*context*/, const Arguments& arguments) {
    const auto date = provenance::parse_edtf(arguments.position("STRING"));
    Answer answer;
    answer.fields = {{"valid", date.has_value()}, {"level", nullptr}, {"lower", nullptr},
                     {"upper", nullptr},          {"open", false},    {"unknown", false}};
    if (!date) {
        answer.fields["reason"] = date.error().message;
        answer.lines = {date.error().message + " " + date.error().next};
        return answer;
    }
    answer.fields["level"] = date->level;
    answer.fields["lower"] = day_or_null(date->lower);
    answer.fields["upper"] = day_or_null(date->upper);
    answer.fields["open"] = date->is_open();
    answer.fields["unknown"] = date->is_unknown();
    answer.lines = {fmt::format("Level {}: {} to {}.", date->level,
                                date->lower ? provenance::to_iso_text(*date->lower) : "?",
                                date->upper ? provenance::to_iso_text(*date->upper) : "?")};
    return answer;
}

Expected<Answer> chain(Context& /*context*/, const Arguments& arguments) {
    const auto text = read_file(path_from_utf8(arguments.position("FILE")), largest_chain_bytes);
    if (!text) return pass_on(text);
    const auto links = provenance::read_chain(*text);
    if (!links) return pass_on(links);
    const provenance::Statement statement = provenance::statement(*links);
    Answer answer;
    answer.fields = {{"findings", json::array()}, {"statement", statement.text()}};
    answer.lines = {statement.text()};
    for (const provenance::ChainFinding& finding : provenance::findings(*links)) {
        json between = json::array();
        for (const std::size_t link : finding.links) between.push_back((*links)[link].owner);
        answer.fields["findings"].push_back(
            {{"kind", provenance::code_of(finding.kind)}, {"between", between}, {"text", finding.text}});
        answer.lines.push_back(finding.text);
    }
    return answer;
}

}  // namespace

std::vector<Command> research_commands() {
    return {
        {"edtf", {{"STRING"}, {}}, "Reads a date of provenance (EDTF, ISO 8601-2).", edtf},
        {"provenance", {{"FILE"}, {}}, "Examines a chain of owners and writes it as museums print it.", chain},
    };
}

}  // namespace tedge::cli
