#include "tedge/casebook/findings.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string>

#include "tedge/base/text.hpp"

namespace tedge::casebook {

bool is_unstable(const Body& finding) {
    constexpr std::array<std::string_view, 8> loose{"flak",   "lifting", "blister", "powder",
                                                    "detach", "cleav",   "loose",   "tenting"};
    if (finding.has("unstable")) return finding.flag("unstable");
    const std::string term = lowered_ascii(finding.text_or("term"));
    return std::ranges::any_of(loose, [&](std::string_view word) { return term.find(word) != std::string::npos; });
}

bool is_open_danger(const Body& finding) {
    return is_unstable(finding) && !finding.has("consolidated_on");
}

bool is_loose_without_place(const std::vector<const Record*>& surveys, const std::vector<const Record*>& findings) {
    if (std::ranges::any_of(findings, [](const Record* each) { return is_unstable(each->body); })) return false;
    std::map<std::string, const Record*> newest;
    for (const Record* survey : surveys) {
        const Record*& known = newest[survey->body.text_or("face")];
        if (known == nullptr || survey->body.text_or("surveyed_on") >= known->body.text_or("surveyed_on"))
            known = survey;
    }
    return std::ranges::any_of(newest, [](const auto& of) {
        const Body& said = of.second->body;
        return said.text_or("condition") == "unstable" || said.text_or("loose_paint") == "mapped";
    });
}

}  // namespace tedge::casebook
