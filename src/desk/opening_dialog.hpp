// Which casebook, and who works: asked when the program is started without one. The last one is one key away.
#pragma once

#include <QDialog>
#include <memory>

#include "book_session.hpp"

class QLabel;
class QLineEdit;

namespace tedge::desk {

class OpeningDialog : public QDialog {
    Q_OBJECT

public:
    // Clock and ids must outlive the session that is opened.
    OpeningDialog(Clock& clock, IdSource& ids, const QString& who, QWidget* parent = nullptr);

    void say(const QString& sentence);
    [[nodiscard]] QString note() const;
    // Accepts the dialog when the folder could be opened, otherwise says why not.
    void open_folder(const QString& folder);
    // Makes an empty casebook in a folder that holds none, and opens it.
    void begin_in(const QString& folder);
    [[nodiscard]] std::unique_ptr<BookSession> take_session() { return std::move(session_); }

private:
    void add_button(const QString& text, const QString& tip, void (OpeningDialog::*act)());
    void open_last();
    void ask_to_open();
    void ask_to_begin();

    Clock& clock_;
    IdSource& ids_;
    QString last_;
    QLineEdit* who_ = nullptr;
    QLabel* note_ = nullptr;
    std::unique_ptr<BookSession> session_;
};

}  // namespace tedge::desk
