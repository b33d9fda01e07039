// A bid thought through: what the picture may prove to be, what is wanted, and what that comes to while it is typed.
// After the purchase the same sheet asks what may still be spent, and whether to go on, stop or sell as found.
#pragma once

#include <QTimer>
#include <QWidget>
#include <nlohmann/json.hpp>
#include <optional>

#include "book_session.hpp"
#include "long_work.hpp"
#include "tedge/money/ceiling.hpp"
#include "tedge/usecases/viewing.hpp"

class QCheckBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class PlanForm;
class ProfitChart;
class SwingChart;

class CeilingPanel : public QWidget {
    Q_OBJECT

public:
    explicit CeilingPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

signals:
    void cards_wanted();
    void studied();  // the charts show what is typed

private:
    void build(QVBoxLayout* column);
    void add_acts(QVBoxLayout* column);
    void show_stored_plan();
    // As typed, with what the case's records say; and as it is reckoned, with what nobody has seen.
    [[nodiscard]] Expected<nlohmann::json> plan_typed() const;
    [[nodiscard]] Expected<usecases::WidenedPlan> plan_reckoned() const;
    void reckon();
    void weigh_courses();
    void say(const QString& text, const char* role);
    void show_unseen(const usecases::WidenedPlan& plan);
    void study();  // charts and plans beside one another, off the thread of the window
    void fix();
    void set_beside();
    void exchange();
    void show_beside_acts();

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    std::optional<nlohmann::json> beside_;  // the other plan, as it was typed
    PlanForm* form_;
    QCheckBox* widens_;
    QLabel* unseen_;
    QLabel* headline_;
    QLabel* report_;
    QLabel* courses_;
    QLabel* plans_;
    QLabel* drawn_;  // what the chart shows
    QLabel* moves_;
    ProfitChart* chart_;
    SwingChart* swings_;
    QPushButton* fix_;
    QPushButton* cards_;
    QPushButton* set_beside_;
    QPushButton* exchange_;
    QTimer pause_;  // until the typing rests
    LongWork* work_;
    bool typed_meanwhile_ = false;
};

}  // namespace tedge::desk
