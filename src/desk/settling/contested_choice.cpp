#include "settling/contested_choice.hpp"

#include <QButtonGroup>
#include <QLabel>
#include <QRadioButton>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "forms/field_editor.hpp"
#include "settling/side_words.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int indent_px = 28;  // under the words of a choice, past its circle

QLabel* below(const QString& text, const char* role, QWidget* parent) {
    auto* label = new QLabel(text, parent);
    label->setTextFormat(Qt::PlainText);
    label->setProperty("role", role);
    label->setWordWrap(true);
    label->setContentsMargins(indent_px, 0, 0, 0);
    return label;
}

const casebook::Field* typed_field(const std::string& path, const FormContext& context) {
    const casebook::Field* field =
        context.kind != nullptr && path.find('/') == std::string::npos ? context.kind->field(path) : nullptr;
    // Another file is chosen in the form of the record, which keeps it before it is named.
    const bool is_file = field != nullptr && field->type == casebook::FieldType::sha256;
    return field != nullptr && !is_file && is_typed(*field, *context.kind) ? field : nullptr;
}

}  // namespace

ContestedChoice::ContestedChoice(const casebook::Contested& contested, const casebook::Record& now,
                                 const FormContext& context, QWidget* parent)
    : QWidget(parent), contested_(contested), group_(new QButtonGroup(this)), fault_(below({}, "closed", this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 4, 0, 4);
    column->setSpacing(2);
    auto* label = new QLabel(contested_label(contested.path, context.kind), this);
    QFont strong = label->font();
    strong.setWeight(QFont::DemiBold);
    label->setFont(strong);
    column->addWidget(label);
    add_sides(now, context, *column);
    add_another(now, context, *column);
    fault_->hide();
    column->addWidget(fault_);
    connect(group_, &QButtonGroup::idToggled, this, [this] {
        fault_->hide();
        emit decided();
    });
}

void ContestedChoice::add_sides(const casebook::Record& now, const FormContext& context, QVBoxLayout& column) {
    const QList<SideWords> words = words_of_sides(contested_, now, context.snapshot);
    for (qsizetype i = 0; i < words.size(); ++i) {
        const casebook::Side& side = contested_.sides[static_cast<std::size_t>(i)];
        const bool stands = casebook::shows(now, side, contested_.path);
        auto* choice = new QRadioButton(stands ? tr("%1 (shows now)").arg(words[i].who) : words[i].who, this);
        choice->setMinimumHeight(target_px);
        choice->setAccessibleName(words[i].who + QStringLiteral(": ") + words[i].said);
        choice->setAccessibleDescription(words[i].makes);
        // What was erased cannot be put back.
        choice->setEnabled(!side.erased || contested_.path.empty() || side.wrote.has(contested_.path));
        group_->addButton(choice, static_cast<int>(i));
        column.addWidget(choice);
        column.addWidget(below(words[i].said, "plain", this));
        if (!words[i].reason.isEmpty()) column.addWidget(below(tr("Why: %1").arg(words[i].reason), "faded", this));
        if (!words[i].makes.isEmpty()) column.addWidget(below(words[i].makes, "faded", this));
    }
}

void ContestedChoice::add_another(const casebook::Record& now, const FormContext& context, QVBoxLayout& column) {
    const casebook::Field* field = typed_field(contested_.path, context);
    if (field == nullptr) return;
    auto* choice = new QRadioButton(tr("Neither; it is to say"), this);
    choice->setMinimumHeight(target_px);
    group_->addButton(choice, static_cast<int>(contested_.sides.size()));
    column.addWidget(choice);
    another_ = new FieldEditor(*field, context, {}, this);
    another_->show_value(now.body);
    another_->setContentsMargins(indent_px, 0, 0, 0);
    column.addWidget(another_);
    another_->setVisible(false);
    connect(choice, &QRadioButton::toggled, another_, &QWidget::setVisible);
    connect(another_, &FieldEditor::edited, choice, [choice] { choice->setChecked(true); });
}

QList<QRadioButton*> ContestedChoice::choices() const {
    return findChildren<QRadioButton*>(QString(), Qt::FindDirectChildrenOnly);
}

void ContestedChoice::focus_first() {
    if (!group_->buttons().isEmpty()) group_->buttons().front()->setFocus();
}

void ContestedChoice::show_fault(const QString& text) {
    fault_->setText(QStringLiteral("⊘ ") + text);
    fault_->show();
}

bool ContestedChoice::put_into(casebook::FieldValues& values, std::optional<bool>& stays) {
    const int chosen = group_->checkedId();
    if (chosen < 0) {
        show_fault(tr("Choose one of them, or write another."));
        return false;
    }
    const auto index = static_cast<std::size_t>(chosen);
    if (index < contested_.sides.size()) {
        const casebook::Side& side = contested_.sides[index];
        if (contested_.path.empty()) {
            stays = !side.removes;
        } else {
            casebook::put_side(values, side, contested_.path);
        }
        return true;
    }
    if (another_->touched()) return another_->put_into(values);
    show_fault(tr("Write what it is to say; what shows now stands above."));
    return false;
}

}  // namespace tedge::desk
