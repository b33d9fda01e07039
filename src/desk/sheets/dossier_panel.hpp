// Writing a dossier: for whom, where to; off the GUI thread.
#pragma once

#include <QWidget>
#include <thread>

#include "book_session.hpp"

class QComboBox;
class QLabel;
class QPushButton;

namespace tedge::desk {

class DossierPanel : public QWidget {
    Q_OBJECT

public:
    explicit DossierPanel(BookSession& session, QWidget* parent = nullptr);
    void show_case(const Uuid& case_id) { case_id_ = case_id; }

private:
    void write();
    void work(const std::stop_token& stop, const Uuid& case_id, const std::string& reader,
              const std::filesystem::path& out);
    void finish(const QString& text, bool closed, const QString& pdf);
    BookSession& session_;
    Uuid case_id_;
    QComboBox* reader_;
    QLabel* state_;
    QPushButton* write_;
    QPushButton* open_;
    QString pdf_;
    std::jthread worker_;
};

}  // namespace tedge::desk
