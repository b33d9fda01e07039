// Photographs on their way in: a row each with what it is guessed to show and what became of it.
#pragma once

#include <QAbstractTableModel>
#include <QStyledItemDelegate>
#include <vector>

#include "photographs/intake.hpp"

namespace tedge::desk {

enum class IntakeState { waiting, taken, already, refused };

struct IntakeRow {
    usecases::NewPhotograph wanted;
    IntakeState state = IntakeState::waiting;
    QString said;  // why it was refused; of one that was taken in, what reading left out
    bool is_damaged = false;
};

class IntakeModel : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Column {
        state_column,
        file_column,
        face_column,
        light_column,
        stage_column,
        scale_column,  // ticked where a scale or a colour chart lies in the picture
        chart_column,
        column_count
    };

    using QAbstractTableModel::QAbstractTableModel;
    void add(const Uuid& case_id, const std::vector<std::filesystem::path>& files);
    void clear();
    // Rows that were refused because their file is damaged wait again, to be kept all the same.
    void keep_damaged();
    // Ticks every row that waits, or takes all ticks away where all have one.
    void tick_all(int column);
    void set_state(int row, IntakeState state, const QString& said = {}, bool is_damaged = false);

    [[nodiscard]] const std::vector<IntakeRow>& rows() const { return rows_; }
    [[nodiscard]] std::vector<int> waiting() const;
    [[nodiscard]] int count(IntakeState state) const;
    [[nodiscard]] int damaged() const;

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;

private:
    std::vector<IntakeRow> rows_;
};

// Chooses a word of the field table, by mouse or keyboard.
class WordDelegate : public QStyledItemDelegate {
    Q_OBJECT

public:
    using QStyledItemDelegate::QStyledItemDelegate;
    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    void setEditorData(QWidget* editor, const QModelIndex& index) const override;
    void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override;

signals:
    void chosen(const QModelIndex& index, const QString& word) const;
};

}  // namespace tedge::desk
