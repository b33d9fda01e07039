#include "forms/entries/amount_entry.hpp"

#include <QComboBox>
#include <QEvent>
#include <QGridLayout>
#include <QLineEdit>
#include <QRegularExpressionValidator>

#include "forms/entries/list_entry.hpp"

namespace tedge::desk {

namespace {

constexpr int parts_of_an_estimate = 3;
constexpr int narrow_px = 340;

}  // namespace

QComboBox* currency_list(QObject* filter, const QString& proposed, QWidget* parent) {
    QComboBox* list = calm_list(filter, parent);
    list->setEditable(true);
    list->setInsertPolicy(QComboBox::NoInsert);
    list->setMinimumContentsLength(4);
    list->addItems({QStringLiteral("GBP"), QStringLiteral("EUR"), QStringLiteral("USD"), QStringLiteral("CHF"),
                    QStringLiteral("SEK"), QStringLiteral("DKK"), QStringLiteral("NOK"), QStringLiteral("CZK"),
                    QStringLiteral("PLN"), QStringLiteral("JPY"), QStringLiteral("CNY"), QStringLiteral("HKD"),
                    QStringLiteral("AUD"), QStringLiteral("CAD")});
    list->lineEdit()->setValidator(
        new QRegularExpressionValidator(QRegularExpression(QStringLiteral("[A-Za-z]{3}")), list));
    list->setEditText(proposed);
    return list;
}

AmountEntry::AmountEntry(bool is_estimate, QString proposed_currency, QWidget* parent)
    : Entry(parent), proposed_(std::move(proposed_currency)), currency_(currency_list(this, proposed_, this)) {
    row_ = new QGridLayout(this);
    row_->setContentsMargins(0, 0, 0, 0);
    row_->setSpacing(6);
    const QStringList hints = is_estimate ? QStringList{tr("low"), tr("likely"), tr("high")} : QStringList{QString()};
    for (const QString& hint : hints) {
        auto* figure = new QLineEdit(this);
        figure->setPlaceholderText(hint);
        figure->setMinimumHeight(target_px);
        figure->setMinimumWidth(40);
        connect(figure, &QLineEdit::textChanged, this, &Entry::edited);
        row_->addWidget(figure, 0, static_cast<int>(figures_.size()));
        row_->setColumnStretch(static_cast<int>(figures_.size()), 1);
        figures_ << figure;
    }
    // As it is read: the figures, then what they are in.
    for (qsizetype i = 1; i < figures_.size(); ++i) setTabOrder(figures_[i - 1], figures_[i]);
    setTabOrder(figures_.back(), currency_);
    place_currency();
    connect(currency_, &QComboBox::editTextChanged, this, &Entry::edited);
}

// Three figures and a currency want more than a narrow sheet has in one line.
void AmountEntry::place_currency() {
    const bool below = figures_.size() == parts_of_an_estimate && width() < narrow_px;
    if (below == (row_->itemAtPosition(1, 0) != nullptr) && row_->indexOf(currency_) >= 0) return;
    row_->removeWidget(currency_);
    row_->addWidget(currency_, below ? 1 : 0, below ? 0 : static_cast<int>(figures_.size()));
}

void AmountEntry::resizeEvent(QResizeEvent* event) {
    Entry::resizeEvent(event);
    place_currency();
}

bool AmountEntry::eventFilter(QObject* watched, QEvent* event) {
    if (!is_idle_wheel(watched, event)) return Entry::eventFilter(watched, event);
    event->ignore();
    return true;
}

QString AmountEntry::typed() const {
    QStringList parts;
    bool is_empty = true;
    for (const QLineEdit* figure : figures_) {
        parts << figure->text().trimmed();
        is_empty = is_empty && parts.back().isEmpty();
    }
    if (is_empty) return {};
    while (parts.size() > 1 && parts[1].isEmpty() && parts.back().isEmpty()) parts.removeLast();
    return parts.join(QStringLiteral(" – ")) + QLatin1Char(' ') + currency_->currentText().toUpper();
}

void AmountEntry::set_typed(const QString& text) {
    QStringList parts = text.isEmpty() ? QStringList{proposed_} : parts_of_amount(text);
    currency_->setEditText(parts.takeLast());
    for (qsizetype i = 0; i < figures_.size(); ++i) figures_[i]->setText(parts.value(i));
}

QWidget* AmountEntry::focused() const {
    return figures_.front();
}

void AmountEntry::set_name(const QString& name) {
    for (QLineEdit* figure : figures_) {
        const bool is_one = figures_.size() < parts_of_an_estimate;
        figure->setAccessibleName(is_one ? name : name + QStringLiteral(", ") + figure->placeholderText());
    }
    currency_->setAccessibleName(tr("%1, currency").arg(name));
    currency_->lineEdit()->setAccessibleName(tr("%1, currency").arg(name));
}

}  // namespace tedge::desk
