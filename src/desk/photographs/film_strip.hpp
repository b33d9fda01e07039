// The photographs of the case in small, under the easel: Enter shows one, Ctrl+Enter sets one beside it.
#pragma once

#include <QListWidget>

#include "photographs/small_pictures.hpp"

namespace tedge::desk {

class FilmStrip : public QListWidget {
    Q_OBJECT

public:
    FilmStrip(SmallPictures& pictures, QWidget* parent = nullptr);
    void show_photographs(const std::vector<const casebook::Record*>& photographs);

signals:
    void shown_one(const tedge::Uuid& photograph);
    void set_beside(const tedge::Uuid& photograph);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;

private:
    [[nodiscard]] std::optional<Uuid> id_of(const QListWidgetItem* item) const;
    SmallPictures& pictures_;
};

}  // namespace tedge::desk
