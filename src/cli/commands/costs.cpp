// What work may cost, what it came to in past cases, and what outcomes rest on.
#include <fmt/format.h>

#include "amounts.hpp"
#include "command.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/costs.hpp"
#include "tedge/usecases/usual_currency.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json estimate_fields(const Estimate<std::int64_t>& minor, const Currency& currency) {
    return json::array({amount(Money{minor.low, currency}), amount(Money{minor.likely, currency}),
                        amount(Money{minor.high, currency})});
}

std::string estimate_words(const Estimate<std::int64_t>& minor, const Currency& currency) {
    return fmt::format("{} likely ({} to {})", to_display_text({minor.likely, currency}),
                       to_display_text({minor.low, currency}), to_display_text({minor.high, currency}));
}

// "50" or "45,50,70": what an hour costs.
Expected<usecases::HourlyRate> rate_of(const Arguments& arguments, const Currency& currency) {
    const std::string typed = arguments.option_or("rate", "");
    const auto parts = split(typed, ',');
    std::vector<std::int64_t> minor;
    for (const std::string_view part : parts) {
        const auto one = said_by("rate", parse_money(trimmed(part), currency));
        if (!one) return pass_on(one);
        minor.push_back(one->minor);
    }
    if (minor.size() == 1) return usecases::HourlyRate{Estimate<std::int64_t>::certain(minor[0]), currency};
    if (minor.size() == 3) return usecases::HourlyRate{{minor[0], minor[1], minor[2]}, currency};
    return fail("usage.not-a-rate", "--rate is to be one amount, or three: low, likely, high.",
                "Write 50, or 45,50,70.", {{"option", "rate"}});
}

Answer suggested_answer(const std::vector<usecases::SuggestedCost>& costs, const Currency& currency) {
    Answer answer;
    answer.fields = {{"currency", std::string(currency.code())}, {"costs", json::array()}};
    for (const usecases::SuggestedCost& cost : costs) {
        answer.fields["costs"].push_back({{"treatment", cost.treatment},
                                          {"name", cost.name},
                                          {"quantity", cost.quantity},
                                          {"measure", cost.measure},
                                          {"amount", estimate_fields(cost.amount_minor, currency)},
                                          {"needed", usecases::to_text(cost.needed)},
                                          {"because", cost.because},
                                          {"source", cost.source}});
        if (cost.needed == usecases::Needed::no) {
            answer.lines.push_back(fmt::format("{}: not needed; {}", cost.name, cost.because));
            continue;
        }
        answer.lines.push_back(fmt::format("{}{}: {}; {} By the {}.", cost.name,
                                           cost.needed == usecases::Needed::unknown ? " (if needed)" : "",
                                           estimate_words(cost.amount_minor, currency), cost.because, cost.source));
    }
    return answer;
}

Expected<Answer> suggest(Context& context, const Arguments& arguments) {
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    auto currency = Expected<Currency>(usecases::usual_currency(acting->book, *case_id));
    if (const auto said = arguments.option("currency")) currency = said_by("currency", Currency::parse(*said));
    if (!currency) return pass_on(currency);
    const auto rate = rate_of(arguments, *currency);
    if (!rate) return pass_on(rate);
    const auto prices = usecases::price_book(acting->book, *case_id);
    if (!prices) return pass_on(prices);
    const auto snapshot = acting->book.snapshot(*case_id);
    if (!snapshot) return pass_on(snapshot);
    const auto costs = usecases::suggest_costs(*snapshot, *rate, *prices);
    if (!costs) return pass_on(costs);
    Answer answer = suggested_answer(*costs, *currency);
    if (!arguments.flag("record")) return answer;
    const auto written = usecases::record_suggested(*acting, *case_id, *costs, *currency);
    if (!written) return pass_on(written);
    answer.fields["recorded"] = written->size();
    answer.lines.push_back(fmt::format("{} recorded.", counted(written->size(), "cost", "costs")));
    return answer;
}

Expected<Answer> prices_of_book(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto prices = usecases::price_book(**book);
    if (!prices) return pass_on(prices);
    Answer answer;
    answer.fields["prices"] = json::array();
    for (const usecases::PricedAct& priced : *prices) {
        const auto& ratio = priced.actual_to_likely;
        answer.fields["prices"].push_back({{"treatment", priced.treatment},
                                           {"measure", priced.measure},
                                           {"currency", std::string(priced.currency.code())},
                                           {"costs", priced.cases},
                                           {"unit_price", estimate_fields(priced.unit_price_minor, priced.currency)},
                                           {"actual_to_likely", ratio ? json(*ratio) : json(nullptr)}});
        answer.lines.push_back(fmt::format(
            "{} per {}: {}, from {}{}.", priced.treatment, priced.measure,
            estimate_words(priced.unit_price_minor, priced.currency), counted(priced.cases, "cost", "costs"),
            ratio ? fmt::format("; came to {} of the likely estimate", format_fixed(*ratio, 2)) : ""));
    }
    if (prices->empty()) answer.lines.emplace_back("No past cost names its act and what it came to.");
    return answer;
}

Expected<Answer> comparables(Context& context, const Arguments& arguments) {
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    Answer answer;
    answer.fields["outcomes"] = json::array();
    for (const usecases::OutcomeSupport& support : usecases::outcome_support(*snapshot)) {
        json ids = json::array();
        for (const Uuid& id : support.comparables) ids.push_back(to_text(id));
        const bool has_price = support.price_minor && support.currency;
        answer.fields["outcomes"].push_back(
            {{"outcome", support.outcome},
             {"comparables", ids},
             {"sold", support.sold},
             {"unsold", support.unsold},
             {"price", has_price ? estimate_fields(*support.price_minor, *support.currency) : json(nullptr)},
             {"currency", has_price ? json(support.currency->code()) : json(nullptr)},
             {"doubts", support.doubts}});
        answer.lines.push_back(fmt::format(
            "{}: {} sold, {} unsold{}", support.outcome.empty() ? "for no outcome" : support.outcome, support.sold,
            support.unsold, has_price ? ", " + estimate_words(*support.price_minor, *support.currency) : ""));
        for (const std::string& doubt : support.doubts) answer.lines.push_back("  " + doubt);
    }
    if (answer.lines.empty()) answer.lines.emplace_back("No comparable is recorded, and no plan is fixed.");
    return answer;
}

}  // namespace

std::vector<Command> cost_commands() {
    return {
        {"costs suggest",
         {{"DIR", "CASE"}, {"rate", "currency"}, {"rate"}, {"record"}},
         "What each treatment may cost at an hourly rate (one, or low,likely,high), by size and by what was found.",
         suggest},
        {"costs book",
         {{"DIR"}, {}},
         "What acts came to in past cases, by their measure, beside what was estimated.",
         prices_of_book},
        {"comparables",
         {{"DIR", "CASE"}, {}},
         "What each outcome rests on: sold and unsold, range, doubts.",
         comparables},
    };
}

}  // namespace tedge::cli
