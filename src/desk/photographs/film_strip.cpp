#include "photographs/film_strip.hpp"

#include <QContextMenuEvent>
#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QScrollBar>
#include <algorithm>
#include <array>

#include "photographs/strip_delegate.hpp"

namespace tedge::desk {

namespace {

constexpr int picture_height = 64;
constexpr int low_picture_height = 40;

}  // namespace

FilmStrip::FilmStrip(SmallPictures& pictures, QWidget* parent)
    : QListView(parent), model_(new FilmStripModel(pictures, this)), delegate_(new StripDelegate(this)) {
    setModel(model_);
    setItemDelegate(delegate_);
    setFlow(QListView::LeftToRight);
    setWrapping(false);
    setUniformItemSizes(true);  // two hundred photographs are laid out as one
    setSpacing(1);
    setSelectionMode(QAbstractItemView::ExtendedSelection);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setAccessibleName(tr("Photographs"));
    set_low(false);
    connect(selectionModel(), &QItemSelectionModel::selectionChanged, this, &FilmStrip::chosen_changed);
}

void FilmStrip::set_low(bool low) {
    delegate_->set_picture_height(low ? low_picture_height : picture_height);
    const QSize item = delegate_->sizeHint({}, {});
    setFixedHeight(item.height() + horizontalScrollBar()->sizeHint().height() + 14);
    scheduleDelayedItemsLayout();
}

void FilmStrip::show_photographs(const std::vector<const casebook::Record*>& photographs) {
    const auto current = id_of(currentIndex());
    const std::optional<Uuid> came = newest_of(photographs);
    model_->show_photographs(photographs);
    if (current && !currentIndex().isValid()) choose(*current);
    if (!came) return;
    const auto go_there = [this, id = *came] {
        executeDelayedItemsLayout();
        if (const int row = model_->row_of(id); row >= 0) scrollTo(model_->index(row));
    };
    go_there();
    // A list that was filled anew goes to what is chosen when it is next laid out: after that, once more.
    QMetaObject::invokeMethod(this, go_there, Qt::QueuedConnection);
}

// The last of those that came to the ones that were there. Another case's are no newcomers.
std::optional<Uuid> FilmStrip::newest_of(const std::vector<const casebook::Record*>& photographs) const {
    const auto is_here = [&](const casebook::Record* photo) { return model_->row_of(photo->id) >= 0; };
    if (std::ranges::none_of(photographs, is_here)) return std::nullopt;
    const auto came = std::ranges::find_if_not(photographs.rbegin(), photographs.rend(), is_here);
    return came != photographs.rend() ? std::optional((*came)->id) : std::nullopt;
}

void FilmStrip::mark(const std::optional<Uuid>& first, const std::optional<Uuid>& second) {
    const bool is_other = model_->mark(first, second);
    // What stands on the easel is in sight; what was chosen with it stays chosen.
    const auto kept = chosen();
    const bool is_chosen = first && std::ranges::find(kept, *first) != kept.end();
    if (first && is_other && !is_chosen) choose(*first);
}

void FilmStrip::choose(const Uuid& photograph) {
    const int row = model_->row_of(photograph);
    if (row >= 0) setCurrentIndex(model_->index(row));
}

std::vector<Uuid> FilmStrip::chosen() const {
    std::vector<Uuid> ids;
    for (int row = 0; row < model_->rowCount(); ++row) {
        if (selectionModel()->isSelected(model_->index(row))) ids.push_back(model_->item(row).id);
    }
    return ids;
}

std::optional<Uuid> FilmStrip::id_of(const QModelIndex& index) const {
    return index.isValid() ? std::optional(model_->item(index.row()).id) : std::nullopt;
}

void FilmStrip::tell(const QModelIndex& index, Qt::KeyboardModifiers modifiers) {
    const auto id = id_of(index);
    if (!id || modifiers.testFlag(Qt::ShiftModifier)) return;
    if (modifiers.testFlag(Qt::ControlModifier)) {
        emit set_beside(*id);
    } else {
        emit shown_one(*id);
    }
}

void FilmStrip::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)
        return tell(currentIndex(), event->modifiers());
    if (!passed_on(event)) QListView::keyPressEvent(event);
}

void FilmStrip::keyReleaseEvent(QKeyEvent* event) {
    if (!passed_on(event)) QListView::keyReleaseEvent(event);
}

bool FilmStrip::passed_on(QKeyEvent* event) {
    constexpr std::array of_the_picture{Qt::Key_V, Qt::Key_H, Qt::Key_T,    Qt::Key_D,     Qt::Key_C,    Qt::Key_P,
                                        Qt::Key_F, Qt::Key_0, Qt::Key_Plus, Qt::Key_Equal, Qt::Key_Minus};
    const bool is_plain = (event->modifiers() & ~Qt::ShiftModifier) == Qt::NoModifier;
    if (picture_ == nullptr || !is_plain || std::ranges::find(of_the_picture, event->key()) == of_the_picture.end())
        return false;
    QCoreApplication::sendEvent(picture_, event);
    return true;
}

void FilmStrip::mousePressEvent(QMouseEvent* event) {
    const QModelIndex at = indexAt(event->pos());
    const bool beside = event->modifiers().testFlag(Qt::ControlModifier);
    // Setting one beside leaves the choice as it is.
    if (!beside) QListView::mousePressEvent(event);
    if (event->button() == Qt::LeftButton) tell(at, event->modifiers());
}

void FilmStrip::contextMenuEvent(QContextMenuEvent* event) {
    const bool by_key = event->reason() == QContextMenuEvent::Keyboard;
    const QModelIndex at = by_key ? currentIndex() : indexAt(event->pos());
    const QPoint where = by_key ? viewport()->mapToGlobal(visualRect(at).center()) : event->globalPos();
    if (const auto id = id_of(at)) emit menu_wanted(*id, where);
}

}  // namespace tedge::desk
