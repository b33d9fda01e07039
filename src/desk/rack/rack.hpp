// The rack: all pictures, searched and chosen; below them what today asks for.
#pragma once

#include <QWidget>

#include "rack/rack_model.hpp"

class QLabel;
class QLineEdit;
class QListView;

namespace tedge::desk {

class Rack : public QWidget {
    Q_OBJECT

public:
    Rack(BookSession& session, SmallPictures& pictures, QWidget* parent = nullptr);
    void choose(const Uuid& case_id);
    void focus_search();

signals:
    void chosen(const tedge::Uuid& case_id);
    void new_case_wanted();
    void deadlines_wanted();
    void people_wanted();
    void house_wanted();

private:
    void show_today();
    void restore_choice();
    RackModel* model_;
    QListView* list_;
    QLineEdit* search_;
    QLabel* today_;
    std::optional<Uuid> chosen_;
};

}  // namespace tedge::desk
