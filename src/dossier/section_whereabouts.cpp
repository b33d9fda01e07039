// Where the picture was, from when to when, against which receipt, and who insured it.
#include <algorithm>

#include "sections.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

std::string both(const std::string& first, const std::string& second) {
    return first + (first.empty() || second.empty() ? "" : "\n") + second;
}

std::vector<std::string> custody_row(const Extract& extract, const Record& entry) {
    const auto text = [&](std::string_view field) { return value_text(extract, entry, field); };
    const std::string until = text("to");
    const std::string risk = text("loose_paint_risk_accepted_by");
    return {text("from"),
            until.empty() ? "now" : until,
            text("place"),
            text("holder"),
            both(text("receipt"), text("packing")),
            risk.empty() ? "" : "accepted by " + risk,
            both(text("insured_by"), text("insured_value"))};
}

// "Now: the gallery, Port Ambling. Insured by the Lantern Mutual for GBP 6,000.00."
std::string where_it_is(const Extract& extract, const Record& last) {
    if (last.body.has("to")) return {};
    std::string text = "Now: " + value_text(extract, last, "place") + ".";
    const std::string insurer = value_text(extract, last, "insured_by");
    const std::string value = value_text(extract, last, "insured_value");
    if (!insurer.empty()) text += " Insured by " + insurer + (value.empty() ? "" : " for " + value) + ".";
    return text;
}

}  // namespace

void add_whereabouts(const Sections& sections) {
    auto entries = sections.extract.of_kind("custody");
    if (entries.empty()) return;
    std::ranges::stable_sort(entries, {}, [](const Record* entry) { return entry->body.text_or("from"); });
    sections.heading(1, "Whereabouts");
    if (std::string now = where_it_is(sections.extract, *entries.back()); !now.empty())
        sections.add(Paragraph{std::move(now), Voice::lead});
    DataTable table{{{"Since", 1.2},
                     {"Until", 1.2},
                     {"Where", 1.5},
                     {"Held by", 1.3},
                     {"Receipt, packing", 2.0},
                     {"Risk of loose paint", 1.1},
                     {"Insured", 1.2}},
                    {},
                    {}};
    for (const Record* entry : entries) table.rows.push_back(custody_row(sections.extract, *entry));
    sections.add(without_empty_columns(std::move(table)));
}

}  // namespace tedge::dossier
