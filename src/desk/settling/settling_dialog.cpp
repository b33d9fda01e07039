#include "settling/settling_dialog.hpp"

#include <QDialogButtonBox>
#include <QFrame>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "forms/field_editor.hpp"
#include "forms/form_context.hpp"
#include "forms/local_time.hpp"
#include "settling/contested_choice.hpp"
#include "sheets/lines/record_line.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize settling_size{620, 640};
constexpr double share_of_window = 0.9;
constexpr int why_height_px = 64;

QLabel* wrapped(const QString& text, const char* role, QWidget* parent) {
    auto* label = new QLabel(text, parent);
    label->setTextFormat(Qt::PlainText);
    label->setProperty("role", role);
    label->setWordWrap(true);
    return label;
}

QString kind_label(const std::string& kind) {
    const casebook::Kind* found = casebook::find_kind(kind);
    return capital(found != nullptr ? shown(found->label) : spoken(kind));
}

}  // namespace

SettlingBox::SettlingBox(BookSession& session, casebook::Disagreement disagreement, casebook::Record now,
                         const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : QWidget(parent),
      session_(session),
      disagreement_(std::move(disagreement)),
      now_(std::move(now)),
      context_(std::make_unique<FormContext>(form_context(session, snapshot, casebook::find_kind(now_.kind)))),
      why_(new QPlainTextEdit(this)),
      fault_(wrapped({}, "closed", this)),
      settle_(new QPushButton(tr("Settle it so"), this)) {
    context_->zone = zone_in(now_.body, context_->kind);
    make_layout(snapshot);
    connect(settle_, &QPushButton::clicked, this, &SettlingBox::settle);
}

SettlingBox::~SettlingBox() = default;

void SettlingBox::make_layout(const casebook::CaseSnapshot& snapshot) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 6, 0, 10);
    auto* title = new QLabel(kind_label(now_.kind), this);
    title->setFont(heading_font());
    column->addWidget(title);
    column->addWidget(wrapped(line_of(now_, snapshot, false).text, "faded", this));
    for (const casebook::Contested& each : disagreement_.contested) {
        auto* choice = new ContestedChoice(each, now_, *context_, this);
        contested_ << choice;
        column->addWidget(choice);
    }
    auto* why_label = new QLabel(tr("Why *"), this);
    why_label->setBuddy(why_);
    column->addWidget(why_label);
    why_->setTabChangesFocus(true);
    why_->setFixedHeight(why_height_px);
    why_->setAccessibleName(tr("Why it is settled so"));
    column->addWidget(why_);
    fault_->hide();
    column->addWidget(fault_);
    settle_->setMinimumHeight(target_px);
    settle_->setProperty("act", "main");
    settle_->setAutoDefault(false);
    settle_->setEnabled(!session_.book().read_only());
    column->addWidget(settle_);
    auto* rule = new QFrame(this);
    rule->setFrameShape(QFrame::HLine);
    column->addWidget(rule);
}

QString SettlingBox::fault() const {
    return fault_->isVisibleTo(this) ? fault_->text() : QString();
}

void SettlingBox::show_fault(const QString& text) {
    fault_->setText(QStringLiteral("⊘ ") + text);
    fault_->show();
}

void SettlingBox::settle() {
    usecases::Settlement settlement{now_.id, disagreement_.changes,      {},
                                    {},      plain(why_->toPlainText()), now_.newest_changes};
    bool decided = true;
    for (ContestedChoice* each : contested_) decided = each->put_into(settlement.values, settlement.stays) && decided;
    if (!decided) return;
    std::vector<FieldEditor*> written;
    for (const ContestedChoice* each : contested_) {
        if (each->is_another_chosen()) written.push_back(each->another());
    }
    if (auto ready = take_into_book(session_.book(), written, settlement.values); !ready)
        return show_fault(shown(ready.error().message + " " + ready.error().next));
    auto done = usecases::settle_conflict(session_.acting(), settlement);
    if (!done) return show_fault(shown(done.error().message + " " + done.error().next));
    settled_ = true;
    for (QWidget* each : findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly)) each->setEnabled(false);
    fault_->hide();
    settle_->setText(tr("✓ Settled"));
    session_.did(*std::move(done), tr("what was settled of %1").arg(kind_label(now_.kind).toLower()));
    emit settled();
}

SettlingDialog::SettlingDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : QDialog(parent), session_(session), head_(wrapped({}, "plain", this)) {
    setWindowTitle(tr("Told differently"));
    // Inside the window, so that on a small screen its frame and its buttons stay within reach.
    resize(settling_size.boundedTo(parent != nullptr ? parent->window()->size() * share_of_window : settling_size));
    auto* column = new QVBoxLayout(this);
    column->addWidget(head_);
    auto* area = new QScrollArea(this);
    auto* inside = new QWidget(area);
    auto* list = new QVBoxLayout(inside);
    fill(snapshot, *list, inside);
    list->addStretch();
    area->setWidget(inside);
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setFocusPolicy(Qt::NoFocus);
    column->addWidget(area, 1);
    auto* buttons = new QDialogButtonBox(this);
    close_ = buttons->addButton(tr("&Later"), QDialogButtonBox::RejectRole);
    close_->setMinimumHeight(target_px);
    close_->setAutoDefault(false);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    look_whether_all_is_settled();
    if (!boxes_.isEmpty()) boxes_.front()->contested().front()->focus_first();
}

void SettlingDialog::fill(const casebook::CaseSnapshot& snapshot, QVBoxLayout& column, QWidget* inside) {
    const auto all = usecases::disagreements(session_.book(), snapshot.picture.id);
    if (!all) return;
    for (const casebook::Disagreement& each : *all) {
        const auto now = session_.book().record(each.record);
        if (!now) continue;
        auto* box = new SettlingBox(session_, each, *now, snapshot, inside);
        boxes_ << box;
        column.addWidget(box);
        connect(box, &SettlingBox::settled, this, &SettlingDialog::look_whether_all_is_settled);
    }
}

void SettlingDialog::look_whether_all_is_settled() {
    const bool all = std::ranges::all_of(boxes_, [](const SettlingBox* box) { return box->is_settled(); });
    head_->setText(all ? tr("Nothing is told differently any more.")
                       : tr("Two people wrote this without knowing of each other. Both stay in the casebook; choose "
                            "what it is to say from now on."));
    close_->setText(all ? tr("&Close") : tr("&Later"));
}

}  // namespace tedge::desk
