// "Again on the same passage": the next trial, begun from the last one there by one touch.
#pragma once

#include <QWidget>

#include "tedge/usecases/next_trial.hpp"

class QVBoxLayout;

namespace tedge::desk {

class AgainPanel : public QWidget {
    Q_OBJECT

public:
    explicit AgainPanel(QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);

signals:
    void wanted(const tedge::Uuid& last_trial);

private:
    void add_passage(const usecases::NextTrial& next, const casebook::Record& last);
    QVBoxLayout* column_;
};

}  // namespace tedge::desk
