// A bid thought through: terms, what it may prove to be, what is wanted; what it comes to is shown while it is typed.
#pragma once

#include <QWidget>
#include <map>
#include <string>

#include "book_session.hpp"

class QLabel;
class QLineEdit;
class QFormLayout;
class QPushButton;

namespace tedge::desk {

class CeilingPanel : public QWidget {
    Q_OBJECT

public:
    explicit CeilingPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

private:
    void add_line(QFormLayout* form, const char* name, const QString& label, const QString& value);
    [[nodiscard]] std::string plan_json() const;
    void reckon();
    void fix();
    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    std::map<std::string, QLineEdit*> lines_;
    QLabel* report_;
    QPushButton* fix_;
};

}  // namespace tedge::desk
