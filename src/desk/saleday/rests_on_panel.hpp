// What each outcome of the plan rests on: comparables sold and unsold, their range, and what speaks against them.
#pragma once

#include <QWidget>

#include "book_session.hpp"

class QLabel;

namespace tedge::desk {

class RestsOnPanel : public QWidget {
    Q_OBJECT

public:
    explicit RestsOnPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

private:
    BookSession& session_;
    QLabel* told_;
    bool says_something_ = false;
};

}  // namespace tedge::desk
