// Photographs on their way in, a row each, in the order of their names or of the camera's clock.
#pragma once

#include <QAbstractTableModel>
#include <functional>
#include <vector>

#include "photographs/intake_row.hpp"

namespace tedge::desk {

class IntakeModel : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Column {
        file_column,  // small picture, name, and what became of it
        face_column,
        light_column,
        stage_column,
        scale_column,  // ticked where a scale or a colour chart lies in the picture
        chart_column,
        column_count
    };
    enum Role {
        guess_role = Qt::UserRole,  // true where the word is only guessed
        state_role,                 // the second line of the file's cell
        small_role                  // QImage, null before the file was looked at
    };
    enum class Order { by_name, by_time };

    using QAbstractTableModel::QAbstractTableModel;
    // `assumed` holds where neither a file's name nor its picture says anything.
    void add(const Uuid& case_id, const std::vector<std::filesystem::path>& files, const usecases::ShotSaid& assumed);
    void clear();
    void put_in_order(Order order);
    [[nodiscard]] Order order() const { return order_; }
    // A narrow sheet: the column of the light holds face and stage as well, a line each.
    void show_in_one_column(bool is_wanted);
    [[nodiscard]] bool in_one_column() const { return in_one_column_; }
    // Rows that were refused because their file is damaged wait again, to be kept all the same.
    void keep_damaged();
    // Ticks every row that waits, or takes all ticks away where all have one.
    void tick_all(int column);
    void set_state(int row, IntakeState state, const QString& told = {}, bool is_damaged = false);
    // What is said of a row that waits; the row guesses the rest anew. False for one that does not wait.
    bool say(int row, const std::function<void(IntakeRow&)>& what);
    void leave_out(int row);
    // What the file looks like, for whichever rows hold it.
    void looked_at(const std::filesystem::path& file, const std::optional<imaging::PictureCharacter>& character,
                   const std::string& taken_at, const QImage& small);

    [[nodiscard]] const std::vector<IntakeRow>& rows() const { return rows_; }
    [[nodiscard]] std::vector<int> waiting() const;
    [[nodiscard]] int count(IntakeState state) const;
    [[nodiscard]] int damaged() const;
    [[nodiscard]] int guessed() const;  // rows that wait with a guess in them

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;

private:
    [[nodiscard]] QString word_at(const IntakeRow& row, int column) const;
    [[nodiscard]] QString tip_at(const IntakeRow& row, int column) const;
    void tell(int row);
    std::vector<IntakeRow> rows_;
    Order order_ = Order::by_name;
    bool in_one_column_ = false;
};

// "face", "light", "stage"; "" for a column that holds no word of the field table.
[[nodiscard]] std::string_view field_of(int column);

}  // namespace tedge::desk
