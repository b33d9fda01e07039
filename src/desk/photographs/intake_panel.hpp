// Files that were dropped or chosen: a row each with what it is guessed to show, corrected by keyboard, then taken in.
#pragma once

#include <QWidget>
#include <filesystem>
#include <vector>

#include "photographs/intake_model.hpp"

class QLabel;
class QProgressBar;
class QPushButton;
class QTableView;

namespace tedge::desk {

class IntakePanel : public QWidget {
    Q_OBJECT

public:
    IntakePanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const Uuid& case_id);
    void add_files(const std::vector<std::filesystem::path>& dropped);
    void begin();
    void cancel() { intake_.cancel(); }
    void keep_damaged();
    [[nodiscard]] bool running() const { return intake_.running(); }
    [[nodiscard]] IntakeModel& model() { return *model_; }
    [[nodiscard]] QString summary() const;

private:
    void make_layout();
    void connect_intake();
    void choose_files();
    void finish(bool was_cancelled);
    void show_what_can_be_done();
    void choose_for_all(const QModelIndex& index, const QString& word);

    BookSession& session_;
    Uuid case_id_;
    std::vector<int> under_way_;  // rows of the model, as they were handed to the intake
    IntakeModel* model_;
    QTableView* table_;
    QProgressBar* bar_;
    QLabel* doing_;
    QLabel* summary_;
    QPushButton* choose_;
    QPushButton* begin_;
    QPushButton* cancel_;
    QPushButton* keep_;
    Intake intake_;
};

}  // namespace tedge::desk
