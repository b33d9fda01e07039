// Who took photographs that are in the case already, and what may be done with them: said of many at once.
#pragma once

#include <QDialog>
#include <vector>

#include "book_session.hpp"

class QLabel;
class QLineEdit;
class QPushButton;

namespace tedge::desk {

class RightsDialog : public QDialog {
    Q_OBJECT

public:
    // What all of them say already stands in the fields.
    RightsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, std::vector<Uuid> photographs,
                 QWidget* parent = nullptr);

    [[nodiscard]] QLineEdit* photographer() { return photographer_; }
    [[nodiscard]] QLineEdit* licence() { return licence_; }

public slots:
    void accept() override;  // said of all or of none; what is left empty stays as it is

private:
    void show_what_all_say(const casebook::CaseSnapshot& snapshot);

    BookSession& session_;
    std::vector<Uuid> photographs_;
    QLineEdit* photographer_;
    QLineEdit* licence_;
    QLabel* fault_;
};

}  // namespace tedge::desk
