#include "hybrid_clock.hpp"

#include <algorithm>

namespace tedge::casebook {

namespace {

HybridTime stored(const sqlite::Connection& db) {
    sqlite::Statement row = db.prepare("SELECT clock_ms, clock_count FROM book");
    return row.step() ? HybridTime{row.integer(0), row.integer(1)} : HybridTime{};
}

void store(const sqlite::Connection& db, const HybridTime& time) {
    db.run("UPDATE book SET clock_ms = $1, clock_count = $2", time.ms, time.count);
}

}  // namespace

HybridTime next_time(const sqlite::Connection& db, Instant now) {
    const std::int64_t wall_ms = now.time_since_epoch().count();
    const HybridTime last = stored(db);
    const HybridTime next = wall_ms > last.ms ? HybridTime{wall_ms, 0} : HybridTime{last.ms, last.count + 1};
    store(db, next);
    return next;
}

bool take_note(const sqlite::Connection& db, const HybridTime& of, Instant now) {
    if (of.ms > now.time_since_epoch().count() + largest_lead_ms || of.count > largest_count) return false;
    if (of > stored(db)) store(db, of);
    return true;
}

}  // namespace tedge::casebook
