#include "photographs/intake_table.hpp"

#include <QHeaderView>
#include <QKeyEvent>
#include <QScrollBar>
#include <algorithm>

#include "photographs/intake_delegate.hpp"
#include "photographs/intake_keys.hpp"

namespace tedge::desk {

namespace {

constexpr int rows_at_a_glance = 8;
constexpr int tick_width = 30;
// Of the width that words may have: the light with its lamp needs most, in two lines where it has to.
constexpr int face_share = 27;
constexpr int light_share = 38;
constexpr int word_width_most = 360;
constexpr int word_width_least = 250;
constexpr int file_width_least = 76;

}  // namespace

IntakeTable::IntakeTable(IntakeModel& model, QWidget* parent) : QTableView(parent), model_(model) {
    setModel(&model);
    setSelectionBehavior(QAbstractItemView::SelectRows);
    setSelectionMode(QAbstractItemView::ExtendedSelection);
    setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed);
    setTextElideMode(Qt::ElideRight);
    setWordWrap(true);
    setTabKeyNavigation(false);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    verticalHeader()->hide();
    verticalHeader()->setDefaultSectionSize(IntakeDelegate::row_height);
    horizontalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    horizontalHeader()->setMinimumSectionSize(20);
    setAccessibleName(tr("Photographs to take in"));
    setAccessibleDescription(keys_in_words());
    connect(horizontalHeader(), &QHeaderView::sectionClicked, this, [this](int column) {
        if (column == IntakeModel::file_column) change_order();
        model_.tick_all(column);
    });
}

std::vector<int> IntakeTable::chosen_rows() const {
    std::vector<int> rows;
    for (const QModelIndex& index : selectionModel()->selectedRows()) rows.push_back(index.row());
    std::ranges::sort(rows);
    return rows;
}

void IntakeTable::say_of_chosen(const std::function<void(IntakeRow&)>& what) {
    for (const int row : chosen_rows()) model_.say(row, what);
}

void IntakeTable::say_as_above() {
    for (const int row : chosen_rows()) {
        if (row == 0) continue;
        const IntakeRow above = model_.rows()[static_cast<std::size_t>(row - 1)];
        model_.say(row, [&](IntakeRow& said) { said.say_as(above); });
    }
}

void IntakeTable::fill_down() {
    const auto rows = chosen_rows();
    if (rows.size() < 2) return;
    const IntakeRow first = model_.rows()[static_cast<std::size_t>(rows.front())];
    say_of_chosen([&](IntakeRow& said) { said.say_as(first); });
}

void IntakeTable::confirm_and_go_on() {
    say_of_chosen([](IntakeRow& row) { row.confirm(); });
    const auto rows = chosen_rows();
    if (!rows.empty() && rows.back() + 1 < model_.rowCount()) selectRow(rows.back() + 1);
}

void IntakeTable::leave_chosen_out() {
    auto rows = chosen_rows();
    const int at = rows.empty() ? 0 : rows.front();
    for (auto row = rows.rbegin(); row != rows.rend(); ++row) model_.leave_out(*row);
    if (model_.rowCount() > 0) selectRow(std::min(at, model_.rowCount() - 1));
}

void IntakeTable::change_order() {
    model_.put_in_order(model_.order() == IntakeModel::Order::by_name ? IntakeModel::Order::by_time
                                                                      : IntakeModel::Order::by_name);
}

bool IntakeTable::handle(const QKeyEvent& key) {
    const auto with = key.modifiers() & ~Qt::KeypadModifier;
    const bool is_return = key.key() == Qt::Key_Return || key.key() == Qt::Key_Enter;
    if (is_return && with == Qt::ControlModifier) {
        emit take_in_wanted();
    } else if (is_return && with == Qt::NoModifier) {
        confirm_and_go_on();
    } else if (key.key() == Qt::Key_Equal) {
        say_as_above();
    } else if (key.key() == Qt::Key_D && with == Qt::NoModifier) {
        fill_down();
    } else if (key.key() == Qt::Key_O && with == Qt::NoModifier) {
        change_order();
    } else if (key.key() == Qt::Key_Delete) {
        leave_chosen_out();
    } else if (const auto act = act_of_key(key)) {
        say_of_chosen(*act);
    } else {
        return false;
    }
    return true;
}

void IntakeTable::keyPressEvent(QKeyEvent* event) {
    if (state() != EditingState && handle(*event)) {
        event->accept();
    } else {
        QTableView::keyPressEvent(event);
    }
}

void IntakeTable::fit_height() {
    const int rows = std::min(model_.rowCount(), rows_at_a_glance);
    setMinimumHeight(horizontalHeader()->sizeHint().height() + rows * IntakeDelegate::row_height + 2 * frameWidth());
    fit_columns();
}

// Everything stands side by side at any width: words give way to the file's name. In a sheet too narrow for that face,
// light and stage stand below each other in one column, which the delegate paints so.
void IntakeTable::fit_columns() {
    const int room = viewport()->width() - 2 * tick_width;
    const bool is_narrow = room < file_width_least + word_width_least;
    setColumnHidden(IntakeModel::face_column, is_narrow);
    setColumnHidden(IntakeModel::stage_column, is_narrow);
    model_.show_in_one_column(is_narrow);
    setColumnWidth(IntakeModel::scale_column, tick_width);
    setColumnWidth(IntakeModel::chart_column, tick_width);
    const int words =
        is_narrow ? std::max(60, room - file_width_least)
                  : std::min(room - file_width_least, std::clamp(room * 62 / 100, word_width_least, word_width_most));
    const int face = is_narrow ? 0 : words * face_share / 100;
    const int light = is_narrow ? words : words * light_share / 100;
    if (!is_narrow) {
        setColumnWidth(IntakeModel::face_column, face);
        setColumnWidth(IntakeModel::stage_column, words - face - light);
    }
    setColumnWidth(IntakeModel::light_column, light);
    setColumnWidth(IntakeModel::file_column, std::max(file_width_least, room - words));
}

void IntakeTable::resizeEvent(QResizeEvent* event) {
    QTableView::resizeEvent(event);
    fit_columns();
}

void IntakeTable::paintEvent(QPaintEvent* event) {
    QTableView::paintEvent(event);
    const int first = std::max(0, rowAt(0));
    const int last = rowAt(viewport()->height() - 1);
    std::vector<int> rows;
    for (int row = first; row <= (last < 0 ? model_.rowCount() - 1 : last); ++row) rows.push_back(row);
    emit rows_in_sight(rows);
}

}  // namespace tedge::desk
