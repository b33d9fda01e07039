// The dossier of a case: for whom, what stands in its way, making its pages, and what is done with them then.
#pragma once

#include <QTimer>
#include <QWidget>
#include <functional>
#include <optional>

#include "sheets/dossier_work.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "tedge/usecases/cases.hpp"

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class DossierPanel : public QWidget {
    Q_OBJECT

public:
    explicit DossierPanel(BookSession& session, QWidget* parent = nullptr);

    void show_case(const casebook::CaseSnapshot& snapshot);
    void choose_reader(casebook::Reader reader);
    [[nodiscard]] casebook::Reader reader() const;
    void make();
    // The same although gate 22 is closed, by what a named person lets pass.
    void make_passing(const std::vector<usecases::Override>& overrides);
    // What closes the gate for this reader as far as it is known; it may be let pass by name and reason.
    [[nodiscard]] const std::vector<InTheWay>& closing() const { return closing_; }
    [[nodiscard]] bool working() const { return work_.running() || asking_.running(); }
    [[nodiscard]] const std::optional<MadeDossier>& made() const { return made_; }
    [[nodiscard]] QString state() const;

    // With a place to put it, the dialog is not asked.
    void save_pdf_as(const QString& file);
    void save_bag_in(const QString& folder);
    void print_on(const std::shared_ptr<QPrinter>& printer);

public slots:
    void save_pdf();
    void save_bag();
    void print();
    void ask_for_override();

signals:
    void pages_made(const QString& pdf);
    void pages_gone();
    void sheet_wanted(tedge::usecases::Stage stage);
    void record_wanted(const tedge::Uuid& record);

protected:
    void showEvent(QShowEvent* event) override;

private:
    void make_layout();
    void make_acts();
    void connect_all();
    // dossier_panel_gate.cpp
    void ask_gate();
    void show_missing(const std::vector<InTheWay>& missing);
    void show_requirement(const casebook::Requirement& requirement);
    void show_way_past();
    void add_way(const QString& text, const std::function<void()>& act);
    void show_leak(const Error& error);
    void tell_refusal_once();
    // dossier_panel.cpp
    void work_on(const QString& what, LongWork::Act act);
    void finish_making(const Expected<MadeDossier>& made);
    void tell(const Expected<void>& result, const QString& done);
    void drop_pages();
    void say(const QString& text, const char* role);
    void say_error(const Error& error);
    void show_what_can_be_done();
    [[nodiscard]] bool may_be_seen() const;

    BookSession& session_;
    Uuid case_id_;
    Instant newest_;  // of the case's records
    std::size_t records_ = 0;
    std::vector<InTheWay> closing_;
    std::vector<InTheWay> let_pass_;  // by name and reason, for the pages being made
    std::string refused_;             // why the last act was, while that is what is said
    std::optional<MadeDossier> made_;
    QComboBox* reader_;
    QVBoxLayout* missing_;
    QPushButton* make_;
    QLabel* doing_;
    QProgressBar* bar_;
    QPushButton* cancel_;
    QLabel* state_;
    QLabel* stale_;
    QWidget* acts_;
    QTimer ask_soon_;
    bool asked_ = false;
    LongWork work_;
    LongWork asking_;
};

}  // namespace tedge::desk
