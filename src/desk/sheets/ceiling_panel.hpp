// A bid thought through: terms, what it may prove to be, what is wanted; what it comes to is shown while it is typed.
#pragma once

#include <QWidget>
#include <map>
#include <string>

#include "book_session.hpp"

class QComboBox;
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

protected:
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void add_line(QFormLayout* form, const char* name, const QString& label, const QString& value);
    [[nodiscard]] Expected<std::string> plan_json() const;
    void show_terms();  // those of the lot, in place of the two lines
    void reckon();
    void fix();
    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    std::map<std::string, QLineEdit*> lines_;
    QFormLayout* form_ = nullptr;
    QComboBox* currency_ = nullptr;
    QLabel* terms_ = nullptr;
    QLabel* report_;
    QPushButton* fix_;
};

}  // namespace tedge::desk
