// Terms of sales to begin with, the ways to bid, and what a hammer price comes to in all.
#include <fmt/format.h>

#include "command.hpp"
#include "plan_file.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/money/sale_presets.hpp"
#include "tedge/usecases/terms_to_begin_with.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<std::chrono::year_month_day> day_asked(Context& context, const Arguments& arguments) {
    if (const auto on = arguments.option("on")) return said_by("on", parse_date(*on));
    return std::chrono::year_month_day(std::chrono::floor<std::chrono::days>(context.clock().now()));
}

Expected<Answer> presets(Context& context, const Arguments& arguments) {
    const auto day = day_asked(context, arguments);
    if (!day) return pass_on(day);
    Answer answer;
    answer.fields["presets"] = json::array();
    for (const money::SalePreset& preset : money::sale_presets_on(*day)) {
        answer.fields["presets"].push_back(
            {{"name", preset.name},
             {"label", preset.label},
             {"currency", std::string(preset.terms.currency.code())},
             {"terms", usecases::terms_of_preset(preset)},
             {"valid_from", preset.valid_from.empty() ? json(nullptr) : json(preset.valid_from)},
             {"valid_to", preset.valid_to.empty() ? json(nullptr) : json(preset.valid_to)},
             {"status", preset.status},
             {"source", preset.source}});
        answer.lines.push_back(fmt::format("{}: {} ({})", preset.name, preset.label, preset.status));
    }
    answer.lines.emplace_back("The sale's own conditions decide; read them before you bid.");
    return answer;
}

// Of the preset named, or of the sale in a plan.
Expected<money::SaleTerms> terms_asked(Context& context, const Arguments& arguments) {
    if (arguments.option("preset").has_value() == arguments.option("plan").has_value()) {
        return fail("usage.one-of-two", "Say either --preset or --plan.", "tedge sale presets lists the presets.",
                    {{"option", "preset"}});
    }
    if (const auto name = arguments.option("preset")) {
        const auto day = day_asked(context, arguments);
        if (!day) return pass_on(day);
        const auto preset = money::sale_preset(*name, *day);
        if (!preset) return pass_on(preset);
        return preset->terms;
    }
    const auto text = plan_text(arguments, "plan");
    if (!text) return pass_on(text);
    return money::parse_sale_terms(*text);
}

Expected<Answer> round_prices(Context& context, const Arguments& arguments) {
    const auto terms = terms_asked(context, arguments);
    if (!terms) return pass_on(terms);
    const auto lines = money::round_hammers(*terms);
    if (!lines) return pass_on(lines);
    Answer answer;
    answer.fields = {{"currency", std::string(terms->currency.code())}, {"prices", json::array()}};
    for (const money::RoundHammer& line : *lines) {
        answer.fields["prices"].push_back({{"hammer", amount(line.hammer)},
                                           {"all_in", amount(line.all_in)},
                                           {"percent_above_hammer", line.percent_above_hammer}});
        answer.lines.push_back(fmt::format("{:>16} comes to {:>16}, {} % more", to_display_text(line.hammer),
                                           to_display_text(line.all_in), format_fixed(line.percent_above_hammer, 1)));
    }
    return answer;
}

Expected<Answer> routes(Context& context, const Arguments& arguments) {
    const auto terms = terms_asked(context, arguments);
    if (!terms) return pass_on(terms);
    const auto hammer = said_by("hammer", parse_money(*arguments.option("hammer"), terms->currency));
    if (!hammer) return pass_on(hammer);
    std::vector<money::BiddingRoute> ways = money::usual_bidding_routes();
    if (arguments.option("plan")) {
        const auto text = plan_text(arguments, "plan");
        if (!text) return pass_on(text);
        auto own = money::parse_bidding_routes(*text);
        if (!own) return pass_on(own);
        if (!own->empty()) ways = *std::move(own);
    }
    const auto costs = money::compare_routes(*terms, ways, *hammer);
    if (!costs) return pass_on(costs);
    Answer answer;
    answer.fields = {{"currency", std::string(terms->currency.code())}, {"routes", json::array()}};
    for (const money::RouteCost& cost : *costs) {
        answer.fields["routes"].push_back({{"route", cost.route.name},
                                           {"label", cost.route.label},
                                           {"surcharge_percent", cost.route.surcharge_percent.to_double()},
                                           {"total", amount(cost.total)},
                                           {"dearer_by", amount(cost.dearer_by)},
                                           {"same_all_in_at", amount(cost.same_all_in_at)},
                                           {"status", cost.route.status},
                                           {"source", cost.route.source}});
        answer.lines.push_back(fmt::format("{}: {}, {} more; as much as the cheapest at {} ({})", cost.route.label,
                                           to_display_text(cost.total), to_display_text(cost.dearer_by),
                                           to_display_text(cost.same_all_in_at), cost.route.status));
    }
    return answer;
}

}  // namespace

std::vector<Command> sale_commands() {
    return {
        {"sale presets", {{}, {"on"}}, "Terms of sale to begin with, each with its days, source and status.", presets},
        {"sale prices",
         {{}, {"preset", "plan", "on"}},
         "What round hammer prices come to in all, by preset terms or those of a plan.",
         round_prices},
        {"sale routes",
         {{}, {"preset", "plan", "on", "hammer"}, {"hammer"}},
         "One hammer price by every way to bid: those of the plan, else room, telephone, commission bid, platforms.",
         routes},
    };
}

}  // namespace tedge::cli
