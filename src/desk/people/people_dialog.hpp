// Everybody the casebook names, with firm and address: looked up, put right, added. Nobody's business while a client
// looks.
#pragma once

#include <QDialog>

#include "forms/record_form.hpp"

class QLineEdit;
class QListWidget;

namespace tedge::desk {

class PeopleDialog : public QDialog {
    Q_OBJECT

public:
    PeopleDialog(BookSession& session, Drafts& drafts, QWidget* parent = nullptr);

    [[nodiscard]] QListWidget& list() { return *list_; }
    [[nodiscard]] RecordForm& form() { return *form_; }
    void begin_new();
    void open_person(const Uuid& person);

private:
    void make_layout();
    void read_again();
    void narrow(const QString& words);
    void choose(const Uuid& person);

    BookSession& session_;
    QLineEdit* search_;
    QListWidget* list_;
    QWidget* none_;
    RecordForm* form_;
};

// "Ute Hain · restorer · Hain & Daughter"
[[nodiscard]] QString person_line(const casebook::Body& person);

}  // namespace tedge::desk
