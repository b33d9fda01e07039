#include "tedge/casebook/findings.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <tuple>

#include "tedge/base/text.hpp"

namespace tedge::casebook {

bool is_unstable(const Body& finding) {
    constexpr std::array<std::string_view, 8> loose{"flak",   "lifting", "blister", "powder",
                                                    "detach", "cleav",   "loose",   "tenting"};
    if (finding.has("unstable")) return finding.flag("unstable");
    const std::string term = lowered_ascii(finding.text_or("term"));
    return std::ranges::any_of(loose, [&](std::string_view word) { return term.find(word) != std::string::npos; });
}

bool is_open_danger(const Record& finding) {
    const auto consolidated = finding.body.text("consolidated_on");
    return is_unstable(finding.body) && (!consolidated || lay_ahead(finding, *consolidated));
}

bool lay_ahead(const Record& record, std::string_view iso_day) {
    return iso_day > to_text(record.last_written + std::chrono::days(1)).substr(0, 10);
}

bool is_newer_survey(const Record& survey, const Record& than) {
    const auto day = [](const Record& each) {
        const std::string written = to_text(each.first_written).substr(0, 10);
        const auto said = each.body.text("surveyed_on");
        return said && !lay_ahead(each, *said) ? *said : written;
    };
    return std::tuple(day(survey), survey.last_written, survey.id) > std::tuple(day(than), than.last_written, than.id);
}

bool is_loose_without_place(const std::vector<const Record*>& surveys, const std::vector<const Record*>& findings) {
    if (std::ranges::any_of(findings, [](const Record* each) { return is_unstable(each->body); })) return false;
    std::map<std::string, const Record*> newest;
    for (const Record* survey : surveys) {
        const Record*& known = newest[survey->body.text_or("face")];
        if (known == nullptr || is_newer_survey(*survey, *known)) known = survey;
    }
    return std::ranges::any_of(newest, [](const auto& of) {
        const Body& said = of.second->body;
        return said.text_or("condition") == "unstable" || said.text_or("loose_paint") == "mapped";
    });
}

}  // namespace tedge::casebook
