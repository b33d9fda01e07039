// One line for a record in a list: what matters of it, in a practitioner's words; never an id or a code. One function
// per kind in the files beside this one; a kind without one is told by its first fields.
#pragma once

#include <QString>
#include <QStringList>

#include "sheets/answers/answer.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::desk {

struct RecordLine {
    QString text;
    Tone tone = Tone::plain;
};
// While a client looks, fields that are hidden from him are told as if they were empty.
[[nodiscard]] RecordLine line_of(const casebook::Record& record, const casebook::CaseSnapshot& snapshot,
                                 bool client_looks);

// The records of a kind, the most urgent or the newest first; owners in the order of their chain.
[[nodiscard]] std::vector<const casebook::Record*> in_order(std::string_view kind,
                                                            const casebook::CaseSnapshot& snapshot);

// Reads fields as text for people; what a client may not see is "".
class Telling {
public:
    Telling(const casebook::Record& record, const casebook::CaseSnapshot& snapshot, bool client_looks)
        : record_(record), snapshot_(snapshot), kind_(casebook::find_kind(record.kind)), client_looks_(client_looks) {}

    // By the field's type: words spoken, days and dates written out, amounts with their currency, people by name.
    [[nodiscard]] QString operator()(std::string_view field) const;
    [[nodiscard]] QString with_unit(std::string_view field) const;
    // "label: text", "" where nothing is.
    [[nodiscard]] QString after(const QString& label, std::string_view field) const;
    [[nodiscard]] bool is(std::string_view field, std::string_view word) const;
    [[nodiscard]] bool has(std::string_view field) const;
    [[nodiscard]] QString where() const;
    [[nodiscard]] QString size() const;          // of its place, height first
    [[nodiscard]] bool is_open_danger() const;   // of a finding
    [[nodiscard]] QString consolidated() const;  // the day, of a finding
    [[nodiscard]] const casebook::Kind* kind() const { return kind_; }

private:
    [[nodiscard]] const casebook::Field* seen(std::string_view field) const;
    const casebook::Record& record_;
    const casebook::CaseSnapshot& snapshot_;
    const casebook::Kind* kind_;
    bool client_looks_;
};

// The parts that are not empty, in one line.
[[nodiscard]] QString line(const QStringList& parts, const QString& between = QStringLiteral(" · "));

// By file.
[[nodiscard]] bool money_line(const std::string& kind, const Telling& told, RecordLine& line);
[[nodiscard]] bool account_line(const std::string& kind, const Telling& told, RecordLine& line);
[[nodiscard]] bool survey_line(const std::string& kind, const Telling& told, RecordLine& line);
[[nodiscard]] bool work_line(const std::string& kind, const Telling& told, RecordLine& line);
[[nodiscard]] bool research_line(const std::string& kind, const Telling& told, RecordLine& line);

}  // namespace tedge::desk
