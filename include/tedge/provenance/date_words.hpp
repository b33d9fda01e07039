// EDTF dates in the words of a provenance statement: "by 1650", "about 1907", "12 May 1907".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tedge/provenance/edtf.hpp"

namespace tedge::provenance {

// "1907", "May 1907", "12 May 1907", "about 1907", "1907 (?)", "between 1900 and 1909", "by 1650" (nothing known
// before), "in or after 1907" (nothing known after); "an unknown date" where neither end is known.
[[nodiscard]] std::string words_for(const Edtf& date);

// "2026-03-05" (ISO 8601) is "5 March 2026"; what is no day of the calendar stays as it is.
[[nodiscard]] std::string words_for_day(std::string_view iso_day);

// When something was held: "1907–1912", "from 1907", "until 1912", "by 1650 until 1670"; "" when neither is known.
[[nodiscard]] std::string held_words(const std::optional<Edtf>& from, const std::optional<Edtf>& to);

// "1610–1672", "born 1610", "died 1672"; "" when neither is known.
[[nodiscard]] std::string life_words(const std::optional<Edtf>& born, const std::optional<Edtf>& died);

}  // namespace tedge::provenance
