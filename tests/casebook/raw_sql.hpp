// Straight into the tables, as somebody with a hex editor would.
#pragma once

#include <sqlite3.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

namespace tedge::casebook {

inline void run_sql(const std::filesystem::path& folder, const std::string& sql) {
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((folder / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    char* message = nullptr;
    const int result = sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &message);
    INFO(sql << ": " << (message != nullptr ? message : ""));
    sqlite3_free(message);
    sqlite3_close(db);
    REQUIRE(result == SQLITE_OK);
}

}  // namespace tedge::casebook
