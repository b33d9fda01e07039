// The photographs of the case in small, under the easel: Enter shows one, Ctrl+Enter sets one beside it, Shift chooses
// several, the menu key says what else can be done with them.
#pragma once

#include <QListView>

#include "photographs/film_strip_model.hpp"

namespace tedge::desk {

class StripDelegate;

class FilmStrip : public QListView {
    Q_OBJECT

public:
    FilmStrip(SmallPictures& pictures, QWidget* parent = nullptr);
    void show_photographs(const std::vector<const casebook::Record*>& photographs);
    void mark(const std::optional<Uuid>& first, const std::optional<Uuid>& second);
    void choose(const Uuid& photograph);
    [[nodiscard]] std::vector<Uuid> chosen() const;
    [[nodiscard]] FilmStripModel& photographs() { return *model_; }
    // Keys that turn, compare and zoom hold after a click in the strip too: they go on to the picture.
    void pass_keys_to(QWidget* picture) { picture_ = picture; }
    // Lower pictures where there is little room.
    void set_low(bool low);

signals:
    void shown_one(const tedge::Uuid& photograph);
    void set_beside(const tedge::Uuid& photograph);
    void menu_wanted(const tedge::Uuid& photograph, const QPoint& at);  // on the screen
    void chosen_changed();

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void keyReleaseEvent(QKeyEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;

private:
    [[nodiscard]] std::optional<Uuid> id_of(const QModelIndex& index) const;
    [[nodiscard]] std::optional<Uuid> newest_of(const std::vector<const casebook::Record*>& photographs) const;
    void tell(const QModelIndex& index, Qt::KeyboardModifiers modifiers);
    [[nodiscard]] bool passed_on(QKeyEvent* event);
    FilmStripModel* model_;
    StripDelegate* delegate_;
    QWidget* picture_ = nullptr;
};

}  // namespace tedge::desk
