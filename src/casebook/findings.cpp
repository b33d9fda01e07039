#include "tedge/casebook/findings.hpp"

#include <algorithm>
#include <array>

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

}  // namespace tedge::casebook
