#include <sqlite3.h>

#include <random>

#include "book_fixture.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

// Straight into the tables, as somebody with a hex editor would.
void run_sql(const fs::path& folder, const std::string& sql) {
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((folder / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    char* message = nullptr;
    const int result = sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &message);
    INFO(sql << ": " << (message != nullptr ? message : ""));
    sqlite3_free(message);
    sqlite3_close(db);
    REQUIRE(result == SQLITE_OK);
}

struct Filled : Book {
    Uuid id = add_case();
    std::string file;

    Filled() {
        must(write_file_durably(folder / "photo", std::string(5000, 'p')));
        file = must(book.store_original(folder / "photo")).sha256;
        add(id, "photograph",
            FieldValues().text("face", "recto").text("light", "normal").text("stage", "saleroom").text("sha256", file));
        must(change(id, Operation::patch, FieldValues().text("artist", "Joost van Ellen")));
        Edit edit;
        edit.operation = Operation::patch;
        edit.record = id;
        edit.values.text("subject", "a ferry");
        edit.reason = "seen in raking light";
        must(book.commit(author, {edit}));
    }
};

}  // namespace

TEST_CASE("An untouched book checks and rebuilds to the same bytes") {
    Filled b;
    const CheckReport report = must(b.book.check());
    CHECK(report.problems == std::vector<std::string>{});
    CHECK(report.cases == 1);
    CHECK(report.changes == 5);
    CHECK(report.originals == 1);
    CHECK(must(b.book.rebuild()));
}

TEST_CASE("One altered value in any column of any change is reported") {
    const std::vector<std::string> alterations{"id = zeroblob(16)",
                                               "replica = zeroblob(16)",
                                               "case_id = x'00000000000070008000000000000077'",
                                               "number = number + 7",
                                               "author = zeroblob(16)",
                                               "clock_ms = clock_ms + 1",
                                               "clock_count = clock_count + 1",
                                               "made_at = '2020-01-01T00:00:00.000Z'",
                                               "made_at = 'yesterday'",
                                               "record = x'00000000000070008000000000000077'",
                                               "kind = 'lot'",
                                               "schema = 2",
                                               "operation = 'restore'",
                                               "operation = 'forget'",
                                               "seen = seen || x'00000000000070008000000000000077'",
                                               "public_payload = replace(public_payload, '{', '{ ')",
                                               "public_salt = zeroblob(16)",
                                               "public_digest = zeroblob(32)",
                                               "personal_payload = '{\"set\":{}}'",
                                               "personal_salt = zeroblob(16)",
                                               "personal_digest = zeroblob(32)",
                                               "reason = reason || '.'",
                                               "previous = x'01' || substr(previous, 2)",
                                               "hash = zeroblob(32)"};
    for (const std::string& alteration : alterations) {
        for (int row = 0; row < 5; ++row) {
            Filled b;
            CAPTURE(alteration, row);
            run_sql(b.path(), "UPDATE change SET " + alteration +
                                  " WHERE id = (SELECT id FROM change ORDER BY id LIMIT 1 OFFSET " +
                                  std::to_string(row) + ")");
            const auto report = b.book.check();
            CHECK((!report || !report->ok()));
        }
    }
}

TEST_CASE("One flipped byte in any payload, salt or digest is reported, wherever it falls") {
    std::mt19937 random(7);
    for (const std::string column :
         {"public_payload", "personal_payload", "public_salt", "hash", "previous", "seen", "reason", "made_at"}) {
        for (int trial = 0; trial < 6; ++trial) {
            Filled b;
            const auto changes = must(b.book.all_changes());
            const Change& change = changes[random() % changes.size()];
            const std::string where = " WHERE id = x'" + to_hex(change.id.bytes) + "'";
            const unsigned at = 1 + random() % 8;
            CAPTURE(column, at);
            const std::string type =
                column == "public_payload" || column == "personal_payload" || column == "reason" || column == "made_at"
                    ? "TEXT"
                    : "BLOB";
            run_sql(b.path(), "UPDATE change SET " + column + " = CAST(COALESCE(substr(CAST(" + column +
                                  " AS BLOB), 1, " + std::to_string(at - 1) +
                                  "), x'') || x'5a' || COALESCE(substr(CAST(" + column + " AS BLOB), " +
                                  std::to_string(at + 1) + "), x'') AS " + type + ")" + where);
            const auto report = b.book.check();
            CHECK((!report || !report->ok()));
        }
    }
}

TEST_CASE("A missing change, an added one and a cut chain are reported") {
    {
        Filled b;
        run_sql(b.path(), "DELETE FROM change WHERE number = 2");
        CHECK_FALSE(must(b.book.check()).ok());
    }
    {
        Filled b;
        auto changes = must(b.book.all_changes());
        Change extra = changes.back();
        extra.id = b.ids.next();
        extra.number += 1;
        extra.previous = {};
        extra.hash = change_hash(extra);
        must(b.book.merge({extra}));
        CHECK_FALSE(must(b.book.check()).ok());
    }
}

TEST_CASE("One flipped byte in an original is reported; a missing one and a stray one too") {
    Filled b;
    const fs::path original = b.book.original_path(b.file);
    std::string bytes = must(read_file(original));
    bytes[2500] = static_cast<char>(bytes[2500] ^ 1);
    must(write_file_durably(original, bytes));
    CheckReport report = must(b.book.check());
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].find("altered") != std::string::npos);

    // Taking the same photograph in again heals it.
    must(b.book.store_original(b.folder / "photo"));
    CHECK(must(b.book.check()).ok());

    fs::remove(original);
    CHECK(must(b.book.check()).problems.size() == 1);
    must(b.book.store_original(b.folder / "photo"));

    must(write_file_durably(b.folder / "stray", "stray"));
    must(b.book.store_original(b.folder / "stray"));
    report = must(b.book.check());
    CHECK(report.ok());
    CHECK(report.notes.size() == 1);
}

TEST_CASE("A projection that was tampered with is reported and made good by rebuilding") {
    Filled b;
    run_sql(b.path(), "UPDATE record SET public_body = '{\"title\":\"Another\"}' WHERE kind = 'case'");
    CHECK_FALSE(must(b.book.check()).ok());
    CHECK_FALSE(must(b.book.rebuild()));
    CHECK(must(b.book.check()).ok());
    CHECK(must(b.book.rebuild()));
}

TEST_CASE("Each kind has a view with a column for every field") {
    Filled b;
    run_sql(b.path(), "CREATE TABLE seen AS SELECT title, artist FROM case_view WHERE title LIKE 'River%'");
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((b.path() / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    sqlite3_stmt* row = nullptr;
    REQUIRE(sqlite3_prepare_v2(db, "SELECT artist FROM seen", -1, &row, nullptr) == SQLITE_OK);
    REQUIRE(sqlite3_step(row) == SQLITE_ROW);
    CHECK(std::string(reinterpret_cast<const char*>(sqlite3_column_text(row, 0))) == "Joost van Ellen");
    sqlite3_finalize(row);
    sqlite3_close(db);
}
