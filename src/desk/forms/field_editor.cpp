#include "forms/field_editor.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "forms/local_time.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::FieldType;
using casebook::FieldValues;

namespace {

constexpr qsizetype letters_on_a_button = 34;

// Lines that are said while typing and whose room is kept: what comes and goes would move the next field under the
// finger. Words to tap and plain text are never said back.
int lines_said_of(const casebook::Field& field) {
    switch (field.type) {
        case FieldType::money_estimate:
        case FieldType::sha256:
        case FieldType::instant:
            return 2;
        case FieldType::number:
        case FieldType::money:
        case FieldType::date:
        case FieldType::edtf:
        case FieldType::zone:
            return 1;
        case FieldType::integer:
            return field.unit == "of 10" ? 0 : 1;
        case FieldType::values:
            return field.unit == "bands" ? 2 : 0;
        case FieldType::record:
            return field.of == "person" ? 1 : 0;
        default:
            return 0;
    }
}

}  // namespace

QString label_of(const casebook::Field& field, const FormContext& context) {
    QString text = shown(field.label);
    const bool has_zone = context.kind != nullptr && zone_field_of(*context.kind) != nullptr;
    const QString unit = field.type != FieldType::instant ? shown(field.unit)
                         : has_zone                       ? QObject::tr("local time")
                                                          : QStringLiteral("UTC");
    if (!unit.isEmpty()) text += QStringLiteral(" (%1)").arg(unit);
    if (field.required) text += QStringLiteral(" *");
    return text;
}

FieldEditor::FieldEditor(const casebook::Field& field, const FormContext& context, const QStringList& offered,
                         QWidget* parent)
    : QWidget(parent),
      field_(&field),
      context_(&context),
      entry_(make_entry(field, context, this)),
      remark_(new QLabel(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 6);
    column->setSpacing(3);
    auto* label = new QLabel(label_of(field, context), this);
    label->setWordWrap(true);
    label->setBuddy(entry_->focused());
    column->addWidget(label);
    auto* row = new QHBoxLayout;
    row->addWidget(entry_, 1);
    column->addLayout(row);
    entry_->set_name(label->text());
    // One stands beside the line, several below it.
    if (offered.size() == 1) row->addWidget(offer(offered.front(), this));
    if (offered.size() > 1) add_offers(offered);
    remark_->setWordWrap(true);
    remark_->setAlignment(Qt::AlignTop);
    remark_->setMinimumHeight(lines_said_of(field) * (remark_->fontMetrics().lineSpacing() + 1));
    remark_->setVisible(lines_said_of(field) > 0);
    column->addWidget(remark_);
    connect(entry_, &Entry::edited, this, [this] {
        show_remark();
        emit edited();
    });
}

QPushButton* FieldEditor::offer(const QString& text, QWidget* parent) {
    const bool is_long = text.size() > letters_on_a_button;
    auto* button = new QPushButton(is_long ? text.left(letters_on_a_button) + QStringLiteral(" …") : text, parent);
    button->setMinimumSize(target_px, target_px);
    button->setProperty("act", "offer");
    // Whoever types goes on to the next field: a blank of a name must not press what lies between. It can be typed too.
    button->setFocusPolicy(Qt::ClickFocus);
    button->setToolTip(is_long ? text : QString());
    button->setAccessibleName(tr("%1: take %2").arg(label_of(*field_, *context_), text));
    connect(button, &QPushButton::clicked, this, [this, text] { set_typed(text); });
    offers_ << button;
    return button;
}

void FieldEditor::add_offers(const QStringList& offered) {
    auto* below = new QWidget(this);
    auto* row = new FlowLayout(below);
    for (const QString& text : offered) row->addWidget(offer(text, below));
    layout()->addWidget(below);
}

QWidget* FieldEditor::entry() const {
    return entry_->focused();
}

QString FieldEditor::typed() const {
    return entry_->typed();
}

void FieldEditor::set_typed(const QString& text) {
    entry_->set_typed(text);
}

void FieldEditor::show_value(const casebook::Body& body) {
    entry_->set_typed(typed_text(*field_, body, *context_));
    shown_ = entry_->typed();
    shown_zone_ = context_->zone;
    show_fault({});
}

bool FieldEditor::is_moved_by_zone() const {
    return field_->type == FieldType::instant && !typed().isEmpty() && context_->zone != shown_zone_;
}

Typed FieldEditor::read(FieldValues& values) const {
    const QString text = typed();
    return text.isEmpty() ? Typed{} : read_typed(*field_, text, *context_, values);
}

void FieldEditor::show_remark() {
    FieldValues unused;
    const Typed read_now = touched() ? read(unused) : Typed{};
    has_fault_ = !read_now.fits();
    const QString text = has_fault_                   ? QStringLiteral("⊘ ") + read_now.fault
                         : read_now.meaning.isEmpty() ? QString()
                                                      : QStringLiteral("= ") + read_now.meaning;
    remark_->setProperty("role", has_fault_ ? "closed" : "faded");
    remark_->style()->unpolish(remark_);
    remark_->style()->polish(remark_);
    remark_->setText(text);
    remark_->setVisible(!text.isEmpty() || lines_said_of(*field_) > 0);
    entry()->setAccessibleDescription(text);
}

void FieldEditor::show_fault(const QString& reason) {
    show_remark();
    if (reason.isEmpty()) return;
    has_fault_ = true;
    remark_->setProperty("role", "closed");
    remark_->style()->unpolish(remark_);
    remark_->style()->polish(remark_);
    remark_->setText(QStringLiteral("⊘ ") + reason);
    remark_->show();
    entry()->setAccessibleDescription(reason);
}

QString FieldEditor::fault() const {
    return has_fault_ ? remark_->text() : QString();
}

QString FieldEditor::new_person() const {
    if (field_->of != "person" || !touched()) return {};
    FieldValues unused;
    return read(unused).person.value_or(QString());
}

QString FieldEditor::new_file() const {
    if (field_->type != FieldType::sha256 || !touched()) return {};
    FieldValues unused;
    return read(unused).file.value_or(QString());
}

bool FieldEditor::put_into(FieldValues& values) {
    if (!touched()) {
        const bool is_missing = field_->required && typed().isEmpty();
        show_fault(is_missing ? tr("This is needed.") : QString());
        return !is_missing;
    }
    if (typed().isEmpty()) {
        if (field_->required) {
            show_fault(tr("This is needed."));
            return false;
        }
        values.unset(field_->name);
        return true;
    }
    const Typed read_now = read(values);
    show_fault(read_now.fault);
    return read_now.fits();
}

void FieldEditor::put_what_fits_into(FieldValues& values) const {
    if (touched()) static_cast<void>(read(values));
}

void FieldEditor::set_read_only() {
    entry_->setEnabled(false);
    for (QPushButton* each : offers_) each->hide();
    remark_->hide();
}

}  // namespace tedge::desk
