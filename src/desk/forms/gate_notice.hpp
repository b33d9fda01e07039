// What stands in the way of an act, said before it and when it is refused: the sentence, what opens it, the sheet where
// that is done, and the way past it by name and reason.
#pragma once

#include <QWidget>
#include <vector>

#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/records.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

// A requirement that closes a gate or warns, with the gate it belongs to.
struct InTheWay {
    int gate = 0;
    casebook::Requirement requirement;
};

class GateNotice : public QWidget {
    Q_OBJECT

public:
    explicit GateNotice(QWidget* parent = nullptr);

    // Only the sheet that the form itself stands on needs no button to get there.
    void set_own_sheet(usecases::Stage stage) { own_ = stage; }
    // The way past a closed gate is offered when the act is refused, not before: first comes what would open it.
    enum class Said { before_the_act, when_refused };
    void show_answers(const std::vector<casebook::GateAnswer>& answers, Said said);
    // A refusal that no gate explains: full disk, read-only book, deleted record …
    void show_error(const Error& error);
    void clear();
    [[nodiscard]] const std::vector<InTheWay>& closing() const { return closing_; }

signals:
    void sheet_wanted(tedge::usecases::Stage stage);
    void override_wanted();

private:
    void say(const char* role, const QString& text);
    void offer_sheet(const casebook::Requirement& first);

    std::optional<usecases::Stage> own_;
    std::optional<usecases::Stage> leads_to_;
    std::vector<InTheWay> closing_;
    QLabel* sentence_;
    QPushButton* go_;
    QPushButton* override_;
};

[[nodiscard]] std::optional<usecases::Stage> stage_named(std::string_view sheet);

}  // namespace tedge::desk
