#include "forms/entries/list_entry.hpp"

#include <QComboBox>
#include <QEvent>
#include <QLineEdit>
#include <QVBoxLayout>

namespace tedge::desk {

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

ListEntry::ListEntry(QWidget* parent) : Entry(parent), list_(calm_list(this, this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(list_);
}

ListEntry::ListEntry(const QList<Word>& choices, QWidget* parent) : ListEntry(parent) {
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

NameEntry::NameEntry(const QStringList& known, QWidget* parent) : ListEntry(parent) {
    list().setEditable(true);
    list().setInsertPolicy(QComboBox::NoInsert);
    list().addItem(QString());
    list().addItems(known);
    list().lineEdit()->setPlaceholderText(tr("a name"));
    connect(&list(), &QComboBox::editTextChanged, this, &Entry::edited);
}

QString NameEntry::typed() const {
    return list().currentText().trimmed();
}
void NameEntry::set_typed(const QString& text) {
    list().setEditText(text);
}
void NameEntry::set_name(const QString& name) {
    ListEntry::set_name(name);
    list().lineEdit()->setAccessibleName(name);
}

}  // namespace tedge::desk
