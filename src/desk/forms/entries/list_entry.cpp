#include "forms/entries/list_entry.hpp"

#include <QComboBox>
#include <QEvent>
#include <QLineEdit>
#include <QVBoxLayout>

namespace tedge::desk {

namespace {

void put_in_column(QWidget* owner, QWidget* inside) {
    auto* column = new QVBoxLayout(owner);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(inside);
}

}  // namespace

QComboBox* calm_list(QObject* filter, QWidget* parent) {
    auto* list = new QComboBox(parent);
    list->setMinimumHeight(target_px);
    list->setFocusPolicy(Qt::StrongFocus);
    // Long names are cut in the list's head, not allowed to widen the sheet.
    list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    list->setMinimumContentsLength(6);
    list->installEventFilter(filter);
    return list;
}

bool is_idle_wheel(const QObject* watched, const QEvent* event) {
    const auto* widget = qobject_cast<const QWidget*>(watched);
    return event->type() == QEvent::Wheel && widget != nullptr && !widget->hasFocus();
}

ListEntry::ListEntry(const QList<Word>& choices, QWidget* parent) : Entry(parent), list_(calm_list(this, this)) {
    put_in_column(this, list_);
    list_->addItem(tr("not said"), QString());
    for (const Word& choice : choices) list_->addItem(choice.said, choice.stored);
    connect(list_, &QComboBox::currentIndexChanged, this, &Entry::edited);
}

bool ListEntry::eventFilter(QObject* watched, QEvent* event) {
    if (!is_idle_wheel(watched, event)) return Entry::eventFilter(watched, event);
    event->ignore();
    return true;
}

QString ListEntry::typed() const {
    return list_->currentData().toString();
}
void ListEntry::set_typed(const QString& text) {
    const int found = list_->findData(text);
    if (found < 0) list_->addItem(tr("one that is not here any more"), text);
    list_->setCurrentIndex(list_->findData(text));
}
QWidget* ListEntry::focused() const {
    return list_;
}
void ListEntry::set_name(const QString& name) {
    list_->setAccessibleName(name);
}

NameEntry::NameEntry(const QStringList& known, QWidget* parent) : Entry(parent), list_(calm_list(this, this)) {
    put_in_column(this, list_);
    list_->setEditable(true);
    list_->setInsertPolicy(QComboBox::NoInsert);
    list_->addItem(QString());
    list_->addItems(known);
    list_->lineEdit()->setPlaceholderText(tr("a name"));
    connect(list_, &QComboBox::editTextChanged, this, &Entry::edited);
}

bool NameEntry::eventFilter(QObject* watched, QEvent* event) {
    if (!is_idle_wheel(watched, event)) return Entry::eventFilter(watched, event);
    event->ignore();
    return true;
}

QString NameEntry::typed() const {
    return list_->currentText().trimmed();
}
void NameEntry::set_typed(const QString& text) {
    list_->setEditText(text);
}
QWidget* NameEntry::focused() const {
    return list_;
}
void NameEntry::set_name(const QString& name) {
    list_->setAccessibleName(name);
    list_->lineEdit()->setAccessibleName(name);
}

}  // namespace tedge::desk
