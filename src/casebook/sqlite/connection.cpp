#include "sqlite/connection.hpp"

#include <sqlite3.h>

#include <algorithm>

#include "tedge/base/files.hpp"

namespace tedge::sqlite {

namespace {

constexpr int busy_timeout_ms = 5000;

[[noreturn]] void raise(sqlite3* database, int result) {
    const int code = database != nullptr ? sqlite3_extended_errcode(database) : result;
    throw SqlError(code, database != nullptr ? sqlite3_errmsg(database) : sqlite3_errstr(result));
}

// "file:" address with what RFC 3986 reserves written as %xx, so that any path can be opened.
std::string address(const std::filesystem::path& file, bool immutable) {
    std::string text = "file:";
    constexpr std::string_view digits = "0123456789ABCDEF";
    for (const char c : to_utf8(std::filesystem::absolute(file))) {
        if (c == '%' || c == '?' || c == '#') {
            text += '%';
            text += digits[static_cast<unsigned char>(c) >> 4U];
            text += digits[static_cast<unsigned char>(c) & 15U];
        } else {
            text += c;
        }
    }
    return immutable ? text + "?immutable=1" : text;
}

}  // namespace

bool SqlError::is_busy() const {
    return (code_ & 0xFF) == SQLITE_BUSY || (code_ & 0xFF) == SQLITE_LOCKED;
}

bool SqlError::is_of_disk() const {
    const int kind = code_ & 0xFF;
    return kind == SQLITE_FULL || kind == SQLITE_IOERR || kind == SQLITE_NOMEM;
}

void Statement::Finalise::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}

Statement::Statement(sqlite3* database, std::string_view sql) : database_(database) {
    sqlite3_stmt* prepared = nullptr;
    must_be_ok(sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &prepared, nullptr));
    statement_.reset(prepared);
}

void Statement::must_be_ok(int result) const {
    if (result != SQLITE_OK) raise(database_, result);
}

int Statement::place(int at) const {
    const std::string name = "$" + std::to_string(at);
    const int index = sqlite3_bind_parameter_index(statement_.get(), name.c_str());
    if (index == 0) throw std::logic_error("no parameter " + name);
    return index;
}

void Statement::bind_one(int at, std::nullptr_t) {
    must_be_ok(sqlite3_bind_null(statement_.get(), place(at)));
}
void Statement::bind_one(int at, std::int64_t value) {
    must_be_ok(sqlite3_bind_int64(statement_.get(), place(at), value));
}
void Statement::bind_one(int at, double value) {
    must_be_ok(sqlite3_bind_double(statement_.get(), place(at), value));
}
void Statement::bind_one(int at, std::string_view text) {
    // A null pointer would bind NULL; an empty view may hold one.
    const char* data = text.data() != nullptr ? text.data() : "";
    must_be_ok(sqlite3_bind_text(statement_.get(), place(at), data, static_cast<int>(text.size()),
                                 SQLITE_TRANSIENT));  // NOLINT(performance-no-int-to-ptr): sqlite3's own constant
}
void Statement::bind_one(int at, Bytes bytes) {
    if (bytes.empty()) {
        must_be_ok(sqlite3_bind_zeroblob(statement_.get(), place(at), 0));
        return;
    }
    must_be_ok(sqlite3_bind_blob(statement_.get(), place(at), bytes.data(), static_cast<int>(bytes.size()),
                                 SQLITE_TRANSIENT));  // NOLINT(performance-no-int-to-ptr): sqlite3's own constant
}

Statement& Statement::bind_all(std::span<const std::string> texts) {
    int at = 0;
    for (const std::string& text : texts) bind_one(++at, text);
    return *this;
}

bool Statement::step() {
    const int result = sqlite3_step(statement_.get());
    if (result == SQLITE_ROW) return true;
    if (result == SQLITE_DONE) return false;
    raise(database_, result);
}

void Statement::run() {
    while (step()) {
    }
}

Statement& Statement::reset() {
    sqlite3_reset(statement_.get());
    return *this;
}

Statement::Type Statement::type(int column) const {
    switch (sqlite3_column_type(statement_.get(), column)) {
        case SQLITE_INTEGER:
            return Type::integer;
        case SQLITE_FLOAT:
            return Type::real;
        case SQLITE_TEXT:
            return Type::text;
        case SQLITE_BLOB:
            return Type::blob;
        default:
            return Type::null;
    }
}
std::int64_t Statement::integer(int column) const {
    return sqlite3_column_int64(statement_.get(), column);
}

std::string Statement::text(int column) const {
    const unsigned char* text = sqlite3_column_text(statement_.get(), column);
    const int size = sqlite3_column_bytes(statement_.get(), column);
    return text != nullptr ? std::string(text, text + size) : std::string();
}

std::string Statement::bytes(int column) const {
    const void* blob = sqlite3_column_blob(statement_.get(), column);
    const int size = sqlite3_column_bytes(statement_.get(), column);
    return blob != nullptr ? std::string(static_cast<const char*>(blob), static_cast<std::size_t>(size))
                           : std::string();
}

Uuid Statement::id(int column) const {
    const std::string raw = bytes(column);
    Uuid id;
    if (raw.size() != id.bytes.size()) throw SqlError(SQLITE_CORRUPT, "an id is not 16 bytes long");
    std::ranges::transform(raw, id.bytes.begin(), [](char c) { return static_cast<std::uint8_t>(c); });
    return id;
}

void Connection::Close::operator()(sqlite3* database) const {
    sqlite3_close_v2(database);
}

Connection::Connection(const std::filesystem::path& file, Access access) {
    const int flags = access == Access::read_write ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE : SQLITE_OPEN_READONLY;
    open(address(file, access == Access::immutable), flags);
    if (access == Access::read_write) execute("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;");
}

Connection Connection::in_memory(const Connection& like) {
    Connection made;
    made.open(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
    made.execute("PRAGMA page_size = " + std::to_string(like.integer("PRAGMA page_size")));
    return made;
}

void Connection::open(const std::string& address, int flags) {
    sqlite3* opened = nullptr;
    const int result =
        sqlite3_open_v2(address.c_str(), &opened, flags | SQLITE_OPEN_URI | SQLITE_OPEN_EXRESCODE, nullptr);
    database_.reset(opened);
    if (result != SQLITE_OK) raise(opened, result);
    sqlite3_busy_timeout(opened, busy_timeout_ms);
    // A casebook may come from elsewhere: nothing in its schema is to run code (SQLite, "Defense Against The Dark
    // Arts").
    // Temporary tables stay in memory, so that no copy of what is erased is left in a folder for temporary files.
    execute(
        "PRAGMA trusted_schema = OFF; PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON; PRAGMA temp_store = "
        "MEMORY;");
}

void Connection::execute(std::string_view script) const {
    if (sqlite3_exec(database_.get(), std::string(script).c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) {
        raise(database_.get(), SQLITE_ERROR);
    }
}

std::int64_t Connection::integer(std::string_view sql) const {
    Statement statement = prepare(sql);
    return statement.step() ? statement.integer(0) : 0;
}

bool Connection::in_transaction() const {
    return sqlite3_get_autocommit(database_.get()) == 0;
}

void Connection::copy_to(const std::filesystem::path& file) const {
    const Connection target(file, Access::read_write);
    sqlite3_backup* backup = sqlite3_backup_init(target.database_.get(), "main", database_.get(), "main");
    if (backup == nullptr) raise(target.database_.get(), SQLITE_ERROR);
    sqlite3_backup_step(backup, -1);
    const int result = sqlite3_backup_finish(backup);
    if (result != SQLITE_OK) raise(target.database_.get(), result);
}

void Connection::attach(const std::filesystem::path& file, std::string_view name) const {
    run("ATTACH $1 AS \"" + std::string(name) + "\"", address(file, false));
}

void Replacement::Finish::operator()(sqlite3_backup* backup) const {
    sqlite3_backup_finish(backup);
}

Replacement::Replacement(const std::filesystem::path& file, const Connection& fresh)
    : target_(file, Access::read_write),
      backup_(sqlite3_backup_init(target_.database_.get(), "main", fresh.database_.get(), "main")) {
    if (backup_ == nullptr) raise(target_.database_.get(), SQLITE_ERROR);
    step(0);  // no page yet, but the lock
}

Replacement::~Replacement() = default;

void Replacement::step(int pages) {
    const int result = sqlite3_backup_step(backup_.get(), pages);
    if (result != SQLITE_OK && result != SQLITE_DONE) throw SqlError(result, sqlite3_errstr(result));
}

void Replacement::finish() {
    step(-1);
    const int result = sqlite3_backup_finish(backup_.release());
    if (result != SQLITE_OK) throw SqlError(result, sqlite3_errstr(result));
}

namespace {

void roll_back(const Connection& connection, bool is_inner = false) {
    if (!connection.in_transaction()) return;
    try {
        connection.execute(is_inner ? "ROLLBACK TO inner_act; RELEASE inner_act" : "ROLLBACK");
    } catch (const SqlError&) {
        // The connection is going down with the error that brought us here; sqlite3 rolls back when it is closed.
        return;
    }
}

}  // namespace

ReadTransaction::ReadTransaction(const Connection& connection)
    : connection_(connection.in_transaction() ? nullptr : &connection) {
    if (connection_ != nullptr) connection_->execute("BEGIN");
}

ReadTransaction::~ReadTransaction() {
    if (connection_ != nullptr) roll_back(*connection_);
}

ImmediateTransaction::ImmediateTransaction(const Connection& connection)
    : connection_(&connection), is_inner_(connection.in_transaction()) {
    connection.execute(is_inner_ ? "SAVEPOINT inner_act" : "BEGIN IMMEDIATE");
}

ImmediateTransaction::~ImmediateTransaction() {
    if (connection_ != nullptr) roll_back(*connection_, is_inner_);
}

void ImmediateTransaction::commit() {
    connection_->execute(is_inner_ ? "RELEASE inner_act" : "COMMIT");
    connection_ = nullptr;
}

}  // namespace tedge::sqlite
