// What may be bid, asked of plans in files; no casebook is needed.
#include <fmt/format.h>

#include "command.hpp"
#include "plan_file.hpp"
#include "tedge/money/ceiling_sensitivity.hpp"
#include "tedge/money/profit_curve.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

void add_swings(const std::vector<money::CeilingSwing>& swings, Answer& answer) {
    json list = json::array();
    for (const money::CeilingSwing& swing : swings) {
        list.push_back({{"field", swing.field},
                        {"name", swing.name},
                        {"hammer_at_low", amount(swing.at_low)},
                        {"hammer_at_high", amount(swing.at_high)}});
        answer.lines.push_back(fmt::format("{}{}: {} at its low value, {} at its high value.", swing.field,
                                           swing.name.empty() ? "" : " (" + swing.name + ")",
                                           to_display_text(swing.at_low), to_display_text(swing.at_high)));
    }
    answer.fields["sensitivity"] = std::move(list);
}

std::string profit_line(const money::ProfitAtHammer& at) {
    return fmt::format("{:>16}  all-in {:>16}  expected {:>16}  loss {:>5} %  between {} and {}",
                       to_display_text(at.hammer), to_display_text(at.all_in), to_display_text(at.expected_profit),
                       format_fixed(100 * at.loss_probability, 1), to_display_text(at.quantiles.p5),
                       to_display_text(at.quantiles.p95));
}

void add_curve(const std::vector<money::ProfitAtHammer>& curve, Answer& answer) {
    answer.fields["curve"] = json::array();
    for (const money::ProfitAtHammer& at : curve) {
        answer.fields["curve"].push_back(profit_fields(at));
        answer.lines.push_back(profit_line(at));
    }
    if (!curve.empty()) answer.lines.emplace_back("Between: nine times in ten the profit lies there.");
}

Expected<money::CeilingPlan> plan_in(const Arguments& arguments, std::string_view option) {
    const auto text = plan_text(arguments, option);
    if (!text) return pass_on(text);
    return money::parse_ceiling_plan(*text);
}

Expected<Answer> ceiling(Context& /*context*/, const Arguments& arguments) {
    const auto plan = plan_in(arguments, "plan");
    if (!plan) return pass_on(plan);
    const auto report = money::solve_ceiling(*plan);
    if (!report) return pass_on(report);
    Answer answer = ceiling_answer(*report);
    if (arguments.flag("sensitivity")) {
        const auto swings = money::ceiling_sensitivity(*plan);
        if (!swings) return pass_on(swings);
        add_swings(*swings, answer);
    }
    if (arguments.flag("curve")) {
        const auto curve = money::profit_curve(*plan, money::hammers_to_chart(*plan, *report));
        if (!curve) return pass_on(curve);
        add_curve(*curve, answer);
    }
    return answer;
}

Expected<std::optional<Money>> hammer_asked(const Arguments& arguments, const Currency& currency) {
    const auto typed = arguments.option("hammer");
    if (!typed) return std::optional<Money>();
    const auto hammer = said_by("hammer", parse_money(*typed, currency));
    if (!hammer) return pass_on(hammer);
    return std::optional(*hammer);
}

Answer beside_answer(const money::PlansBeside& beside) {
    Answer answer;
    answer.fields = {{"hammer", amount(beside.hammer)}, {"plans", json::array()}};
    for (const money::PlanBeside& plan : beside.plans) {
        json fields = ceiling_answer(plan.report).fields;
        fields["name"] = plan.name;
        fields["at_hammer"] = plan.at_hammer ? profit_fields(*plan.at_hammer) : json(nullptr);
        answer.fields["plans"].push_back(std::move(fields));
        const auto& bid = plan.report.bid;
        answer.lines.push_back(fmt::format(
            "{}: bid {}{}", plan.name, bid ? to_display_text(*bid) : "without limit",
            plan.report.binding ? fmt::format(" ({} binds)", money::limit_name(*plan.report.binding)) : ""));
        if (plan.at_hammer) answer.lines.push_back(profit_line(*plan.at_hammer));
    }
    add_remarks(beside.remarks, answer);
    return answer;
}

Expected<Answer> compare(Context& /*context*/, const Arguments& arguments) {
    const auto first = plan_in(arguments, "plan");
    if (!first) return pass_on(first);
    std::vector<money::NamedPlan> plans{{*arguments.option("plan"), *first}};
    if (arguments.option("with")) {
        const auto second = plan_in(arguments, "with");
        if (!second) return pass_on(second);
        plans.push_back({*arguments.option("with"), *second});
    }
    const auto hammer = hammer_asked(arguments, first->sale.currency);
    if (!hammer) return pass_on(hammer);
    const auto beside = money::plans_beside_one_another(plans, *hammer);
    if (!beside) return pass_on(beside);
    return beside_answer(*beside);
}

}  // namespace

std::vector<Command> ceiling_commands() {
    return {
        {"ceiling",
         {{}, {"plan"}, {"plan"}, {"sensitivity", "curve"}},
         "What may be bid: by profit, by risk, by cash, and which of them binds; --curve: the profit against the "
         "hammer.",
         ceiling},
        {"ceiling compare",
         {{}, {"plan", "with", "hammer"}, {"plan"}},
         "Plans beside one another at one hammer price, sold as found among them.",
         compare},
    };
}

}  // namespace tedge::cli
