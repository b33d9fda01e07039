#include <fmt/format.h>

#include "amounts.hpp"
#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/ceiling.hpp"
#include "tedge/money/ceiling_sensitivity.hpp"
#include "tedge/money/invoice.hpp"
#include "tedge/money/margin_scheme.hpp"
#include "tedge/money/resale_royalty.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

constexpr std::uint64_t largest_plan_bytes = 10'000'000;

Expected<std::string> plan_text(const Arguments& arguments) {
    return read_file(path_from_utf8(*arguments.option("plan")), largest_plan_bytes);
}

json ceiling_fields(const std::optional<money::Ceiling>& ceiling) {
    if (!ceiling) return nullptr;
    json fields = {{"hammer", amount(ceiling->hammer)}, {"bid", amount(ceiling->bid)}};
    if (ceiling->reason) fields["reason"] = ceiling->reason->text;
    return fields;
}

std::string ceiling_line(std::string_view name, const std::optional<money::Ceiling>& ceiling) {
    if (!ceiling) return fmt::format("{:7} not asked for", name);
    return fmt::format("{:7} hammer up to {}, bid {}{}", name, to_display_text(ceiling->hammer),
                       to_display_text(ceiling->bid), ceiling->reason ? " (" + ceiling->reason->text + ")" : "");
}

Answer ceiling_answer(const money::CeilingReport& report) {
    Answer answer;
    const auto& at = report.at_bid;
    const auto of_bid = [&](auto member) { return at ? amount((*at).*member) : json(nullptr); };
    answer.fields = {{"ceilings",
                      {{"target", ceiling_fields(report.target)},
                       {"risk", ceiling_fields(report.risk)},
                       {"cash", ceiling_fields(report.cash)}}},
                     {"binding", report.binding ? json(money::limit_name(*report.binding)) : json(nullptr)},
                     {"bid", amount(report.bid)},
                     {"all_in", of_bid(&money::ProfitAtHammer::all_in)},
                     {"margin_price", of_bid(&money::ProfitAtHammer::margin_price)},
                     {"expected_profit", of_bid(&money::ProfitAtHammer::expected_profit)},
                     {"loss_probability", at ? json(at->loss_probability) : json(nullptr)},
                     {"quantiles", nullptr},
                     {"remarks", json::array()}};
    if (at) {
        answer.fields["quantiles"] = {
            {"p5", amount(at->quantiles.p5)}, {"p50", amount(at->quantiles.p50)}, {"p95", amount(at->quantiles.p95)}};
    }
    for (const auto& [name, ceiling] :
         {std::pair{"target", report.target}, std::pair{"risk", report.risk}, std::pair{"cash", report.cash}}) {
        answer.lines.push_back(ceiling_line(name, ceiling));
    }
    if (report.binding) answer.lines.push_back(fmt::format("Binding: {}.", money::limit_name(*report.binding)));
    if (at) {
        answer.lines.push_back(fmt::format("At {}: all-in {}, expected profit {}, chance of loss {} %.",
                                           to_display_text(at->hammer), to_display_text(at->all_in),
                                           to_display_text(at->expected_profit),
                                           format_fixed(100 * at->loss_probability, 1)));
    }
    for (const money::Remark& remark : report.remarks) {
        answer.fields["remarks"].push_back({{"code", remark.code}, {"text", remark.text}});
        answer.lines.push_back(remark.text);
    }
    return answer;
}

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

Expected<Answer> ceiling(Context& /*context*/, const Arguments& arguments) {
    const auto text = plan_text(arguments);
    if (!text) return pass_on(text);
    const auto plan = money::parse_ceiling_plan(*text);
    if (!plan) return pass_on(plan);
    const auto report = money::solve_ceiling(*plan);
    if (!report) return pass_on(report);
    Answer answer = ceiling_answer(*report);
    if (!arguments.flag("sensitivity")) return answer;
    const auto swings = money::ceiling_sensitivity(*plan);
    if (!swings) return pass_on(swings);
    add_swings(*swings, answer);
    return answer;
}

Expected<Answer> bill(Context& /*context*/, const Arguments& arguments) {
    const auto text = plan_text(arguments);
    if (!text) return pass_on(text);
    const auto terms = money::parse_sale_terms(*text);
    if (!terms) return pass_on(terms);
    const auto hammer = parse_money(*arguments.option("hammer"), terms->currency);
    if (!hammer) return pass_on(hammer);
    const auto made = money::invoice(*terms, *hammer);
    if (!made) return pass_on(made);
    Answer answer;
    answer.fields = {{"lines", json::array()},
                     {"total", amount(made->total)},
                     {"margin_price", amount(made->margin_price)},
                     {"currency", std::string(terms->currency.code())}};
    for (const money::InvoiceLine& line : made->lines) {
        answer.fields["lines"].push_back({{"name", money::charge_name(line.charge)}, {"amount", amount(line.amount)}});
        answer.lines.push_back(fmt::format("{:20} {}", money::charge_name(line.charge), to_display_text(line.amount)));
    }
    answer.lines.push_back(fmt::format("{:20} {}", "total", to_display_text(made->total)));
    return answer;
}

Expected<Answer> royalty(Context& /*context*/, const Arguments& arguments) {
    const auto day = parse_date(*arguments.option("on"));
    if (!day) return pass_on(day);
    const auto rules = money::royalty_rules_on(*day);
    if (!rules) return pass_on(rules);
    const auto price = parse_money(*arguments.option("price"), rules->currency);
    if (!price) return pass_on(price);
    const auto owed = money::resale_royalty(*price, *rules);
    if (!owed) return pass_on(owed);
    Answer answer;
    answer.fields = {{"royalty", amount(*owed)}, {"currency", std::string(rules->currency.code())}};
    answer.lines = {fmt::format("{} on a price of {}, if the right applies to this work and sale.",
                                to_display_text(*owed), to_display_text(*price))};
    return answer;
}

Expected<Answer> margin(Context& /*context*/, const Arguments& arguments) {
    const auto currency = Currency::parse(arguments.option_or("currency", "GBP"));
    if (!currency) return pass_on(currency);
    const auto bought = parse_money(*arguments.option("bought"), *currency);
    const auto sold = parse_money(*arguments.option("sold"), *currency);
    if (!bought) return pass_on(bought);
    if (!sold) return pass_on(sold);
    Decimal percent = money::current_standard_vat_percent();
    if (const auto given = arguments.option("vat-percent")) {
        const auto parsed = Decimal::parse(*given);
        if (!parsed) return pass_on(parsed);
        percent = *parsed;
    }
    const auto sale = money::margin_scheme(*bought, *sold, percent);
    if (!sale) return pass_on(sale);
    Answer answer;
    answer.fields = {
        {"margin", amount(sale->margin)}, {"vat", amount(sale->vat)}, {"vat_percent", percent.to_double()}};
    answer.lines = {fmt::format("Margin {}, of which VAT {} at {} %.", to_display_text(sale->margin),
                                to_display_text(sale->vat), percent.to_text())};
    return answer;
}

}  // namespace

std::vector<Command> money_commands() {
    return {
        {"ceiling",
         {{}, {"plan"}, {"plan"}, {"sensitivity"}},
         "What may be bid: by profit, by risk, by cash, and which of them binds.",
         ceiling},
        {"invoice",
         {{}, {"plan", "hammer"}, {"plan", "hammer"}},
         "What the saleroom is to charge at a hammer price, line by line.",
         bill},
        {"resale-royalty",
         {{}, {"price", "on"}, {"price", "on"}},
         "The artist's resale royalty (United Kingdom) on a price and day.",
         royalty},
        {"margin-scheme",
         {{}, {"bought", "sold", "currency", "vat-percent"}, {"bought", "sold"}},
         "Margin and the VAT in it under the dealer's margin scheme.",
         margin},
    };
}

}  // namespace tedge::cli
