#include "duty_questions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "account_records.hpp"
#include "sums.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/resale_royalty.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

Asked asked(CalledFor called, std::string why) {
    return {called, std::move(why), {}, {}};
}

int year_of(std::chrono::year_month_day day) {
    return static_cast<int>(day.year());
}

// --- borders ----------------------------------------------------------------------------------------------------

// Whether it is surely younger than that on the day of the deal.
bool is_surely_younger(const DutyFacts& facts, int years) {
    return facts.made_from_year && year_of(facts.deal_day) - *facts.made_from_year < years;
}

std::string told_limit(const DutyFacts& facts, const money::ExportLimit& limit) {
    std::string told = fmt::format("{}, {}", limit.regime, limit.category);
    if (limit.least_age_years > 0) told += fmt::format(", over {} years", limit.least_age_years);
    if (!limit.threshold) return told;
    told += fmt::format(", from {}", to_display_text(*limit.threshold));
    if (!facts.value) return told + " (no value is recorded)";
    if (facts.value->currency != limit.threshold->currency)
        return told + fmt::format(" ({} {}: convert it at the rate of the day)", facts.value_is,
                                  to_display_text(*facts.value));
    const bool reaches = facts.value->minor >= limit.threshold->minor;
    return told +
           fmt::format(" ({} {}: {} it)", facts.value_is, to_display_text(*facts.value), reaches ? "reaches" : "below");
}

// Asks the rows of one area; what the picture is surely too young for is not asked.
void ask_area(std::string_view area, const DutyFacts& facts, Asked& answer, bool& any) {
    for (const money::ExportLimit& limit : money::border_limits(area, facts.group)) {
        if (is_surely_younger(facts, limit.least_age_years)) continue;
        any = true;
        answer.remarks.push_back(told_limit(facts, limit) + ".");
        answer.sources.push_back(limit.source);
    }
}

std::string told_crossing(const Crossing& crossing) {
    return fmt::format("By the {} it goes from {} to {}.", crossing.act, crossing.from, crossing.to);
}

std::string told_age(const DutyFacts& facts) {
    if (!facts.made_from_year) return "When it was made is not recorded.";
    const auto age = year_of(facts.deal_day) - *facts.made_from_year;
    return fmt::format("It was made in {} or later, up to {} years before the deal.", *facts.made_from_year, age);
}

Asked no_crossing(const DutyFacts& facts) {
    if (facts.country.empty()) return asked(CalledFor::unknown, "The country of the house is not said.");
    if (!facts.way_is_known)
        return asked(CalledFor::unknown, "Where it was bought and where it goes to is not all recorded.");
    return asked(CalledFor::no, fmt::format("It was bought in {0} and stays in {0}.", facts.country));
}

Asked ask_export(const DutyFacts& facts) {
    if (facts.crossings.empty()) return no_crossing(facts);
    Asked answer = asked(CalledFor::yes, "");
    bool any = false, knows_all = true;
    for (const Crossing& crossing : facts.crossings) {
        answer.why += told_crossing(crossing) + " ";
        const bool union_leaves = is_in_european_union(crossing.from) && !is_in_european_union(crossing.to);
        if (union_leaves) ask_area("EU", facts, answer, any);
        ask_area(crossing.from, facts, answer, any);
        const bool known = union_leaves || !money::border_limits(crossing.from, facts.group).empty();
        if (!known) answer.remarks.push_back(fmt::format("No rule of {} is in the tables: ask there.", crossing.from));
        knows_all = knows_all && known;
    }
    answer.why += told_age(facts);
    if (knows_all && !any) answer.called = CalledFor::no;
    return answer;
}

Asked ask_import(const DutyFacts& facts) {
    if (facts.crossings.empty()) return no_crossing(facts);
    Asked answer = asked(CalledFor::yes, "");
    bool any = false;
    for (const Crossing& crossing : facts.crossings) {
        answer.why += told_crossing(crossing) + " ";
        if (is_in_european_union(crossing.to) && !is_in_european_union(crossing.from))
            ask_area("EU-import", facts, answer, any);
        if (crossing.to == "GB") {
            answer.remarks.push_back("Import VAT of the United Kingdom on works of art: 5 % in effect.");
            if (const auto row = money::legal_limit_on("import VAT fraction", facts.deal_day))
                answer.sources.push_back(row->source);
        }
    }
    answer.why += told_age(facts);
    return answer;
}

// The tables hold the rule of the United Kingdom alone: below its limit elsewhere nothing is answered.
Asked by_british_rule(Asked answer, const DutyFacts& facts) {
    if (answer.called != CalledFor::no || facts.country.empty() || facts.country == "GB") return answer;
    answer.called = CalledFor::unknown;
    answer.why += fmt::format(" The rule of {} is not in the tables here: ask what applies there.", facts.country);
    return answer;
}

// --- the deal ---------------------------------------------------------------------------------------------------

Asked ask_resale_right(const DutyFacts& facts) {
    if (facts.sale == nullptr) return asked(CalledFor::unknown, "It is not sold; asked again of the sale.");
    constexpr int term_years = 70, longest_life_years = 100;  // the life: own bound, nobody paints longer
    const int sold = year_of(facts.deal_day);
    if (facts.made_to_year && *facts.made_to_year + longest_life_years + term_years < sold)
        return asked(CalledFor::no,
                     fmt::format("Made by {} at the latest: whoever made it is dead for more than {} years.",
                                 *facts.made_to_year, term_years));
    const auto rules = money::royalty_rules_on(facts.deal_day);
    if (!rules) return asked(CalledFor::unknown, rules.error().message);
    const auto price = at_recorded_rate(*facts.sale, *facts.sale->body.money("price"), rules->currency);
    if (!price) return asked(CalledFor::unknown, price.error().message + " " + price.error().next);
    const auto royalty = money::resale_royalty(*price, *rules);
    if (!royalty) return asked(CalledFor::unknown, royalty.error().message);
    if (royalty->minor == 0)
        return by_british_rule(
            asked(CalledFor::no, fmt::format("Sold for {}, below the least price of the right in the United Kingdom.",
                                             to_display_text(*price))),
            facts);
    return asked(CalledFor::yes,
                 fmt::format("Sold for {}: {} in the United Kingdom, if the artist is not dead for more than {} years "
                             "and the right applies to nationality and sale.",
                             to_display_text(*price), to_display_text(*royalty), term_years));
}

// A deal's sum in the currency of the limit; none where it cannot be converted.
std::optional<Money> sum_of(const Record* record, const char* field, const Currency& currency) {
    const auto amount = record != nullptr ? record->body.money(field) : std::nullopt;
    if (!amount) return std::nullopt;
    const auto converted = at_recorded_rate(*record, *amount, currency);
    return converted ? std::optional(*converted) : std::nullopt;
}

Asked ask_money_laundering(const DutyFacts& facts, const std::vector<LinkedSale>& linked) {
    if (facts.sale == nullptr && facts.purchase == nullptr)
        return asked(CalledFor::unknown, "Neither purchase nor sale is recorded.");
    const auto limit = money::money_laundering_limit_on(facts.deal_day);
    if (!limit)
        return asked(CalledFor::unknown,
                     "No threshold for the day of the deal is in the tables here: ask which applied.");
    const Currency& currency = limit->amount.currency;
    Asked answer = asked(CalledFor::no, fmt::format("On {} the threshold of the United Kingdom was {}.",
                                                    to_text(facts.deal_day), to_display_text(limit->amount)));
    answer.sources.push_back(limit->source);
    Money together{0, currency};
    bool all_known = true;
    for (const auto& [record, field, what] :
         {std::tuple{facts.purchase, "all_in", "bought"}, std::tuple{facts.sale, "price", "sold"}}) {
        if (record == nullptr) continue;
        const auto sum = sum_of(record, field, currency);
        all_known = all_known && sum.has_value();
        if (!sum) {
            answer.why += fmt::format(" {} for a sum that is not in {}, and no rate is recorded with it.",
                                      record == facts.sale ? "Sold" : "Bought", currency.code());
            continue;
        }
        answer.why += fmt::format(" It was {} for {}.", what, to_display_text(*sum));
        if (sum->minor >= limit->amount.minor) answer.called = CalledFor::yes;
        if (record == facts.sale) together = *sum;
    }
    for (const LinkedSale& sale : linked) {
        answer.remarks.push_back(fmt::format("The buyer also bought \"{}\" on {}{}: is it linked?", sale.title,
                                             sale.sold_on, sale.price ? " for " + to_display_text(*sale.price) : ""));
        all_known = all_known && sale.price.has_value();
        if (sale.price) together.minor += sale.price->minor;
    }
    if (answer.called == CalledFor::no && together.minor >= limit->amount.minor) {
        answer.called = CalledFor::yes;
        answer.why += fmt::format(" With other sales to the buyer it comes to {}.", to_display_text(together));
    }
    if (answer.called == CalledFor::no && !all_known) answer.called = CalledFor::unknown;
    if (answer.called == CalledFor::yes &&
        std::ranges::none_of(facts.snapshot->of_kind("document"),
                             [](const Record* r) { return r->body.text_or("sort") == "identity"; }))
        answer.remarks.push_back("No identity paper is kept with this picture.");
    return by_british_rule(std::move(answer), facts);
}

Asked ask_bidding(const DutyFacts& facts) {
    if (facts.snapshot->of_kind("lot").empty())
        return asked(facts.purchase != nullptr ? CalledFor::no : CalledFor::unknown,
                     "No lot is recorded: it was not bought at an auction, as far as this says.");
    return asked(CalledFor::yes, facts.snapshot->of_kind("share").empty()
                                     ? "It came up as a lot: was anybody asked not to bid, or paid for it?"
                                     : "It came up as a lot and others have a share in it.");
}

Asked ask_joint(const DutyFacts& facts) {
    const auto shares = facts.snapshot->of_kind("share");
    if (shares.empty()) return asked(CalledFor::no, "Nobody else is recorded as having a share in it.");
    Asked answer = asked(CalledFor::yes,
                         fmt::format("{} recorded in it.", shares.size() == 1 ? "One share is" : "Several shares are"));
    if (std::ranges::any_of(shares, [](const Record* r) { return !r->body.has("agreement"); }))
        answer.remarks.push_back("A share names no agreement in writing.");
    return answer;
}

Asked ask_cancellation(const DutyFacts& facts) {
    if (facts.sale == nullptr) return asked(CalledFor::unknown, "It is not sold; asked again of the sale.");
    const std::string how = facts.sale->body.text_or("concluded");
    const std::string who = facts.sale->body.text_or("buyer_is");
    if (who == "trade") return asked(CalledFor::no, "The buyer is of the trade.");
    if (how == "face-to-face") return asked(CalledFor::no, "The sale was concluded face to face, on the premises.");
    if (how.empty() || who != "consumer")
        return asked(CalledFor::unknown,
                     "How the sale was concluded, or whether the buyer is a consumer, is not said.");
    Asked answer = asked(CalledFor::yes, how == "public-auction"
                                             ? "A consumer bought at a public auction: whether it could be attended "
                                               "decides."
                                             : "A consumer bought at a distance or away from the premises.");
    if (const auto delivered = parse_date(facts.sale->body.text_or("delivered_on"))) {
        const std::chrono::year_month_day until = std::chrono::sys_days(*delivered) + std::chrono::days(14);
        answer.remarks.push_back(
            fmt::format("Delivered on {}: fourteen days run until {} (from memory; longer where he "
                        "was not told of his right).",
                        to_text(*delivered), to_text(until)));
    } else {
        answer.remarks.push_back("The day of delivery is not recorded: the days have not begun to run.");
    }
    return answer;
}

// --- the picture ------------------------------------------------------------------------------------------------

Asked ask_material(const DutyFacts& facts) {
    Asked answer;
    for (const char* name : {"ivory ban", "ivory ban, more animals", "ivory portrait miniature", "ivory de minimis",
                             "worked specimen date"})
        if (const auto row = money::legal_limit_on(name, facts.deal_day)) answer.sources.push_back(row->source);
    constexpr std::array words{"ivory",   "tortoiseshell", "turtle",     "whalebone", "baleen",
                               "narwhal", "hippopotamus",  "rhinoceros", "shagreen",  "rosewood"};
    std::string texts = facts.snapshot->picture.body.text_or("technique");
    const auto frames = facts.snapshot->of_kind("picture_frame");
    bool all_no = !frames.empty(), any_yes = false;
    for (const Record* frame : frames) {
        const std::string said = frame->body.text_or("protected_material");
        texts += " " + frame->body.text_or("description");
        all_no = all_no && said == "no";
        any_yes = any_yes || said == "yes";
    }
    const std::string lowered = lowered_ascii(texts);
    const auto named = std::ranges::find_if(words, [&](const char* w) { return lowered.find(w) != std::string::npos; });
    if (any_yes || named != words.end()) {
        answer.called = CalledFor::yes;
        answer.why = any_yes ? "The frame's record says that it holds a protected material."
                             : fmt::format("Its description speaks of {}.", *named);
    } else {
        answer.called = all_no ? CalledFor::no : CalledFor::unknown;
        answer.why = all_no ? "The frame was looked at, and no protected material was found."
                            : "Nobody has recorded whether frame or support hold a protected material.";
    }
    return answer;
}

Asked ask_years(const DutyFacts& facts) {
    if (!facts.made_from_year) return asked(CalledFor::unknown, "When it was made is not recorded.");
    if (*facts.made_from_year > 1945)
        return asked(CalledFor::no, fmt::format("It was made in {} or later.", *facts.made_from_year));
    return asked(CalledFor::yes,
                 fmt::format("It may have been there by 1945: made in {} or later.", *facts.made_from_year));
}

}  // namespace

Asked asked_by_facts(std::string_view duty, const DutyFacts& facts, const std::vector<LinkedSale>& linked) {
    if (duty == "export") return ask_export(facts);
    if (duty == "import") return ask_import(facts);
    if (duty == "resale-right") return ask_resale_right(facts);
    if (duty == "money-laundering") return ask_money_laundering(facts, linked);
    if (duty == "sanctions") return asked(CalledFor::yes, "Asked of every party, at any value.");
    if (duty == "bidding-agreement") return ask_bidding(facts);
    if (duty == "joint-purchase") return ask_joint(facts);
    if (duty == "cancellation") return ask_cancellation(facts);
    if (duty == "protected-material") return ask_material(facts);
    if (duty == "register-search") return asked(CalledFor::yes, "Asked of every picture, before money is paid.");
    if (duty == "1933-1945") return ask_years(facts);
    return asked(CalledFor::unknown, "");
}

}  // namespace tedge::usecases
