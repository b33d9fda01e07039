// One table of fields per kind of record, written down once. JSON, validation, SQL views, full-text search, the
// dossier's allow list, merge summaries and form labels all read it, so a field cannot be forgotten in one of them.
//
// Bodies only grow: a field is never renamed and never changes its meaning or unit.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tedge::casebook {

enum class FieldType {
    text,       // one line
    long_text,  // paragraphs
    number,     // in `unit`
    integer,
    flag,            // true or false
    word,            // one of `words`
    money,           // {"minor": 892307, "currency": "GBP"}
    money_estimate,  // {"low": …, "likely": …, "high": …} in minor units, with "currency"
    date,            // ISO 8601 calendar date
    edtf,            // a date of provenance, ISO 8601-2; the string as entered
    instant,         // UTC; the IANA zone of the place stands in a field of its own where it matters
    zone,            // IANA name
    record,          // the id of another record
    sha256,          // hexadecimal digest of a file in originals/
    region,          // GeoJSON geometry in mm of the record's face_frame
    placement,       // face_from_photo: {"homography": [9 numbers], "displacement": {…}, "error_mm": n}
    values,          // a map of plain JSON values keyed by name or id: people edit its items one by one
};

// Who may be given a field. What names no reader stays in the house.
enum class Reader : std::uint8_t { own = 1, buyer = 2, restorer = 4, carrier = 8, insurer = 16, scholar = 32 };

class Readers {
public:
    constexpr Readers() = default;
    constexpr Readers(Reader reader) : bits_(static_cast<std::uint8_t>(reader)) {}  // NOLINT: a reader is a set of one
    [[nodiscard]] constexpr bool contains(Reader reader) const {
        return (bits_ & static_cast<std::uint8_t>(reader)) != 0;
    }
    friend constexpr Readers operator|(Readers a, Readers b) {
        return Readers(static_cast<std::uint8_t>(a.bits_ | b.bits_));
    }
    friend constexpr bool operator==(Readers, Readers) = default;

private:
    explicit constexpr Readers(std::uint8_t bits) : bits_(bits) {}
    std::uint8_t bits_ = 0;
};

// Stays in the book: no dossier, not even the own file, no bag and no exchange holds it, and no screen lists it by the
// way.
inline constexpr Readers nobody = Readers();
inline constexpr Readers only_own = Reader::own;
inline constexpr Readers bench = Readers(Reader::own) | Reader::restorer;  // whoever works on the picture
inline constexpr Readers everyone =
    Readers(Reader::own) | Reader::buyer | Reader::restorer | Reader::carrier | Reader::insurer | Reader::scholar;
inline constexpr Readers told_outside = Readers(Reader::own) | Reader::buyer | Reader::restorer | Reader::scholar;

struct Field {
    std::string_view name;
    std::string_view label;  // English, for forms and reports
    FieldType type = FieldType::text;
    Readers readers = only_own;
    bool personal = false;  // says something about a living person: may be erased by law
    bool searched = false;  // in the full-text index
    std::string_view unit = {};
    std::string_view words = {};  // blank-separated, for FieldType::word
    bool required = false;
    int since = 1;             // schema of the kind in which it appeared
    std::string_view of = {};  // for FieldType::record: the kind it names, or several with blanks between; "" for any
    // Read from a file as it is taken in, together with the file; nobody types it, or over it.
    bool from_file = false;
    // A day on which something was done: one still to come is a plan, which opens no gate. Where the record says that
    // it is planned, the day may lie ahead.
    bool happened = false;
};

// What a figure of a painting can be at all; beyond it somebody mistyped. Both ends are allowed.
struct ValueRange {
    double least = 0.0;
    double most = 0.0;
    [[nodiscard]] constexpr bool contains(double value) const { return least <= value && value <= most; }
};

struct Kind {
    std::string_view name;    // "viewing_note"
    std::string_view label;   // "viewing note"
    std::string_view plural;  // "viewing notes"
    int schema = 1;
    std::span<const Field> fields;
    bool book_wide = false;  // belongs to the casebook, not to one case (people)

    [[nodiscard]] const Field* field(std::string_view field_name) const;  // nullptr where there is none
};

// All kinds this program knows, in the order of the work.
[[nodiscard]] std::span<const Kind* const> all_kinds();
// nullptr for a kind of a newer program: such records are kept and shown read-only.
[[nodiscard]] const Kind* find_kind(std::string_view name);

// Of a map some parts are asked one by one, each a field whose name is the path to it ("answers/lined"). With words it
// is a question: {"answer": word, "note": text}; with the unit "bands" a list of {"up_to": amount, "percent": number}.
// What else stands in the map stays as it is. In the order in which they are asked; empty for every other field.
[[nodiscard]] std::span<const Field> parts_asked(std::string_view kind, std::string_view field);

// "own", "buyer", …
[[nodiscard]] std::string_view to_text(Reader reader);
[[nodiscard]] std::vector<std::string_view> words_of(const Field& field);
// Of a field of type record: what it may name; empty for any kind.
[[nodiscard]] std::vector<std::string_view> kinds_it_names(const Field& field);
[[nodiscard]] bool may_name(const Field& field, std::string_view kind);

// By the unit of a number; without one, whole numbers are counts and others any number of at most fifteen digits.
[[nodiscard]] ValueRange range_of(const Field& field);
// "from 0 to 20000 mm"
[[nodiscard]] std::string to_text(const ValueRange& range, std::string_view unit);

}  // namespace tedge::casebook
