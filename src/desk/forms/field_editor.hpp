// One field of a form: label with unit, the entry for its type, what was written there before to be tapped, and beside
// it, while typing, what was understood or what is wrong.
#pragma once

#include <QWidget>

#include "forms/typed_value.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class Entry;

class FieldEditor : public QWidget {
    Q_OBJECT

public:
    // `offered`: texts to take by one touch.
    FieldEditor(const casebook::Field& field, const FormContext& context, const QStringList& offered,
                QWidget* parent = nullptr);

    [[nodiscard]] const casebook::Field& field() const { return *field_; }
    [[nodiscard]] QWidget* entry() const;  // what takes the focus

    // As typed; "" where nothing is.
    [[nodiscard]] QString typed() const;
    void set_typed(const QString& text);
    // Shows the value; typing is what differs from it.
    void show_value(const casebook::Body& body);
    // The same clock time in another zone is another moment.
    [[nodiscard]] bool touched() const { return typed() != shown_ || is_moved_by_zone(); }
    // The zone of the form's moments is another one.
    void look_again() { show_remark(); }

    // Puts what was typed into the values, or unsets the field when it was emptied. False, with the reason shown beside
    // the field, when it does not fit.
    [[nodiscard]] bool put_into(casebook::FieldValues& values);
    // The same without a word: what can be read so far.
    void put_what_fits_into(casebook::FieldValues& values) const;
    // A name that the casebook does not know yet, "" for none.
    [[nodiscard]] QString new_person() const;
    // The path of a file that the casebook does not hold yet, "" for none.
    [[nodiscard]] QString new_file() const;
    void show_fault(const QString& reason);
    [[nodiscard]] QString fault() const;
    void set_read_only();

signals:
    void edited();

private:
    [[nodiscard]] QPushButton* offer(const QString& text, QWidget* parent);
    void add_offers(const QStringList& offered);
    [[nodiscard]] Typed read(casebook::FieldValues& values) const;
    void show_remark();
    [[nodiscard]] bool is_moved_by_zone() const;

    const casebook::Field* field_;
    const FormContext* context_;
    QString shown_;
    QString shown_zone_;
    Entry* entry_;
    QList<QPushButton*> offers_;
    QLabel* remark_;
    bool has_fault_ = false;
};

// "Width (mm) *"
[[nodiscard]] QString label_of(const casebook::Field& field, const FormContext& context);

}  // namespace tedge::desk
