#include <sqlite3.h>

#include <atomic>
#include <random>
#include <thread>

#include "book_fixture.hpp"
#include "raw_sql.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::casebook;
namespace fs = std::filesystem;

namespace {

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

namespace {

// The columns of `change` as the table itself lists them, so that none is forgotten: name and declared type.
std::vector<std::pair<std::string, std::string>> columns_of_change(const fs::path& folder) {
    std::vector<std::pair<std::string, std::string>> columns;
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((folder / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    sqlite3_stmt* row = nullptr;
    REQUIRE(sqlite3_prepare_v2(db, "SELECT name, type FROM pragma_table_info('change')", -1, &row, nullptr) ==
            SQLITE_OK);
    const auto text = [&](int column) {
        return std::string(reinterpret_cast<const char*>(sqlite3_column_text(row, column)));
    };
    while (sqlite3_step(row) == SQLITE_ROW) columns.emplace_back(text(0), text(1));
    sqlite3_finalize(row);
    sqlite3_close(db);
    return columns;
}

// One bit of one byte of a value flipped; a number has eight bytes. "" where there is nothing to flip.
std::string flipped(const fs::path& folder, const std::string& column, const std::string& type,
                    const std::string& where, std::mt19937& random) {
    if (type == "BIGINT" || type == "INTEGER") {
        const std::string bit = std::to_string(1ULL << (random() % 31));
        return "(" + column + " | " + bit + ") - (" + column + " & " + bit + ")";
    }
    sqlite3* db = nullptr;
    REQUIRE(sqlite3_open((folder / "casebook.sqlite").c_str(), &db) == SQLITE_OK);
    sqlite3_stmt* row = nullptr;
    REQUIRE(sqlite3_prepare_v2(db, ("SELECT " + column + " FROM change" + where).c_str(), -1, &row, nullptr) ==
            SQLITE_OK);
    REQUIRE(sqlite3_step(row) == SQLITE_ROW);
    const auto* data = static_cast<const char*>(sqlite3_column_blob(row, 0));
    std::string bytes(data != nullptr ? data : "", static_cast<std::size_t>(sqlite3_column_bytes(row, 0)));
    sqlite3_finalize(row);
    sqlite3_close(db);
    if (bytes.empty()) return "";
    char& hit = bytes[random() % bytes.size()];
    hit = static_cast<char>(hit ^ (1U << (random() % 8)));
    const std::vector<std::uint8_t> raw(bytes.begin(), bytes.end());
    return "CAST(x'" + to_hex(raw) + "' AS " + type + ")";
}

}  // namespace

TEST_CASE("One flipped byte in any column of any change is reported, wherever it falls") {
    Filled b;
    const auto columns = columns_of_change(b.path());
    REQUIRE(columns.size() == 22);
    std::mt19937 random(7);
    for (const auto& [column, type] : columns) {
        int tried = 0;
        for (int row = 0; row < 5; ++row) {
            const fs::path copy = b.folder / (column + std::to_string(row));
            must(b.book.back_up(copy));
            const std::string where =
                " WHERE id = (SELECT id FROM change ORDER BY id LIMIT 1 OFFSET " + std::to_string(row) + ")";
            const std::string value = flipped(copy, column, type, where, random);
            if (value.empty()) continue;
            ++tried;
            CAPTURE(column, row, value);
            run_sql(copy, "UPDATE change SET " + column + " = " + value + where);
            auto book = Casebook::open(copy, b.sources());
            const auto report = book ? book->check() : Expected<CheckReport>(pass_on(book));
            CHECK((!report || !report->ok()));
        }
        CAPTURE(column);
        CHECK(tried > 0);
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

TEST_CASE("One flipped byte anywhere in an original is reported") {
    Filled b;
    const fs::path original = b.book.original_path(b.file);
    const std::string sound = must(read_file(original));
    std::mt19937 random(23);
    std::vector<std::size_t> offsets{0, sound.size() / 2, sound.size() - 1};
    while (offsets.size() < 40) offsets.push_back(random() % sound.size());
    for (const std::size_t at : offsets) {
        CAPTURE(at);
        std::string bytes = sound;
        bytes[at] = static_cast<char>(bytes[at] ^ (1U << (random() % 8)));
        must(write_file_durably(original, bytes));
        CHECK(must(b.book.check()).problems == std::vector<std::string>{"The original " + b.file + " was altered."});
    }
    must(write_file_durably(original, sound + "x"));
    CHECK_FALSE(must(b.book.check()).ok());
    must(write_file_durably(original, sound.substr(1)));
    CHECK_FALSE(must(b.book.check()).ok());
    must(write_file_durably(original, sound));
    CHECK(must(b.book.check()).ok());
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

TEST_CASE("A check made while another program writes finds nothing wrong") {
    Filled b;
    std::vector<Uuid> cases;
    for (int i = 0; i < 60; ++i) cases.push_back(b.add_case("picture " + std::to_string(i)));
    std::atomic<bool> stop = false;
    std::thread writer([&] {
        FixedClock clock;
        CountingIds ids(7);
        auto second = Casebook::open(b.path(), {&clock, &ids});
        for (int i = 0; second && !stop && i < 400; ++i) {
            Edit edit;
            edit.operation = Operation::patch;
            edit.record = cases[static_cast<std::size_t>(i) % cases.size()];
            edit.values.text("subject", "a ferry " + std::to_string(i));
            if (!second->commit(b.author, {edit})) return;
        }
    });
    for (int round = 0; round < 20; ++round) {
        const auto report = b.book.check();
        CHECK((report.has_value() && report->problems == std::vector<std::string>{}));
    }
    stop = true;
    writer.join();
}
