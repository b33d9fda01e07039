#include "forms/entries/line_entry.hpp"

#include <QLineEdit>
#include <QPlainTextEdit>
#include <QVBoxLayout>

namespace tedge::desk {

namespace {

constexpr int lines_shown = 4;

QVBoxLayout* column_of(QWidget* owner) {
    auto* column = new QVBoxLayout(owner);
    column->setContentsMargins(0, 0, 0, 0);
    return column;
}

}  // namespace

LineEntry::LineEntry(const QString& hint, QWidget* parent) : Entry(parent), line_(new QLineEdit(this)) {
    column_of(this)->addWidget(line_);
    line_->setPlaceholderText(hint);
    line_->setMinimumHeight(target_px);
    connect(line_, &QLineEdit::textChanged, this, &Entry::edited);
}

QString LineEntry::typed() const {
    return line_->text().trimmed();
}
void LineEntry::set_typed(const QString& text) {
    line_->setText(text);
    line_->setCursorPosition(0);  // the beginning of a long text tells what it is
}
QWidget* LineEntry::focused() const {
    return line_;
}
void LineEntry::set_name(const QString& name) {
    line_->setAccessibleName(name);
}

ParagraphEntry::ParagraphEntry(QWidget* parent) : Entry(parent), paragraphs_(new QPlainTextEdit(this)) {
    column_of(this)->addWidget(paragraphs_);
    paragraphs_->setTabChangesFocus(true);
    paragraphs_->setFixedHeight(lines_shown * paragraphs_->fontMetrics().lineSpacing() + 2 * paragraphs_->frameWidth() +
                                16);
    connect(paragraphs_, &QPlainTextEdit::textChanged, this, &Entry::edited);
}

QString ParagraphEntry::typed() const {
    const QString text = paragraphs_->toPlainText();
    return text.trimmed().isEmpty() ? QString() : text;
}
void ParagraphEntry::set_typed(const QString& text) {
    paragraphs_->setPlainText(text);
}
QWidget* ParagraphEntry::focused() const {
    return paragraphs_;
}
void ParagraphEntry::set_name(const QString& name) {
    paragraphs_->setAccessibleName(name);
}

}  // namespace tedge::desk
