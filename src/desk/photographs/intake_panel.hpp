// Files that were dropped or chosen: a row each with what it is guessed to show, corrected by keyboard, then taken in.
#pragma once

#include <QWidget>
#include <filesystem>
#include <vector>

#include "photographs/intake.hpp"

class QLabel;
class QProgressBar;
class QPushButton;
class QTableWidget;

namespace tedge::desk {

class IntakePanel : public QWidget {
    Q_OBJECT

public:
    IntakePanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const Uuid& case_id) { case_id_ = case_id; }
    void add_files(const std::vector<std::filesystem::path>& files);

private:
    void choose_files();
    void begin();
    void set_state(int row, const QString& text);
    [[nodiscard]] std::vector<usecases::NewPhotograph> wanted() const;

    BookSession& session_;
    Uuid case_id_;
    std::vector<std::filesystem::path> files_;
    QTableWidget* table_;
    QProgressBar* bar_;
    QLabel* doing_;
    QPushButton* begin_;
    QPushButton* cancel_;
    Intake intake_;
};

}  // namespace tedge::desk
