#include "forms/field_editor.hpp"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QVBoxLayout>

#include "tedge/base/length.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Body;
using casebook::Field;
using casebook::FieldType;
using casebook::FieldValues;

QString money_text(const std::optional<Money>& money) {
    return money ? shown(to_decimal_text(*money)) : QString();
}

QString estimate_text(const std::optional<Body::MoneyEstimate>& estimate) {
    if (!estimate) return {};
    const auto part = [&](std::int64_t minor) { return to_decimal_text({minor, estimate->currency}); };
    return shown(part(estimate->minor.low) + " – " + part(estimate->minor.likely) + " – " + part(estimate->minor.high));
}

QString value_text(const Field& field, const Body& body) {
    switch (field.type) {
        case FieldType::number: {
            const auto number = body.number(field.name);
            return number ? shown(format_number(*number)) : QString();
        }
        case FieldType::integer: {
            const auto number = body.integer(field.name);
            return number ? QString::number(*number) : QString();
        }
        case FieldType::flag:
            return !body.has(field.name)   ? QString()
                   : body.flag(field.name) ? QStringLiteral("yes")
                                           : QStringLiteral("no");
        case FieldType::money:
            return money_text(body.money(field.name));
        case FieldType::money_estimate:
            return estimate_text(body.money_estimate(field.name));
        default:
            return shown(body.text_or(field.name));
    }
}

QString label_text(const Field& field, const QString& currency) {
    QString text = shown(field.label);
    const bool is_money = field.type == FieldType::money || field.type == FieldType::money_estimate;
    const QString unit = is_money ? currency : shown(field.unit);
    if (!unit.isEmpty()) text += QStringLiteral(" (%1)").arg(unit);
    if (field.required) text += QStringLiteral(" *");
    return text;
}

QString hint_text(const Field& field) {
    switch (field.type) {
        case FieldType::date:
            return QStringLiteral("2026-03-31");
        case FieldType::edtf:
            return QStringLiteral("1650~, 1672/1680, 18XX");
        case FieldType::instant:
            return QStringLiteral("2026-03-31T14:30:00Z");
        case FieldType::money_estimate:
            return QStringLiteral("low – likely – high, or one amount");
        case FieldType::zone:
            return QStringLiteral("Europe/London");
        default:
            return {};
    }
}

}  // namespace

bool is_typed(const Field& field) {
    switch (field.type) {
        case FieldType::record:
        case FieldType::sha256:
        case FieldType::region:
        case FieldType::placement:
        case FieldType::values:
            return false;
        default:
            return true;
    }
}

FieldEditor::FieldEditor(const Field& field, QString currency, QWidget* parent)
    : QWidget(parent), field_(&field), currency_(std::move(currency)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    auto* label = new QLabel(label_text(field, currency_), this);
    column->addWidget(label);
    build_entry();
    column->addWidget(entry());
    label->setBuddy(entry());
    entry()->setAccessibleName(label->text());
    fault_ = new QLabel(this);
    fault_->setProperty("role", "closed");
    fault_->setWordWrap(true);
    fault_->hide();
    column->addWidget(fault_);
}

void FieldEditor::build_entry() {
    if (field_->type == FieldType::word || field_->type == FieldType::flag) {
        words_ = new QComboBox(this);
        words_->addItem(QString());
        if (field_->type == FieldType::flag) words_->addItems({QStringLiteral("yes"), QStringLiteral("no")});
        for (const std::string_view word : words_of(*field_)) words_->addItem(shown(word));
        connect(words_, &QComboBox::currentTextChanged, this, &FieldEditor::edited);
    } else if (field_->type == FieldType::long_text) {
        paragraphs_ = new QPlainTextEdit(this);
        paragraphs_->setTabChangesFocus(true);
        paragraphs_->setFixedHeight(84);
        connect(paragraphs_, &QPlainTextEdit::textChanged, this, &FieldEditor::edited);
    } else {
        line_ = new QLineEdit(this);
        line_->setPlaceholderText(hint_text(*field_));
        connect(line_, &QLineEdit::textChanged, this, &FieldEditor::edited);
    }
}

QWidget* FieldEditor::entry() const {
    if (words_ != nullptr) return words_;
    if (paragraphs_ != nullptr) return paragraphs_;
    return line_;
}

QString FieldEditor::typed() const {
    if (words_ != nullptr) return words_->currentText();
    return paragraphs_ != nullptr ? paragraphs_->toPlainText() : line_->text();
}

void FieldEditor::set_typed(const QString& text) {
    if (words_ != nullptr) words_->setCurrentText(text);
    if (paragraphs_ != nullptr) paragraphs_->setPlainText(text);
    if (line_ != nullptr) line_->setText(text);
}

void FieldEditor::show_value(const Body& body) {
    set_typed(value_text(*field_, body));
    show_fault({});
}

void FieldEditor::show_fault(const QString& reason) {
    fault_->setText(reason);
    fault_->setVisible(!reason.isEmpty());
    entry()->setAccessibleDescription(reason);
}

FieldEditor::Parsed FieldEditor::parse_into(const QString& text, FieldValues& values) const {
    const std::string written = plain(text);
    const auto refused = [](const Error& error) { return Parsed{false, shown(error.message)}; };
    switch (field_->type) {
        case FieldType::number: {
            // Lengths may be typed as on the tape: "32 1/4 in".
            const auto number = field_->unit == "mm" ? parse_length_mm(written) : parse_number(written);
            if (!number) return refused(number.error());
            values.number(field_->name, *number);
            return {};
        }
        case FieldType::integer: {
            const auto number = parse_integer(written);
            if (!number) return refused(number.error());
            values.integer(field_->name, *number);
            return {};
        }
        case FieldType::flag:
            values.flag(field_->name, written == "yes");
            return {};
        case FieldType::money: {
            const auto money = parse_money(written, Currency::parse(plain(currency_)).value());
            if (!money) return refused(money.error());
            values.money(field_->name, *money);
            return {};
        }
        case FieldType::money_estimate: {
            const Currency currency = Currency::parse(plain(currency_)).value();
            std::vector<std::int64_t> minor;
            for (const QString& part : text.split(QStringLiteral("–"))) {
                const auto money = parse_money(plain(part.trimmed()), currency);
                if (!money) return refused(money.error());
                minor.push_back(money->minor);
            }
            if (minor.size() == 1) minor.assign(3, minor.front());
            if (minor.size() != 3) return {false, tr("Three amounts, low – likely – high, or one.")};
            values.money_estimate(field_->name, {minor[0], minor[1], minor[2]}, currency);
            return {};
        }
        default:
            values.text(field_->name, written);
            return {};
    }
}

bool FieldEditor::put_into(FieldValues& values, const Body& before) {
    const QString text = paragraphs_ != nullptr ? typed() : typed().trimmed();
    show_fault({});
    if (text == value_text(*field_, before)) return true;  // untouched
    if (text.isEmpty()) {
        values.unset(field_->name);
        return true;
    }
    const Parsed parsed = parse_into(text, values);
    if (!parsed.ok) show_fault(parsed.reason);
    return parsed.ok;
}

}  // namespace tedge::desk
