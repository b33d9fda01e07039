#include "ceiling/ceiling_panel.hpp"

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "ceiling/ceiling_words.hpp"
#include "ceiling/plan_form.hpp"
#include "ceiling/profit_chart.hpp"
#include "ceiling/swing_chart.hpp"
#include "forms/flow_layout.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/usecases/ceilings.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;

constexpr int typing_rests_ms = 200;
// What was typed stands beside what was reckoned with what nobody had seen: reckoned again, it is not widened twice.
constexpr const char* as_typed = "comment";

// What the records say of the sale, apart from what the plan itself brought along.
json terms_recorded(const casebook::CaseSnapshot& snapshot) {
    const auto lots = snapshot.of_kind("lot");
    const json terms = lots.empty() ? json() : lots.back()->body.as_json().value("terms", json());
    return terms.is_object() ? terms : json::object();
}

}  // namespace

CeilingPanel::CeilingPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      form_(new PlanForm(this)),
      widens_(new QCheckBox(tr("Reckon with the unseen"), this)),
      unseen_(new QLabel(this)),
      headline_(new QLabel(this)),
      report_(new QLabel(this)),
      courses_(new QLabel(this)),
      plans_(new QLabel(this)),
      drawn_(new QLabel(tr("The line is the profit expected at each hammer price; 9 of 10 times it lies within the "
                           "band. Dashed: the limit."),
                        this)),
      moves_(new QLabel(tr("What moves the limit most"), this)),
      chart_(new ProfitChart(this)),
      swings_(new SwingChart(this)),
      fix_(new QPushButton(tr("&Fix this limit"), this)),
      cards_(new QPushButton(tr("&Cards for the sale …"), this)),
      set_beside_(new QPushButton(tr("Set beside as another plan"), this)),
      exchange_(new QPushButton(tr("Exchange the two"), this)),
      work_(new LongWork(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    build(column);
    pause_.setSingleShot(true);
    pause_.setInterval(typing_rests_ms);
    connect(&pause_, &QTimer::timeout, this, &CeilingPanel::study);
    connect(form_, &PlanForm::edited, this, &CeilingPanel::reckon);
    connect(widens_, &QCheckBox::toggled, this, &CeilingPanel::reckon);
    connect(work_, &LongWork::finished, this, [this] {
        if (typed_meanwhile_) return study();
        emit studied();
    });
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void CeilingPanel::build(QVBoxLayout* column) {
    headline_->setProperty("role", "strong");
    headline_->setWordWrap(true);
    headline_->hide();
    column->addWidget(headline_);
    column->addWidget(courses_);
    column->addWidget(form_);
    column->addWidget(widens_);
    column->addWidget(report_);
    fix_->setProperty("act", "main");
    fix_->setEnabled(false);
    column->addWidget(fix_);
    column->addWidget(unseen_);
    column->addWidget(cards_, 0, Qt::AlignLeft);
    connect(cards_, &QPushButton::clicked, this, &CeilingPanel::cards_wanted);
    column->addWidget(chart_);
    column->addWidget(drawn_);
    column->addWidget(moves_);
    column->addWidget(swings_);
    column->addWidget(plans_);
    add_acts(column);
    for (QLabel* label : {unseen_, report_, courses_, plans_, drawn_, moves_}) label->setWordWrap(true);
    for (QLabel* label : {unseen_, courses_, plans_, drawn_, moves_}) label->hide();
    drawn_->setProperty("role", "faded");
    unseen_->setProperty("role", "warning");
    widens_->setChecked(true);
    widens_->hide();
}

void CeilingPanel::add_acts(QVBoxLayout* column) {
    auto* acts = new FlowLayout;
    acts->addWidget(set_beside_);
    acts->addWidget(exchange_);
    column->addLayout(acts);
    connect(fix_, &QPushButton::clicked, this, &CeilingPanel::fix);
    connect(set_beside_, &QPushButton::clicked, this, &CeilingPanel::set_beside);
    connect(exchange_, &QPushButton::clicked, this, &CeilingPanel::exchange);
    exchange_->hide();
}

void CeilingPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool is_other = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    if (is_other) {
        beside_.reset();
        show_beside_acts();
        show_stored_plan();
    }
    setVisible(!session_.client_looks());
    form_->show_terms(terms_recorded(snapshot));
    form_->show_bought(!snapshot.of_kind("purchase").empty());
    reckon();
}

void CeilingPanel::show_stored_plan() {
    const Currency usual = usecases::usual_currency(session_.book(), snapshot_->picture.id);
    form_->show_currency(shown(usual.code()));
    const auto stored = usecases::draft_plan(*snapshot_, usual);
    json plan = stored ? json::parse(*stored) : json::object();
    if (plan.contains(as_typed) && plan[as_typed].is_object()) {
        for (const auto& [field, value] : plan[as_typed].items()) plan[field] = value;
    }
    form_->show_plan(plan);
}

Expected<json> CeilingPanel::plan_typed() const {
    const auto currency = form_->currency();
    if (!currency) return pass_on(currency);
    const auto draft = usecases::draft_plan(*snapshot_, *currency);
    if (!draft) return pass_on(draft);
    json plan = json::parse(*draft);
    plan.erase(as_typed);
    return form_->written_into(std::move(plan));
}

Expected<usecases::WidenedPlan> CeilingPanel::plan_reckoned() const {
    auto typed = plan_typed();
    if (!typed) return pass_on(typed);
    typed->erase("as_it_stands");  // asked after the purchase alone
    // Before anybody has looked the guesses are guesses as they stand; a viewing is asked for all that it did not see.
    const bool was_viewed = !snapshot_->of_kind("viewing_note").empty();
    if (!was_viewed || !widens_->isChecked()) return usecases::WidenedPlan{typed->dump(), {}, {}};
    return usecases::widened_plan(typed->dump(), usecases::what_was_seen(*snapshot_));
}

void CeilingPanel::say(const QString& text, const char* role) {
    say_in(*report_, text, role);
}

void CeilingPanel::reckon() {
    fix_->setEnabled(false);
    headline_->hide();
    if (!snapshot_) return;
    courses_->hide();
    if (!form_->says_prices()) {
        chart_->show_curve({}, {});
        swings_->show_swings({}, {});
        drawn_->hide();
        moves_->hide();
        plans_->hide();
        return say(tr("Say what it may be and what it would sell for. Costs are those recorded below."), "plain");
    }
    const auto text = plan_reckoned();
    const auto plan = text ? money::parse_ceiling_plan(text->plan) : Expected<money::CeilingPlan>(pass_on(text));
    const auto report = plan ? money::solve_ceiling(*plan) : Expected<money::CeilingReport>(pass_on(plan));
    if (text) show_unseen(*text);
    if (!report) return say(QStringLiteral("⊘ ") + shown(report.error().message + " " + report.error().next), "closed");
    headline_->setText(report_headline(*report));
    headline_->show();
    const QString nothing_to_pay =
        plan->costs.empty() ? tr("\n△ No cost of work, carriage or frame is in it: record them, or take suggestions.")
                            : QString();
    say(report_words(*report) + nothing_to_pay, "plain");
    fix_->setEnabled(report->bid.has_value() && !session_.book().read_only());
    weigh_courses();
    pause_.start();
}

// What is paid is paid: only what is still to come is asked.
void CeilingPanel::weigh_courses() {
    const bool is_bought = !snapshot_->of_kind("purchase").empty();
    report_->setVisible(!is_bought);
    if (is_bought) headline_->hide();
    fix_->setVisible(!is_bought);
    cards_->setVisible(!is_bought);
    if (!is_bought) return;
    const auto typed = plan_typed();
    const auto courses =
        typed ? usecases::courses_of_case(*snapshot_, typed->dump()) : Expected<money::CoursesReport>(pass_on(typed));
    courses_->show();
    courses_->setText(courses ? courses_table(*courses)
                              : QStringLiteral("⊘ ") + shown(courses.error().message + " " + courses.error().next));
}

void CeilingPanel::show_unseen(const usecases::WidenedPlan& plan) {
    widens_->setVisible(!snapshot_->of_kind("viewing_note").empty());
    unseen_->setVisible(!plan.widened.empty());
    const auto currency = form_->currency();
    if (currency) unseen_->setText(unseen_words(plan.widened, *currency));
}

void CeilingPanel::fix() {
    const auto typed = plan_typed();
    const auto reckoned = plan_reckoned();
    if (!snapshot_ || !typed || !reckoned) return;
    json plan = json::parse(reckoned->plan);
    json before = json::object();
    for (const char* field : {"outcomes", "conditions"}) {
        if (typed->contains(field)) before[field] = (*typed)[field];
    }
    if (!reckoned->widened.empty()) plan[as_typed] = before;
    auto fixed = usecases::fix_ceiling(session_.acting(), snapshot_->picture.id, plan.dump());
    if (!fixed) {
        emit session_.refused(fixed.error());
        return;
    }
    session_.did(std::move(fixed->done), tr("limit"));
}

void CeilingPanel::set_beside() {
    const auto typed = plan_typed();
    if (!typed) return;
    beside_ = *typed;
    beside_->erase("as_it_stands");
    show_beside_acts();
    study();
}

void CeilingPanel::exchange() {
    const auto typed = plan_typed();
    if (!typed || !beside_) return;
    const json other = *std::exchange(beside_, *typed);
    form_->show_plan(other);
    reckon();
}

void CeilingPanel::show_beside_acts() {
    exchange_->setVisible(beside_.has_value());
    set_beside_->setText(beside_ ? tr("Set this one beside instead") : tr("Set beside as another plan"));
}

}  // namespace tedge::desk
