// What each treatment may cost, proposed from the picture's size, what was found and what past cases came to.
#pragma once

#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "tedge/usecases/costs.hpp"

class QLabel;
class QLineEdit;
class QPushButton;

namespace tedge::desk {

class SuggestedCosts : public QWidget {
    Q_OBJECT

public:
    explicit SuggestedCosts(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

signals:
    void price_book_wanted();  // what past cases came to

private:
    void suggest();
    void record();
    void say(const QString& text, const char* role);

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    std::vector<usecases::SuggestedCost> suggested_;
    std::optional<Currency> currency_;
    QLineEdit* rate_;
    QLabel* told_;
    QPushButton* record_;
};

}  // namespace tedge::desk
