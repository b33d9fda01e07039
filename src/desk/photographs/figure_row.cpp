#include "photographs/figure_row.hpp"

#include <QLabel>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>

#include "forms/flow_layout.hpp"

namespace tedge::desk {

FigureRow::FigureRow(QWidget* parent)
    : QWidget(parent), text_(new QLabel(this)), beside_(new QLabel(this)), buttons_(new QWidget(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 4);
    column->setSpacing(3);
    for (QLabel* label : {text_, beside_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
        column->addWidget(label);
    }
    beside_->setProperty("role", "faded");
    new FlowLayout(buttons_);
    buttons_->hide();
    column->addWidget(buttons_);
}

QPushButton* FigureRow::add_button(const QString& text, const QString& tip) {
    auto* button = new QPushButton(text, buttons_);
    button->setToolTip(tip);
    buttons_->layout()->addWidget(button);
    return button;
}

void FigureRow::show_words(const FigureWords& words) {
    text_->setText(words.text);
    text_->setProperty("role", role_of(words.tone));
    text_->style()->unpolish(text_);
    text_->style()->polish(text_);
    beside_->setText(words.beside.join(u'\n'));
    beside_->setToolTip(words.sources);
    beside_->setVisible(!words.beside.isEmpty());
}

QString FigureRow::text() const {
    return text_->text();
}

}  // namespace tedge::desk
