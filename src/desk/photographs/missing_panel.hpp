// What is still missing: the shots of the case's list that nobody has taken yet, each with what to do, and guesses that
// wait to be confirmed.
#pragma once

#include <QWidget>

#include "book_session.hpp"
#include "tedge/usecases/shot_list.hpp"

class QLabel;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class MissingPanel : public QWidget {
    Q_OBJECT

public:
    MissingPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);
    // A shot is not needed, for the reason given: it goes from the list of this case.
    void not_needed(const usecases::Shot& shot, const QString& why);
    void confirm_guesses();

private:
    void add_shot(const usecases::ListedShot& shot);
    void ask_why_not(const usecases::Shot& shot);
    void show_list();
    BookSession& session_;
    Uuid case_id_;
    usecases::ShotList list_;
    std::vector<Uuid> guessed_;
    bool is_open_ = false;  // all rows, not the first few
    QLabel* head_;
    QLabel* caution_;
    QWidget* shots_ = nullptr;
    QVBoxLayout* column_;
    QPushButton* confirm_;
    QPushButton* more_;
};

}  // namespace tedge::desk
