#include "photographs/intake_model.hpp"

#include <algorithm>
#include <array>
#include <tuple>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

bool is_ticked(int column) {
    return column == IntakeModel::scale_column || column == IntakeModel::chart_column;
}

QString word_of(const IntakeRow& row) {
    switch (row.state) {
        case IntakeState::waiting:
            return QObject::tr("waits");
        case IntakeState::taken:
            return row.told.isEmpty() ? QObject::tr("✓ taken in") : QObject::tr("✓ taken in △");
        case IntakeState::already:
            return QObject::tr("✓ was here");
        case IntakeState::refused:
            return QObject::tr("⊘ refused");
    }
    return {};
}

// "waits · 3 Mar 2026, 14:05"
QString state_of(const IntakeRow& row) {
    if (row.taken_at.size() < 16) return word_of(row);
    return QStringLiteral("%1 · %2, %3")
        .arg(word_of(row), day_text(row.taken_at.substr(0, 10)), shown(row.taken_at.substr(11, 5)));
}

QString file_name_of(const IntakeRow& row) {
    return shown(to_utf8(row.wanted.file.filename()));
}

}  // namespace

std::string_view field_of(int column) {
    constexpr std::array<std::string_view, IntakeModel::column_count> fields{"", "face", "light", "stage", "", ""};
    return fields.at(static_cast<std::size_t>(column));
}

void IntakeModel::add(const Uuid& case_id, const std::vector<std::filesystem::path>& files,
                      const usecases::ShotSaid& assumed) {
    if (files.empty()) return;
    const int first = rowCount();
    beginInsertRows({}, first, first + static_cast<int>(files.size()) - 1);
    for (const auto& file : files) {
        IntakeRow row;
        row.wanted.file = file;
        row.wanted.case_id = case_id;
        row.assumed = assumed;
        row.guess();
        rows_.push_back(std::move(row));
    }
    endInsertRows();
}

void IntakeModel::clear() {
    beginResetModel();
    rows_.clear();
    endResetModel();
}

void IntakeModel::put_in_order(Order order) {
    emit layoutAboutToBeChanged();
    order_ = order;
    std::ranges::stable_sort(rows_, {}, [order](const IntakeRow& row) {
        // What says no time comes last, by its name.
        const bool has_time = order == Order::by_time && !row.taken_at.empty();
        return std::tuple(order == Order::by_time && !has_time, has_time ? row.taken_at : std::string(),
                          row.wanted.file);
    });
    emit layoutChanged();
}

void IntakeModel::show_in_one_column(bool is_wanted) {
    if (in_one_column_ == is_wanted) return;
    in_one_column_ = is_wanted;
    emit headerDataChanged(Qt::Horizontal, light_column, light_column);
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

void IntakeModel::set_state(int row, IntakeState state, const QString& told, bool is_damaged) {
    IntakeRow& at = rows_[static_cast<std::size_t>(row)];
    at.state = state;
    at.told = told;
    at.is_damaged = is_damaged;
    tell(row);
}

bool IntakeModel::say(int row, const std::function<void(IntakeRow&)>& what) {
    IntakeRow& at = rows_[static_cast<std::size_t>(row)];
    if (at.state != IntakeState::waiting) return false;
    what(at);
    tell(row);
    return true;
}

void IntakeModel::leave_out(int row) {
    if (rows_[static_cast<std::size_t>(row)].state != IntakeState::waiting) return;
    beginRemoveRows({}, row, row);
    rows_.erase(rows_.begin() + row);
    endRemoveRows();
}

void IntakeModel::looked_at(const std::filesystem::path& file,
                            const std::optional<imaging::PictureCharacter>& character, const std::string& taken_at,
                            const QImage& small) {
    for (int i = 0; i < rowCount(); ++i) {
        IntakeRow& row = rows_[static_cast<std::size_t>(i)];
        if (row.wanted.file != file) continue;
        row.character = character;
        row.taken_at = taken_at;
        row.small = small;
        // Once it is under way, what it was begun with is what is recorded.
        if (row.state == IntakeState::waiting) row.guess();
        tell(i);
    }
}

void IntakeModel::tell(int row) {
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

int IntakeModel::guessed() const {
    return static_cast<int>(std::ranges::count_if(
        rows_, [](const IntakeRow& row) { return row.state == IntakeState::waiting && !row.wanted.guesses.empty(); }));
}

int IntakeModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

int IntakeModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : column_count;
}

QString IntakeModel::word_at(const IntakeRow& row, int column) const {
    if (column == face_column) return spoken(to_text(row.wanted.face));
    if (column == stage_column) return spoken(row.wanted.stage);
    QString light = spoken(row.wanted.light);
    if (!row.wanted.raking_side.empty()) light += QStringLiteral(", ") + spoken(row.wanted.raking_side);
    return light;
}

QString IntakeModel::tip_at(const IntakeRow& row, int column) const {
    if (column == file_column)
        return row.told.isEmpty() ? file_name_of(row) : file_name_of(row) + QStringLiteral(": ") + row.told;
    const QString why = row.why(field_of(column));
    return why.isEmpty() ? word_at(row, column) : tr("%1: a guess, for %2").arg(word_at(row, column), why);
}

QVariant IntakeModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const IntakeRow& row = rows_[static_cast<std::size_t>(index.row())];
    if (is_ticked(index.column())) {
        if (role != Qt::CheckStateRole) return {};
        const bool there = index.column() == scale_column ? row.wanted.has_scale : row.wanted.has_chart;
        return there ? Qt::Checked : Qt::Unchecked;
    }
    const bool is_file = index.column() == file_column;
    switch (role) {
        case Qt::ToolTipRole:
            return tip_at(row, index.column());
        case Qt::DisplayRole:
        case Qt::EditRole:
            return is_file ? file_name_of(row) : word_at(row, index.column());
        case Qt::AccessibleTextRole:
            return is_file ? file_name_of(row) + QStringLiteral(", ") + state_of(row) : tip_at(row, index.column());
        case guess_role:
            return !is_file && row.is_guess(field_of(index.column()));
        case state_role:
            return is_file ? state_of(row) : QString();
        case small_role:
            return row.small;
        default:
            return {};
    }
}

QVariant IntakeModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal) return {};
    const bool is_told = role == Qt::ToolTipRole || role == Qt::AccessibleTextRole;
    if (is_told && section == scale_column) return tr("A scale lies in the picture; a click ticks all");
    if (is_told && section == chart_column) return tr("A colour chart lies in the picture; a click ticks all");
    if (role != Qt::DisplayRole) return {};
    const QString file = order_ == Order::by_time ? tr("By time") : tr("By name");
    // The letters are the keys that tick.
    const std::array<QString, column_count> titles{file,       tr("Face"), in_one_column_ ? tr("Shows") : tr("Light"),
                                                   tr("When"), tr("S"),    tr("C")};
    return titles.at(static_cast<std::size_t>(section));
}

Qt::ItemFlags IntakeModel::flags(const QModelIndex& index) const {
    const Qt::ItemFlags plain_flags = QAbstractTableModel::flags(index);
    const bool waits = rows_[static_cast<std::size_t>(index.row())].state == IntakeState::waiting;
    if (waits && is_ticked(index.column())) return plain_flags | Qt::ItemIsUserCheckable;
    return waits && !field_of(index.column()).empty() ? plain_flags | Qt::ItemIsEditable : plain_flags;
}

bool IntakeModel::setData(const QModelIndex& index, const QVariant& value, int role) {
    IntakeRow& row = rows_[static_cast<std::size_t>(index.row())];
    if (role == Qt::CheckStateRole && flags(index).testFlag(Qt::ItemIsUserCheckable)) {
        bool& there = index.column() == scale_column ? row.wanted.has_scale : row.wanted.has_chart;
        there = value.toInt() == Qt::Checked;
        emit dataChanged(index, index);
        return true;
    }
    if (role != Qt::EditRole || !flags(index).testFlag(Qt::ItemIsEditable)) return false;
    const std::string word = plain(value.toString());
    return say(index.row(), [&](IntakeRow& said) {
        if (index.column() == face_column) said.said.face = parse_face(word).value_or(said.wanted.face);
        if (index.column() == stage_column) said.said.stage = word;
        if (index.column() == light_column) return said.say_light(word);
        said.guess();
    });
}

}  // namespace tedge::desk
