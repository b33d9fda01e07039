#include "accounts/duties_panel.hpp"

#include <QEvent>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "accounts/duty_words.hpp"
#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

DutiesPanel::DutiesPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      open_(new QPushButton(tr("What the law may as&k"), this)),
      summary_(new QLabel(this)),
      body_(new QWidget(this)),
      questions_(new QListWidget(body_)),
      told_(new QLabel(body_)),
      answer_(new QPushButton(tr("&Answer this question"), body_)),
      document_(new QPushButton(tr("Open its document"), body_)),
      papers_(new QLabel(body_)) {
    make_layout();
    open_->setCheckable(true);
    connect(open_, &QPushButton::toggled, this, &DutiesPanel::open);
    connect(questions_, &QListWidget::currentRowChanged, this, &DutiesPanel::show_chosen);
    connect(questions_, &QListWidget::itemActivated, this, &DutiesPanel::answer_chosen);
    connect(answer_, &QPushButton::clicked, this, &DutiesPanel::answer_chosen);
    connect(document_, &QPushButton::clicked, this, &DutiesPanel::open_document);
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
    open(false);
}

void DutiesPanel::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 6, 0, 0);
    auto* inner = new QVBoxLayout(body_);
    inner->setContentsMargins(0, 0, 0, 0);
    auto* advice = new QLabel(tr("Nothing here says that something is lawful: ask licensed advice."), body_);
    advice->setProperty("role", "faded");
    questions_->setAccessibleName(tr("Questions of law"));
    questions_->setWordWrap(true);
    questions_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    questions_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    questions_->setResizeMode(QListView::Adjust);
    auto* acts = new FlowLayout;
    for (QPushButton* each : {answer_, document_}) {
        each->setMinimumHeight(target_px);
        acts->addWidget(each);
    }
    open_->setMinimumHeight(target_px);
    for (QLabel* label : {summary_, told_, papers_, advice}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    for (QWidget* each : std::initializer_list<QWidget*>{open_, summary_, body_}) column->addWidget(each);
    for (QWidget* each : std::initializer_list<QWidget*>{advice, questions_, told_}) inner->addWidget(each);
    inner->addLayout(acts);
    inner->addWidget(papers_);
}

void DutiesPanel::open(bool is_open) {
    open_->setChecked(is_open);
    body_->setVisible(is_open);
}

void DutiesPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool is_other = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    setVisible(!session_.client_looks());
    if (is_other) questions_->setCurrentRow(-1);
    const auto today = parse_date(to_text(session_.acting().clock.now()).substr(0, 10));
    auto made = today ? usecases::duties_of_case(session_.book(), snapshot.picture.id, *today)
                      : Expected<usecases::DutiesOfCase>(pass_on(today));
    if (!made) return say_in(*summary_, shown(made.error().message + " " + made.error().next), "closed");
    made_ = *std::move(made);
    say_in(*summary_, duties_summary(made_), "plain");
    show_questions();
    papers_->setText(papers_told(made_));
    papers_->setVisible(!papers_->text().isEmpty());
}

void DutiesPanel::show_questions() {
    const int before = questions_->currentRow();
    {
        const QSignalBlocker quiet(questions_);
        questions_->clear();
        for (const usecases::Duty& duty : made_.duties) {
            auto* item = new QListWidgetItem(duty_line(duty), questions_);
            const bool asks = duty.state == "open" && duty.called == usecases::CalledFor::yes;
            item->setForeground(asks                             ? theme().warning
                                : duty.state == "not-applicable" ? theme().faded_ink
                                                                 : theme().ink);
        }
        const auto first_open = std::ranges::find_if(made_.duties, [](const usecases::Duty& duty) {
            return duty.state == "open" && duty.called == usecases::CalledFor::yes;
        });
        const auto to_show = first_open != made_.duties.end() ? first_open - made_.duties.begin() : 0;
        questions_->setCurrentRow(before >= 0 ? before : static_cast<int>(to_show));
    }
    int height = 2 * questions_->frameWidth() + 4;
    for (int row = 0; row < questions_->count(); ++row) height += questions_->sizeHintForRow(row);
    questions_->setFixedHeight(height);
    show_chosen();
}

void DutiesPanel::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() != QEvent::PaletteChange || made_.duties.empty()) return;
    show_questions();
    papers_->setText(papers_told(made_));
}

const usecases::Duty* DutiesPanel::chosen() const {
    const auto row = static_cast<std::size_t>(questions_->currentRow());
    return questions_->currentRow() >= 0 && row < made_.duties.size() ? &made_.duties[row] : nullptr;
}

void DutiesPanel::choose(std::string_view duty) {
    const auto found = std::ranges::find(made_.duties, duty, &usecases::Duty::name);
    if (found != made_.duties.end()) questions_->setCurrentRow(static_cast<int>(found - made_.duties.begin()));
}

void DutiesPanel::show_chosen() {
    const usecases::Duty* duty = chosen();
    told_->setText(duty != nullptr ? duty_told(*duty, *snapshot_) : QString());
    answer_->setText(duty != nullptr && duty->answer ? tr("Ch&ange this answer") : tr("&Answer this question"));
    answer_->setEnabled(duty != nullptr && !session_.book().read_only());
    document_->setVisible(duty != nullptr && duty->document.has_value());
}

// An answer that stands is changed; what it said before is in the record's history.
void DutiesPanel::answer_chosen() {
    const usecases::Duty* duty = chosen();
    if (duty == nullptr || !answer_->isEnabled()) return;
    if (duty->answer) {
        emit record_wanted(*duty->answer);
        return;
    }
    casebook::FieldValues values;
    values.text("duty", duty->name).record("by", session_.acting().author);
    emit answer_wanted(values, shown(duty->question));
}

void DutiesPanel::open_document() {
    const usecases::Duty* duty = chosen();
    if (duty != nullptr && duty->document) emit record_wanted(*duty->document);
}

}  // namespace tedge::desk
