#include <fmt/format.h>

#include "amounts.hpp"
#include "command.hpp"
#include "plan_file.hpp"
#include "tedge/money/invoice.hpp"
#include "tedge/money/margin_scheme.hpp"
#include "tedge/money/resale_royalty.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<Answer> bill(Context& /*context*/, const Arguments& arguments) {
    const auto text = plan_text(arguments, "plan");
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
