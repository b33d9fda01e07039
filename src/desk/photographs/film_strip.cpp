#include "photographs/film_strip.hpp"

#include <QKeyEvent>
#include <QMouseEvent>

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize icon_size{104, 72};

QPixmap on_gray(const QImage& image) {
    QPixmap pixmap(icon_size);
    pixmap.fill(picture_surround);
    return image.isNull() ? pixmap
                          : QPixmap::fromImage(image.scaled(icon_size, Qt::KeepAspectRatio, Qt::SmoothTransformation));
}

}  // namespace

FilmStrip::FilmStrip(SmallPictures& pictures, QWidget* parent) : QListWidget(parent), pictures_(pictures) {
    setFlow(QListView::LeftToRight);
    setWrapping(false);
    setViewMode(QListView::IconMode);
    setMovement(QListView::Static);
    setIconSize(icon_size);
    setGridSize({124, 108});
    setFixedHeight(126);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setAccessibleName(tr("Photographs"));
    setToolTip(tr("Enter shows a photograph, Ctrl+Enter or Ctrl+click sets it beside the one shown"));
    connect(&pictures_, &SmallPictures::arrived, this, [this](const Uuid& id) {
        for (int i = 0; i < count(); ++i) {
            if (id_of(item(i)) == id) item(i)->setIcon(on_gray(pictures_.of(id)));
        }
    });
}

void FilmStrip::show_photographs(const std::vector<const casebook::Record*>& photographs) {
    clear();
    for (const casebook::Record* photo : photographs) {
        const QString label = shown(photo->body.text_or("stage") + "\n" + photo->body.text_or("face") + ", " +
                                    photo->body.text_or("light"));
        auto* made = new QListWidgetItem(on_gray(pictures_.of(photo->id)), label, this);
        made->setData(Qt::UserRole, shown(to_text(photo->id)));
        QFont font = text_font();
        font.setPointSizeF(8.5);
        made->setFont(font);
    }
}

std::optional<Uuid> FilmStrip::id_of(const QListWidgetItem* item) const {
    const auto id =
        item != nullptr ? parse_uuid(plain(item->data(Qt::UserRole).toString())) : Expected<Uuid>(fail("", ""));
    return id ? std::optional(*id) : std::nullopt;
}

void FilmStrip::keyPressEvent(QKeyEvent* event) {
    const auto id = id_of(currentItem());
    if (id && (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)) {
        if (event->modifiers().testFlag(Qt::ControlModifier)) {
            emit set_beside(*id);
        } else {
            emit shown_one(*id);
        }
        return;
    }
    QListWidget::keyPressEvent(event);
}

void FilmStrip::mousePressEvent(QMouseEvent* event) {
    QListWidget::mousePressEvent(event);
    const auto id = id_of(itemAt(event->pos()));
    if (!id) return;
    if (event->modifiers().testFlag(Qt::ControlModifier)) {
        emit set_beside(*id);
    } else {
        emit shown_one(*id);
    }
}

}  // namespace tedge::desk
