// The words by which a catalogue says how near a picture stands to a master, nearest first.
//
// Source: resources/reference/attribution_terms.csv, meanings paraphrased from salerooms' glossaries and the Categories
// for the Description of Works of Art. Rooms differ ("follower" may or may not be contemporary), so a sale's own
// glossary belongs with the lot; these meanings are the customary ones and no more.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tedge::provenance {

struct AttributionTerm {
    double order = 0;        // 1 the artist's own hand … 8 a copy; 2.1 to 2.3 lie between "attributed to" and "studio"
    std::string term;        // "attributed to"
    std::string meaning;     // customary meaning
    std::string variation;   // what some rooms mean instead
    std::string aat_id;      // Art & Architecture Thesaurus; "" where none was found
    std::string aat_source;  // says "unconfirmed" where it is
    bool about_inscription = false;  // "signed", "bears signature": says something of the inscription, not of the hand
};

// In order.
[[nodiscard]] const std::vector<AttributionTerm>& attribution_terms();

// The term of that name, letters of either case; alternatives as in "studio of / workshop of" by either name. None:
// nullptr.
[[nodiscard]] const AttributionTerm* find_attribution_term(std::string_view name);

}  // namespace tedge::provenance
