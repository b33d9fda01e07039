// Somebody else's eyes: questions to send to a viewer, his message taken in, and what nobody has seen yet.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "long_work.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class ViewingPanel : public QWidget {
    Q_OBJECT

public:
    explicit ViewingPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

    // What the buttons do once they know where to and what came.
    void write_brief_into(const QString& folder);
    void take_in(const QString& message);

signals:
    void written();

private:
    void ask_for_folder();
    void ask_for_message();
    void copy_text();
    void say(const QString& text, const char* role);

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    QLabel* seen_;
    QLabel* told_;
    QPushButton* brief_;
    QPushButton* answers_;
    LongWork* work_;
};

}  // namespace tedge::desk
