// A thin layer over sqlite3: statements that finalise themselves, transactions that roll back, errors as exceptions
// which the casebook's public functions catch at their edge.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

#include "tedge/base/uuid.hpp"

struct sqlite3;
struct sqlite3_backup;
struct sqlite3_stmt;

namespace tedge::sqlite {

class SqlError : public std::runtime_error {
public:
    SqlError(int code, const std::string& message) : std::runtime_error(message), code_(code) {}
    [[nodiscard]] int code() const { return code_; }  // extended result code of sqlite3
    [[nodiscard]] bool is_busy() const;
    [[nodiscard]] bool is_of_disk() const;  // no room, or it does not read or write: nothing is known of what it holds

private:
    int code_;
};

inline constexpr int corrupt = 11;  // SQLITE_CORRUPT: what is read cannot be as it was written

inline constexpr int not_a_database = 26;  // SQLITE_NOTADB

using Bytes = std::span<const std::uint8_t>;

// Parameters are written $1, $2 … and bound by that number, as PostgreSQL does.
class Statement {
public:
    Statement(sqlite3* database, std::string_view sql);

    template <class... Values>
    Statement& bind(const Values&... values) {
        int at = 0;
        (bind_one(++at, values), ...);
        return *this;
    }

    Statement& bind_all(std::span<const std::string> texts);  // $1 to the last

    bool step();  // true while there is a row
    void run();   // to the end, for statements without rows
    Statement& reset();

    enum class Type { integer, real, text, blob, null };
    [[nodiscard]] Type type(int column) const;
    [[nodiscard]] bool is_null(int column) const { return type(column) == Type::null; }
    [[nodiscard]] std::int64_t integer(int column) const;
    [[nodiscard]] std::string text(int column) const;
    [[nodiscard]] std::string bytes(int column) const;
    [[nodiscard]] Uuid id(int column) const;  // throws SqlError where it is not 16 bytes

private:
    struct Finalise {
        void operator()(sqlite3_stmt* statement) const;
    };
    void bind_one(int at, std::nullptr_t);
    void bind_one(int at, std::int64_t value);
    void bind_one(int at, int value) { bind_one(at, static_cast<std::int64_t>(value)); }
    void bind_one(int at, std::string_view text);
    void bind_one(int at, const std::string& text) { bind_one(at, std::string_view(text)); }
    void bind_one(int at, Bytes bytes);
    void bind_one(int at, const Uuid& id) { bind_one(at, Bytes(id.bytes)); }
    void bind_one(int at, double value);
    template <class T>
    void bind_one(int at, const std::optional<T>& value) {
        if (value) {
            bind_one(at, *value);
        } else {
            bind_one(at, nullptr);
        }
    }
    [[nodiscard]] int place(int at) const;
    void must_be_ok(int result) const;

    sqlite3* database_;
    std::unique_ptr<sqlite3_stmt, Finalise> statement_;
};

enum class Access { read_write, read_only, immutable };

class Connection {
public:
    // Throws SqlError. Creates the file with read_write where there is none.
    Connection(const std::filesystem::path& file, Access access);
    // A database without a file, whose pages have the size that those of `like` have.
    [[nodiscard]] static Connection in_memory(const Connection& like);

    [[nodiscard]] Statement prepare(std::string_view sql) const { return {database_.get(), sql}; }
    void execute(std::string_view script) const;  // one or more statements without parameters
    template <class... Values>
    void run(std::string_view sql, const Values&... values) const {
        prepare(sql).bind(values...).run();
    }
    [[nodiscard]] std::int64_t integer(std::string_view sql) const;  // first column of the first row

    [[nodiscard]] bool in_transaction() const;
    // Copies the whole database into a new file (sqlite3's online backup).
    void copy_to(const std::filesystem::path& file) const;
    // The tables of another file become readable beside our own, as `name`.table.
    void attach(const std::filesystem::path& file, std::string_view name) const;

private:
    friend class Replacement;
    struct Close {
        void operator()(sqlite3* database) const;
    };
    Connection() = default;
    void open(const std::string& address, int flags);
    std::unique_ptr<sqlite3, Close> database_;
};

// Puts another database in the place of a file's, all of it in one transaction: whatever state the file's tables are
// in. From the beginning nobody else writes; without finish() all stays as it was.
class Replacement {
public:
    // `fresh` holds at least one table already.
    Replacement(const std::filesystem::path& file, const Connection& fresh);
    Replacement(const Replacement&) = delete;
    Replacement& operator=(const Replacement&) = delete;
    ~Replacement();
    void finish();

private:
    struct Finish {
        void operator()(sqlite3_backup* backup) const;
    };
    void step(int pages);
    Connection target_;
    std::unique_ptr<sqlite3_backup, Finish> backup_;
};

// All that is read while it lasts is from one moment. Inside another transaction it is part of that one.
class ReadTransaction {
public:
    explicit ReadTransaction(const Connection& connection);
    ReadTransaction(const ReadTransaction&) = delete;
    ReadTransaction& operator=(const ReadTransaction&) = delete;
    ~ReadTransaction();

private:
    const Connection* connection_;  // none inside another transaction
};

// BEGIN IMMEDIATE; rolled back unless committed. Inside another one it is a savepoint of it: what it wrote is undone
// alone, and durable with the outer one.
class ImmediateTransaction {
public:
    explicit ImmediateTransaction(const Connection& connection);
    ImmediateTransaction(const ImmediateTransaction&) = delete;
    ImmediateTransaction& operator=(const ImmediateTransaction&) = delete;
    ~ImmediateTransaction();
    void commit();

private:
    const Connection* connection_;
    bool is_inner_;
};

}  // namespace tedge::sqlite
