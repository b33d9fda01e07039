// What a finding says of how fast paint and support hold.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

// Whether the place is to be left alone until it is consolidated: the finding says so; or it says nothing of it and
// names what by its nature is loose (flaking, lifting, blistered, powdering, detached, cleaving, loose). Only a "no"
// that somebody gave makes such a place firm. Common practice.
[[nodiscard]] bool is_unstable(const Body& finding);

// The ISO day on which a place that was found loose was consolidated: by its own field, or by recorded treatments that
// together cover it wholly, of which the last one's day counts. "" while any of it is not, or where nothing was loose.
// A day that lay ahead when it was written is a plan; a consolidation before the finding did not hold.
[[nodiscard]] std::string consolidated_on(const CaseSnapshot& snapshot, const Record& finding);

// Unstable, and not consolidated since.
[[nodiscard]] bool is_open_danger(const CaseSnapshot& snapshot, const Record& finding);

// What no recorded consolidation has covered of a finding's place, both seen in one frame.
[[nodiscard]] Region still_loose(const CaseSnapshot& snapshot, const Record& finding, const Region& place_in_frame,
                                 const Uuid& frame);

// Whether a day was still to come when the record was last written; one day on is today somewhere else.
[[nodiscard]] bool lay_ahead(const Record& record, std::string_view iso_day);

// Of two surveys the one to believe: by their day, which counts at most as the day it was written, then by when they
// were written.
[[nodiscard]] bool is_newer_survey(const Record& survey, const Record& than);

// The newest survey of some face calls it unstable, or its loose paint mapped, and no unstable place was ever recorded:
// where nobody can see what to keep clear of, the whole face counts as unsafe.
[[nodiscard]] bool is_loose_without_place(const std::vector<const Record*>& surveys,
                                          const std::vector<const Record*>& findings);

}  // namespace tedge::casebook
