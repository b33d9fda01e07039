// One thing that is measured of a photograph: what is known of it, and what measures it.
#pragma once

#include <QWidget>

#include "photographs/figure_words.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class FigureRow : public QWidget {
    Q_OBJECT

public:
    explicit FigureRow(QWidget* parent = nullptr);
    // Buttons stand beside one another below the words, in the order in which they were added.
    QPushButton* add_button(const QString& text, const QString& tip);
    void show_words(const FigureWords& words);
    void show_buttons(bool are_shown) { buttons_->setVisible(are_shown); }
    [[nodiscard]] QString text() const;

private:
    QLabel* text_;
    QLabel* beside_;
    QWidget* buttons_;
};

}  // namespace tedge::desk
