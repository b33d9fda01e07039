// Values of records in words, by the type their field table gives them.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tedge/dossier/extract.hpp"

namespace tedge::dossier {

// For people: "12.5 mm", "3 March 2026", "about 1660", "tinted varnish", "GBP 1,200.00", a person's name. "" where the
// value is absent or is nothing to be read (places, placements, digests, maps of values).
[[nodiscard]] std::string value_text(const Extract& extract, const casebook::Record& record, std::string_view field);

// Label and text of all fields that have something to read, in the order of the field table.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> labelled_values(
    const Extract& extract, const casebook::Record& record, const std::vector<std::string_view>& left_out = {});

// "photograph: recto, normal light, as received"; the name of a person; label of the kind otherwise.
[[nodiscard]] std::string name_of(const Extract& extract, const casebook::Record& record);

[[nodiscard]] std::string edtf_words(std::string_view edtf);      // as given when it is no EDTF
[[nodiscard]] std::string word_text(std::string_view word);       // "tinted-varnish" to "tinted varnish"
[[nodiscard]] std::string sentence_case(std::string_view text);   // first letter upper case (ASCII)
[[nodiscard]] std::string reader_words(casebook::Reader reader);  // "Dossier for the buyer"

}  // namespace tedge::dossier
