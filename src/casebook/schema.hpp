// The tables, and how an older book becomes a current one.
#pragma once

#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

inline constexpr std::int64_t application_id = 0x54454447;  // "TEDG"
[[nodiscard]] std::int64_t current_version();

enum class SchemaState { empty, current, older, newer, foreign };
[[nodiscard]] SchemaState schema_state(const sqlite::Connection& db);

// Runs the numbered migrations that are missing, each in one transaction of its own.
void migrate(const sqlite::Connection& db);

}  // namespace tedge::casebook
