#include "photographs/film_strip_model.hpp"

#include <algorithm>

#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// A picture made from photographs: what it is, and that it is no photograph.
StripItem item_of_made(const casebook::Record& made) {
    StripItem item;
    item.id = made.id;
    item.when = spoken(made.body.text_or("what"));
    item.what = QObject::tr("made from photographs");
    item.placed = casebook::is_placed(made);
    item.tip = item.when + QStringLiteral(" · ") + item.what;
    if (made.body.has("caption")) item.tip += u'\n' + shown(made.body.text_or("caption"));
    return item;
}

StripItem item_of(const casebook::Record& photo) {
    if (casebook::is_made_picture(photo.kind)) return item_of_made(photo);
    StripItem item;
    item.id = photo.id;
    item.when = spoken(photo.body.text_or("stage"));
    item.what = spoken(photo.body.text_or("face")) + QStringLiteral(", ") + spoken(photo.body.text_or("light"));
    item.placed = casebook::is_placed(photo);
    item.damaged = photo.body.has("damaged");
    const bool is_guessed = photo.body.flag("guessed");
    if (is_guessed) item.when += QStringLiteral(" ?");  // as in the table of the intake
    QStringList lines{item.when + QStringLiteral(" · ") + item.what};
    if (is_guessed) lines << QObject::tr("guessed, not confirmed: Photographs, Confirm what was guessed");
    if (photo.body.has("caption")) lines << shown(photo.body.text_or("caption"));
    lines << QObject::tr("%1 × %2 px")
                 .arg(photo.body.integer("width_px").value_or(0))
                 .arg(photo.body.integer("height_px").value_or(0));
    lines << (item.placed ? QObject::tr("placed in millimetres") : QObject::tr("not placed in millimetres"));
    item.has_notes = photo.body.has("read_notes");
    if (item.has_notes) lines << QStringLiteral("△ ") + shown(photo.body.text_or("read_notes"));
    if (item.damaged) lines << QObject::tr("damaged: %1").arg(shown(photo.body.text_or("damaged")));
    lines << QObject::tr("Enter shows it, Ctrl+Enter or Ctrl+click sets it beside, the menu key says what else");
    item.tip = lines.join(u'\n');
    return item;
}

}  // namespace

FilmStripModel::FilmStripModel(SmallPictures& pictures, QObject* parent)
    : QAbstractListModel(parent), pictures_(pictures) {
    connect(&pictures_, &SmallPictures::arrived, this, [this](const Uuid& id) {
        const int row = row_of(id);
        if (row >= 0) emit dataChanged(index(row), index(row), {Qt::DecorationRole});
    });
}

void FilmStripModel::show_photographs(const std::vector<const casebook::Record*>& photographs) {
    std::vector<StripItem> items;
    items.reserve(photographs.size());
    for (const casebook::Record* photo : photographs) items.push_back(item_of(*photo));
    if (items == items_) return;
    if (std::ranges::equal(items, items_, {}, &StripItem::id, &StripItem::id)) {
        items_ = std::move(items);
        emit dataChanged(index(0), index(rowCount() - 1));
        return;
    }
    beginResetModel();
    items_ = std::move(items);
    rows_.clear();
    for (int row = 0; row < rowCount(); ++row) rows_[item(row).id] = row;
    endResetModel();
}

bool FilmStripModel::mark(const std::optional<Uuid>& first, const std::optional<Uuid>& second) {
    if (first_ == first && second_ == second) return false;
    const bool is_other = first_ != first;
    first_ = first;
    second_ = second;
    if (!items_.empty()) emit dataChanged(index(0), index(rowCount() - 1));
    return is_other;
}

int FilmStripModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(items_.size());
}

int FilmStripModel::row_of(const Uuid& id) const {
    const auto found = rows_.find(id);
    return found != rows_.end() ? found->second : -1;
}

QString FilmStripModel::place_of(int row) const {
    if (first_ == item(row).id) return tr("shown");
    if (second_ == item(row).id) return tr("beside");
    return {};
}

QVariant FilmStripModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const StripItem& at = item(index.row());
    if (role == Qt::DisplayRole) return at.when + u' ' + at.what;
    if (role == Qt::ToolTipRole) return at.tip;
    if (role == Qt::AccessibleTextRole) {
        QStringList words{at.when, at.what, at.placed ? tr("placed") : tr("not placed")};
        if (at.has_notes) words << tr("with a note on its file");
        if (const QString place = place_of(index.row()); !place.isEmpty()) words << place;
        return words.join(QStringLiteral(", "));
    }
    return {};
}

}  // namespace tedge::desk
