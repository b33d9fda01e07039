// The hybrid logical clock of a book.
#pragma once

#include "sqlite/connection.hpp"
#include "tedge/casebook/change.hpp"

namespace tedge::casebook {

// A change from further ahead than this does not move our clock: it is kept and marked.
inline constexpr std::int64_t largest_lead_ms = 10LL * 60 * 1000;
// Nobody makes that many changes within a millisecond; a count beyond it is taken for a clock gone wrong too.
inline constexpr std::int64_t largest_count = 1LL << 40;

// The time of the next change made here: never before any time this book has given out or taken in.
[[nodiscard]] HybridTime next_time(const sqlite::Connection& db, Instant now);
// Takes note of a change from elsewhere; false when it lies too far ahead.
[[nodiscard]] bool take_note(const sqlite::Connection& db, const HybridTime& of, Instant now);

}  // namespace tedge::casebook
