// Under the easel: what is being laid over what, how far, and how well it went.
#pragma once

#include <QWidget>
#include <map>

#include "photographs/laying.hpp"

class QLabel;
class QProgressBar;
class QPushButton;

namespace tedge::desk {

class LayingBar : public QWidget {
    Q_OBJECT

public:
    explicit LayingBar(BookSession& session, QWidget* parent = nullptr);
    void begin(const casebook::CaseSnapshot& snapshot, const LayingChoice& choice);
    [[nodiscard]] bool running() const { return laying_.running(); }
    [[nodiscard]] QString report() const;

signals:
    // The last one that lies over the reference now: worth a look beside it.
    void laid_over(const tedge::Uuid& reference, const tedge::Uuid& photograph);

private:
    void show_result(const Uuid& photograph, const usecases::RegisteredPhotograph& result);
    void show_refusal(const Uuid& photograph, const Error& error);
    void finish(bool was_cancelled);
    void show_report();

    BookSession& session_;
    std::map<Uuid, QString> names_;
    Uuid reference_;
    QStringList lines_;
    int laid_ = 0;
    int refused_ = 0;
    std::optional<Uuid> last_laid_;
    QLabel* doing_;
    QLabel* report_;
    QProgressBar* bar_;
    QPushButton* cancel_;
    QPushButton* close_;
    Laying laying_;
};

}  // namespace tedge::desk
