// Moments by the clock of their place: the field table keeps UTC and the IANA zone beside it, people read and type what
// the catalogue prints.
#pragma once

#include <QString>
#include <string>

#include "tedge/base/error.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"

namespace tedge::desk {

// The field that names the zone of the kind's moments ("sale_zone"); nullptr where they are told in UTC.
[[nodiscard]] const casebook::Field* zone_field_of(const casebook::Kind& kind);
// The zone of a record's moments; "" where none is given.
[[nodiscard]] QString zone_in(const casebook::Body& body, const casebook::Kind* kind);

// "2026-07-05T13:30:00Z" in Europe/London is "5 July 2026, 14:30"; without a zone that is known, "…, 13:30 UTC".
[[nodiscard]] QString local_text(std::string_view iso_instant, const QString& zone);
// The same with its zone: "5 July 2026, 14:30 Europe/London".
[[nodiscard]] QString local_text_with_zone(std::string_view iso_instant, const QString& zone);

// The ISO instant of "5 July 2026 14:30" by the clock of the zone; with "UTC" or "Z" behind it the zone is not asked.
// Errors: time.not-read, time.no-zone, time.unknown-zone, time.left-out (the clocks go forward over it).
[[nodiscard]] Expected<std::string> read_local(const QString& text, const QString& zone, const std::string& today);

[[nodiscard]] bool is_zone(const QString& name);

}  // namespace tedge::desk
