// One field of a form: label with unit, the right widget for its type, and beside it what is wrong with what was typed.
#pragma once

#include <QWidget>
#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"

class QComboBox;
class QLabel;
class QLineEdit;
class QPlainTextEdit;

namespace tedge::desk {

class FieldEditor : public QWidget {
    Q_OBJECT

public:
    FieldEditor(const casebook::Field& field, QString currency, QWidget* parent = nullptr);

    [[nodiscard]] const casebook::Field& field() const { return *field_; }
    [[nodiscard]] QWidget* entry() const;  // what takes the focus

    // As typed; "" where nothing is.
    [[nodiscard]] QString typed() const;
    void set_typed(const QString& text);
    void show_value(const casebook::Body& body);

    // Puts what was typed into the values, or unsets the field when it was emptied. False, with the reason shown beside
    // the field, when it does not fit.
    [[nodiscard]] bool put_into(casebook::FieldValues& values, const casebook::Body& before);
    void show_fault(const QString& reason);

signals:
    void edited();

private:
    struct Parsed {
        bool ok = true;
        QString reason;
    };
    void build_entry();
    Parsed parse_into(const QString& text, casebook::FieldValues& values) const;

    const casebook::Field* field_;
    QString currency_;
    QLineEdit* line_ = nullptr;
    QPlainTextEdit* paragraphs_ = nullptr;
    QComboBox* words_ = nullptr;
    QLabel* fault_ = nullptr;
};

// Fields that a person types; places, placements, files and maps have ways of their own.
[[nodiscard]] bool is_typed(const casebook::Field& field);

}  // namespace tedge::desk
