// What takes longer than a keystroke may: the curve, which guess moves the limit most, the plans beside one another.
#include <QLabel>
#include <algorithm>

#include "ceiling/ceiling_panel.hpp"
#include "ceiling/ceiling_words.hpp"
#include "ceiling/profit_chart.hpp"
#include "ceiling/swing_chart.hpp"
#include "tedge/money/ceiling_sensitivity.hpp"
#include "tedge/money/courses.hpp"
#include "tedge/money/profit_curve.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

struct Study {
    std::vector<money::ProfitAtHammer> curve{};
    std::vector<money::CeilingSwing> swings{};
    std::optional<Money> limit{};
    std::optional<Money> ceiling{};  // the hammer price of the one that binds
    QString plans{};
};

Study studied_plan(const money::CeilingPlan& plan, const std::optional<money::CeilingPlan>& beside) {
    Study study;
    const auto report = money::solve_ceiling(plan);
    if (!report) return study;
    study.limit = report->bid;
    study.ceiling = money::binding_hammer(*report);
    auto curve = money::profit_curve(plan, money::hammers_to_chart(plan, *report));
    if (curve) study.curve = *std::move(curve);
    auto swings = money::ceiling_sensitivity(plan);
    if (swings) study.swings = *std::move(swings);
    std::vector<money::NamedPlan> named{{plain(QObject::tr("this plan")), plan}};
    if (beside) named.push_back({plain(QObject::tr("the one beside")), *beside});
    const bool has_found = std::ranges::any_of(named, [](const auto& each) { return each.plan.as_found.has_value(); });
    if (named.size() == 1 && !has_found) return study;
    const auto plans = money::plans_beside_one_another(named);
    study.plans = plans ? plans_table(*plans) : shown(plans.error().message + " " + plans.error().next);
    return study;
}

}  // namespace

void CeilingPanel::study() {
    typed_meanwhile_ = work_->running();
    const auto text = plan_reckoned();
    const auto plan = text ? money::parse_ceiling_plan(text->plan) : Expected<money::CeilingPlan>(pass_on(text));
    if (typed_meanwhile_ || !plan) return;
    std::optional<money::CeilingPlan> other;
    if (beside_) {
        auto read = money::parse_ceiling_plan(beside_->dump());
        if (read) other = *std::move(read);
    }
    work_->begin([this, plan = *plan, other](const Progress&) {
        work_->tell([this, study = studied_plan(plan, other)] {
            chart_->show_curve(study.curve, study.limit);
            swings_->show_swings(study.swings, study.ceiling);
            drawn_->setVisible(!chart_->isHidden());
            moves_->setVisible(!swings_->isHidden());
            plans_->setVisible(!study.plans.isEmpty());
            plans_->setText(study.plans);
        });
    });
}

}  // namespace tedge::desk
