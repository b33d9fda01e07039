// The photographs of a case as a list: two lines each, their small pictures fetched when they are looked at.
#pragma once

#include <QAbstractListModel>
#include <map>
#include <optional>

#include "photographs/small_pictures.hpp"

namespace tedge::desk {

struct StripItem {
    Uuid id;
    QString when;  // "as-received"
    QString what;  // "recto, raking"
    QString tip;   // all of it in words
    bool placed = false;
    bool damaged = false;
    bool has_notes = false;  // reading its file left something out
    friend bool operator==(const StripItem&, const StripItem&) = default;
};

class FilmStripModel : public QAbstractListModel {
    Q_OBJECT

public:
    FilmStripModel(SmallPictures& pictures, QObject* parent);

    // The rows stay where the same photographs are shown again: a choice and the place in the strip are kept.
    void show_photographs(const std::vector<const casebook::Record*>& photographs);
    // Which of them are on the easel; true where the first is another than before.
    bool mark(const std::optional<Uuid>& first, const std::optional<Uuid>& second);

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role) const override;
    [[nodiscard]] const StripItem& item(int row) const { return items_[static_cast<std::size_t>(row)]; }
    [[nodiscard]] int row_of(const Uuid& id) const;  // -1 where it is not there
    [[nodiscard]] QImage small_picture(int row) const { return pictures_.of(item(row).id); }
    // "", "shown", "beside"
    [[nodiscard]] QString place_of(int row) const;

private:
    SmallPictures& pictures_;
    std::vector<StripItem> items_;
    std::map<Uuid, int> rows_;
    std::optional<Uuid> first_;
    std::optional<Uuid> second_;
};

}  // namespace tedge::desk
