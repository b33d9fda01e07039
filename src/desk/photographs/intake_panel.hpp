// Files that were dropped, chosen or shot into a watched folder: a row each with what it is guessed to show, put right
// by keyboard, then taken in.
#pragma once

#include <QWidget>
#include <filesystem>
#include <vector>

#include "photographs/intake.hpp"
#include "photographs/intake_looks.hpp"
#include "photographs/intake_model.hpp"
#include "photographs/watched_folder.hpp"

class QLabel;
class QLineEdit;
class QProgressBar;
class QPushButton;

namespace tedge::desk {

class IntakeTable;

class IntakePanel : public QWidget {
    Q_OBJECT

public:
    IntakePanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const Uuid& case_id);
    void add_files(const std::vector<std::filesystem::path>& dropped);
    void begin();
    void cancel() { intake_.cancel(); }
    void keep_damaged();
    // New pictures in the folder come in by themselves, each as the next shot that is missing.
    void watch(const std::filesystem::path& folder);
    void stop_watching();
    [[nodiscard]] bool watching() const { return watched_.watching(); }
    [[nodiscard]] bool running() const { return intake_.running(); }
    [[nodiscard]] bool looking() const { return looks_.busy(); }
    [[nodiscard]] IntakeModel& model() { return *model_; }
    [[nodiscard]] IntakeTable& table() { return *table_; }
    [[nodiscard]] QString summary() const;

private:
    void make_layout();
    void make_buttons();
    void connect_intake();
    void connect_table();
    void connect_watching();
    void choose_files();
    void choose_watched();
    void add_rows(const std::vector<std::filesystem::path>& files, const usecases::ShotSaid& assumed);
    void shot_came(const std::filesystem::path& file);
    void finish(bool was_cancelled);
    void show_what_can_be_done();
    void choose_for_all(const QModelIndex& index, const QString& word);
    [[nodiscard]] usecases::ShotSaid assumed() const;

    BookSession& session_;
    Uuid case_id_;
    Uuid watched_case_;
    usecases::UsualRights usual_;
    std::vector<std::filesystem::path> under_way_;  // files as they were handed to the intake: rows may be sorted anew
    IntakeModel* model_;
    IntakeTable* table_;
    QLineEdit* photographer_;
    QLineEdit* licence_;
    QProgressBar* bar_;
    QLabel* doing_;
    QLabel* summary_;
    QLabel* keys_;
    QLabel* watched_said_;
    QPushButton* choose_;
    QPushButton* watch_;
    QPushButton* begin_;
    QPushButton* cancel_;
    QPushButton* keep_;
    QWidget* rights_ = nullptr;
    IntakeLooks looks_;
    Intake intake_;
    WatchedFolder watched_;
};

}  // namespace tedge::desk
