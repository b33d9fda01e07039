#include "photographs/intake_model.hpp"

#include <QComboBox>
#include <algorithm>
#include <array>

#include "tedge/base/files.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::array<std::string_view, IntakeModel::column_count> fields{"", "", "face", "light", "stage", "", ""};

std::string_view field_of(int column) {
    return fields.at(static_cast<std::size_t>(column));
}

bool is_of_words(int column) {
    return !field_of(column).empty();
}

bool is_ticked(int column) {
    return column == IntakeModel::scale_column || column == IntakeModel::chart_column;
}

QString word_of(IntakeState state, bool has_note) {
    switch (state) {
        case IntakeState::waiting:
            return QObject::tr("waits");
        case IntakeState::taken:
            return has_note ? QObject::tr("✓ taken in △") : QObject::tr("✓ taken in");
        case IntakeState::already:
            return QObject::tr("✓ was here");
        case IntakeState::refused:
            return QObject::tr("⊘ refused");
    }
    return {};
}

QString word_at(const usecases::NewPhotograph& wanted, int column) {
    if (column == IntakeModel::face_column) return shown(to_text(wanted.face));
    return shown(column == IntakeModel::light_column ? wanted.light : wanted.stage);
}

}  // namespace

void IntakeModel::add(const Uuid& case_id, const std::vector<std::filesystem::path>& files) {
    if (files.empty()) return;
    const int first = rowCount();
    beginInsertRows({}, first, first + static_cast<int>(files.size()) - 1);
    for (const auto& file : files) {
        IntakeRow row;
        row.wanted = guess_from_name(file);
        row.wanted.case_id = case_id;
        rows_.push_back(std::move(row));
    }
    endInsertRows();
}

void IntakeModel::clear() {
    beginResetModel();
    rows_.clear();
    endResetModel();
}

void IntakeModel::keep_damaged() {
    for (int i = 0; i < rowCount(); ++i) {
        IntakeRow& row = rows_[static_cast<std::size_t>(i)];
        if (row.state != IntakeState::refused || !row.is_damaged) continue;
        row.wanted.keep_damaged = true;
        set_state(i, IntakeState::waiting);
    }
}

void IntakeModel::tick_all(int column) {
    if (!is_ticked(column)) return;
    const std::vector<int> rows = waiting();
    const bool all = std::ranges::all_of(
        rows, [&](int row) { return index(row, column).data(Qt::CheckStateRole).toInt() == Qt::Checked; });
    for (const int row : rows) setData(index(row, column), all ? Qt::Unchecked : Qt::Checked, Qt::CheckStateRole);
}

void IntakeModel::set_state(int row, IntakeState state, const QString& said, bool is_damaged) {
    IntakeRow& at = rows_[static_cast<std::size_t>(row)];
    at.state = state;
    at.said = said;
    at.is_damaged = is_damaged;
    emit dataChanged(index(row, 0), index(row, column_count - 1));
}

std::vector<int> IntakeModel::waiting() const {
    std::vector<int> found;
    for (int i = 0; i < rowCount(); ++i) {
        if (rows_[static_cast<std::size_t>(i)].state == IntakeState::waiting) found.push_back(i);
    }
    return found;
}

int IntakeModel::count(IntakeState state) const {
    return static_cast<int>(std::ranges::count(rows_, state, &IntakeRow::state));
}

int IntakeModel::damaged() const {
    return static_cast<int>(std::ranges::count_if(
        rows_, [](const IntakeRow& row) { return row.state == IntakeState::refused && row.is_damaged; }));
}

int IntakeModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

int IntakeModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : column_count;
}

QVariant IntakeModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const IntakeRow& row = rows_[static_cast<std::size_t>(index.row())];
    const QString name = shown(to_utf8(row.wanted.file.filename()));
    if (is_ticked(index.column())) {
        if (role != Qt::CheckStateRole) return {};
        const bool there = index.column() == scale_column ? row.wanted.has_scale : row.wanted.has_chart;
        return there ? Qt::Checked : Qt::Unchecked;
    }
    if (role == Qt::ToolTipRole) return row.said.isEmpty() ? name : name + QStringLiteral(": ") + row.said;
    if (role != Qt::DisplayRole && role != Qt::EditRole) return {};
    if (index.column() == state_column) return word_of(row.state, !row.said.isEmpty());
    return index.column() == file_column ? name : word_at(row.wanted, index.column());
}

QVariant IntakeModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) return {};
    const std::array<QString, column_count> titles{tr("State"), tr("File"),  tr("Face"), tr("Light"),
                                                   tr("When"),  tr("Scale"), tr("Chart")};
    return titles.at(static_cast<std::size_t>(section));
}

Qt::ItemFlags IntakeModel::flags(const QModelIndex& index) const {
    const Qt::ItemFlags plain_flags = QAbstractTableModel::flags(index);
    const bool waits = rows_[static_cast<std::size_t>(index.row())].state == IntakeState::waiting;
    if (waits && is_ticked(index.column())) return plain_flags | Qt::ItemIsUserCheckable;
    return waits && is_of_words(index.column()) ? plain_flags | Qt::ItemIsEditable : plain_flags;
}

bool IntakeModel::setData(const QModelIndex& index, const QVariant& value, int role) {
    usecases::NewPhotograph& wanted = rows_[static_cast<std::size_t>(index.row())].wanted;
    if (role == Qt::CheckStateRole && flags(index).testFlag(Qt::ItemIsUserCheckable)) {
        bool& there = index.column() == scale_column ? wanted.has_scale : wanted.has_chart;
        there = value.toInt() == Qt::Checked;
        emit dataChanged(index, index);
        return true;
    }
    if (role != Qt::EditRole || !flags(index).testFlag(Qt::ItemIsEditable)) return false;
    const std::string word = plain(value.toString());
    if (index.column() == face_column) wanted.face = parse_face(word).value_or(wanted.face);
    if (index.column() == light_column) wanted.light = word;
    if (index.column() == stage_column) wanted.stage = word;
    emit dataChanged(index, index);
    return true;
}

QWidget* WordDelegate::createEditor(QWidget* parent, const QStyleOptionViewItem& /*option*/,
                                    const QModelIndex& index) const {
    if (!is_of_words(index.column())) return nullptr;
    auto* box = new QComboBox(parent);
    const std::string_view field = field_of(index.column());
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field)))
        box->addItem(shown(word));
    box->setAccessibleName(
        tr("%1 of %2").arg(shown(field), index.siblingAtColumn(IntakeModel::file_column).data().toString()));
    return box;
}

void WordDelegate::setEditorData(QWidget* editor, const QModelIndex& index) const {
    qobject_cast<QComboBox*>(editor)->setCurrentText(index.data(Qt::EditRole).toString());
}

void WordDelegate::setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const {
    const QString word = qobject_cast<QComboBox*>(editor)->currentText();
    if (word == index.data(Qt::EditRole).toString()) return;
    model->setData(index, word, Qt::EditRole);
    emit chosen(index, word);
}

}  // namespace tedge::desk
