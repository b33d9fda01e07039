#include "tedge/provenance/attribution.hpp"

#include <algorithm>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"

namespace tedge::provenance {

namespace {

constexpr double first_about_inscriptions = 9;

std::vector<AttributionTerm> read_terms() {
    const Table table = Table::parse(embedded::attribution_terms_csv).value();  // compiled in: it is whole
    std::vector<AttributionTerm> terms;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        AttributionTerm term;
        term.order = parse_number(table.cell(row, "order")).value();
        term.term = table.cell(row, "term");
        term.meaning = table.cell(row, "customary_meaning_paraphrased");
        term.variation = table.cell(row, "variation_seen");
        term.aat_id = table.cell(row, "aat_qualifier_id");
        term.aat_source = table.cell(row, "aat_source");
        term.about_inscription = term.order >= first_about_inscriptions;
        terms.push_back(std::move(term));
    }
    std::ranges::stable_sort(terms, {}, &AttributionTerm::order);
    return terms;
}

bool goes_by(const AttributionTerm& term, std::string_view wanted) {
    const std::string names = lowered_ascii(term.term);
    if (names == wanted) return true;
    return std::ranges::any_of(split(names, '/'), [&](std::string_view name) { return trimmed(name) == wanted; });
}

}  // namespace

const std::vector<AttributionTerm>& attribution_terms() {
    static const std::vector<AttributionTerm> terms = read_terms();
    return terms;
}

const AttributionTerm* find_attribution_term(std::string_view name) {
    const std::string wanted = lowered_ascii(trimmed(name));
    const auto found =
        std::ranges::find_if(attribution_terms(), [&](const auto& term) { return goes_by(term, wanted); });
    return found == attribution_terms().end() ? nullptr : &*found;
}

}  // namespace tedge::provenance
