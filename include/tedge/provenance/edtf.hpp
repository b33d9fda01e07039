// Dates of a provenance as the Extended Date/Time Format writes them: "1907", "1907~", "190X", "1907/..".
//
// Source: Library of Congress, "Extended Date/Time Format (EDTF) Specification", 4 February 2019, levels 0, 1 and 2
// (a profile of ISO 8601-1 and 8601-2:2019). Nothing is trimmed and nothing is guessed: a string is EDTF or it is not.
//
// Where published readers of the format differ, this one decides:
// - negative years are level 1 (the specification; some readers say 0);
// - more than two X in the year are level 2, and so is any X in an interval (the specification);
// - "Y" belongs to years beyond four digits only; with an exponent it may come out shorter ("Y20E2");
// - significant digits are arithmetic: Y171010000S3 is 171000000 to 171999999 (the specification prints 171010999);
// - winter (24, 28) begins in December of its year and runs to the end of February of the next; 32 is a southern
// winter;
// - a season qualified as a whole is level 1, like any date;
// - fractions of a second are taken (ISO 8601-1), a shift without its colon is not (basic form after extended form);
// - centuries "19" and decades "193" are refused (not in the profile; 19XX and 193X say the same and are no slip of
//   the finger), blanks inside sets too;
// - long years and years with significant digits stand alone, not in intervals or sets;
// - in an interval the end must not begin before the start begins: "2004-06-11/2004-06" is refused; where the end has
//   unspecified digits its latest reading decides;
// - a date with time counts as the calendar day that is written, whatever the shift from UTC;
// - "~" and "?" do not widen the bounds: the format gives no width to "about".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/provenance/civil_day.hpp"

namespace tedge::provenance {

// What stands at one side of the time that a string describes.
enum class Bound {
    known,
    open,     // "..": it goes on without limit
    unknown,  // nothing written before or after "/": there is a date, nobody knows it
};

struct Edtf {
    std::string text;  // as given
    int level = 0;     // 0, 1 or 2: the lowest level that has all of its features
    Bound start = Bound::known;
    Bound end = Bound::known;
    std::optional<DayNumber> lower;  // first day it can mean; none where start is not known
    std::optional<DayNumber> upper;  // last day it can mean; none where end is not known
    bool uncertain = false;          // a ? or % anywhere
    bool approximate = false;        // a ~ or % anywhere
    bool unspecified = false;        // an X anywhere
    bool interval = false;           // written with "/"
    bool set = false;                // [one of these] or {all of these}

    [[nodiscard]] bool is_open() const { return start == Bound::open || end == Bound::open; }
    [[nodiscard]] bool is_unknown() const { return start == Bound::unknown || end == Bound::unknown; }
    // The bounds for comparing; before_all_days and after_all_days where there is none.
    [[nodiscard]] DayNumber earliest() const { return lower.value_or(before_all_days); }
    [[nodiscard]] DayNumber latest() const { return upper.value_or(after_all_days); }
};

// Errors: edtf.not-edtf (the form), edtf.no-such-day (1960-06-31, 15XX-02-3X), edtf.end-before-start,
// edtf.beyond-reach (a year beyond farthest_year).
[[nodiscard]] Expected<Edtf> parse_edtf(std::string_view text);

}  // namespace tedge::provenance
