// What holds for the house: its name, the currency its accounts are kept in, its country, its private price code.
#pragma once

#include <QWidget>

#include "book_session.hpp"

class QLabel;
class QLineEdit;
class QPushButton;

namespace tedge::desk {

class HouseForm : public QWidget {
    Q_OBJECT

public:
    explicit HouseForm(BookSession& session, QWidget* parent = nullptr);
    void look();

    [[nodiscard]] QLineEdit& currency() { return *currency_; }
    [[nodiscard]] QLineEdit& country() { return *country_; }
    [[nodiscard]] QLineEdit& price_code() { return *price_code_; }
    void save();
    void forget_code();

private:
    BookSession& session_;
    QLineEdit* name_;
    QLineEdit* currency_;
    QLineEdit* country_;
    QLineEdit* price_code_;  // typed anew, never shown
    QPushButton* save_;
    QPushButton* forget_;
    QLabel* told_;
};

}  // namespace tedge::desk
