#include "tedge/usecases/portfolio.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "account_records.hpp"
#include "case_plan.hpp"
#include "sums.hpp"
#include "tedge/base/table.hpp"
#include "tedge/money/expected_sale.hpp"
#include "tedge/usecases/house.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

using nlohmann::json;

// Costs of the plan that nobody has recorded: those that are recorded are counted by their records.
json costs_not_recorded(const CaseSnapshot& snapshot, const json& plan) {
    std::set<std::string> recorded;
    for (const Record* line : snapshot.of_kind("cost_line"))
        if (line->body.has("estimate") || line->body.has("actual")) recorded.insert(line->body.text_or("name"));
    json left = json::array();
    for (const json& cost : plan.value("costs", json::array())) {
        const bool is_named = cost.is_object() && cost.contains("name") && cost["name"].is_string();
        if (!is_named || !recorded.contains(cost["name"].get<std::string>())) left.push_back(cost);
    }
    return left;
}

std::string month_after(const std::string& day, int months) {
    const auto from = parse_date(day);
    if (!from) return {};
    const auto then = std::chrono::year_month(from->year(), from->month()) + std::chrono::months(months);
    return tedge::to_text(then / std::chrono::day(1)).substr(0, 7);
}

// "Portrait of a boy": what of which picture is not in the sums.
std::string of_picture(const CaseSnapshot& snapshot, std::string_view what) {
    return fmt::format("\"{}\": {}", snapshot.picture.body.text_or("title"), what);
}

class Gathering {
public:
    enum class Of { all_pictures, one };
    Gathering(const Currency& currency, Of of)
        : of_(of),
          zero_{0, currency},
          made_{.currency = currency,
                .paid_out = zero_,
                .paid_in = zero_,
                .owed_by_us = zero_,
                .owed_to_us = zero_,
                .expected_out = zero_,
                .worst_result = zero_} {}

    Expected<void> take(const CaseSnapshot& snapshot) {
        auto accounts = accounts_of_case(snapshot, made_.currency);
        if (!accounts) {
            if (of_ == Of::one) return pass_on(accounts);
            return refused_for(snapshot, std::move(accounts).error());
        }
        const Record* bought = standing_purchase(snapshot);
        const bool has_money = bought != nullptr || !accounts->entries.empty() || accounts->paid_out.minor != 0;
        if (!has_money && !is_wanted(snapshot)) return {};
        PortfolioRow row{.case_id = snapshot.picture.id,
                         .title = snapshot.picture.body.text_or("title"),
                         .sold = accounts->is_sold(),
                         .paid_out = accounts->paid_out,
                         .paid_in = accounts->paid_in,
                         .owed_by_us = accounts->owed_by_us,
                         .owed_to_us = accounts->owed_to_us,
                         .result = accounts->result};
        for (const std::string& doubt : accounts->doubts) made_.doubts.push_back(told_of(snapshot, doubt));
        if (auto spread = spread_owed(*accounts); !spread) return spread;
        if (bought == nullptr) row.limit = limit_of(snapshot);
        if (bought != nullptr && !row.sold)
            if (auto looked = look_ahead(snapshot, *bought, row); !looked) return looked;
        if (auto summed = sum(row); !summed) return summed;
        made_.rows.push_back(std::move(row));
        return {};
    }

    Portfolio finish() {
        for (auto& [month, figures] : months_)
            if (!month.empty()) made_.months.push_back(figures);
        if (const auto undated = months_.find(""); undated != months_.end()) made_.months.push_back(undated->second);
        return std::move(made_);
    }

private:
    // Among all pictures a doubt names its own.
    [[nodiscard]] std::string told_of(const CaseSnapshot& snapshot, const std::string& what) const {
        return of_ == Of::one ? what : of_picture(snapshot, what);
    }

    // A limit stands and nobody said that the picture is lost.
    static bool is_wanted(const CaseSnapshot& snapshot) {
        const std::string state = snapshot.picture.body.text_or("state");
        const auto lost = [](const Record* lot) {
            const std::string result = lot->body.text_or("result");
            return !result.empty() && result != "bought";
        };
        return newest_of_kind(snapshot, "ceiling") != nullptr && (state.empty() || state == "open") &&
               std::ranges::none_of(snapshot.of_kind("lot"), lost);
    }

    static std::optional<Money> limit_of(const CaseSnapshot& snapshot) {
        const Record* ceiling = newest_of_kind(snapshot, "ceiling");
        return ceiling != nullptr ? ceiling->body.money("limit") : std::nullopt;
    }

    PortfolioMonth& month(const std::string& day) {
        const std::string name = day.substr(0, std::min<std::size_t>(7, day.size()));
        return months_.try_emplace(name, PortfolioMonth{name, zero_, zero_, zero_}).first->second;
    }

    Expected<void> spread_owed(const CaseAccounts& accounts) {
        for (const AccountEntry& entry : accounts.entries) {
            if (!entry.owed || entry.owed->minor <= 0) continue;
            const Money ours = entry.owed_here.value_or(zero_);
            PortfolioMonth& due = month(entry.due_on);
            if (entry.incoming) {
                if (auto added = add_to(due.expected, ours); !added) return added;
                continue;
            }
            if (auto added = add_to(due.needed, ours); !added) return added;
            if (auto added = add_to(due.at_most, ours); !added) return added;
        }
        return {};
    }

    // The plan, and what it is worth nothing for where it cannot be read or counts in another currency.
    std::optional<money::CeilingPlan> plan_of(const CaseSnapshot& snapshot) {
        json plan = plan_fixed_last(snapshot);
        if (plan.empty()) {
            made_.doubts.push_back(told_of(snapshot, "no ceiling was fixed, so nothing is expected of the sale."));
            return std::nullopt;
        }
        const std::string currency = newest_of_kind(snapshot, "ceiling")->body.text_or("plan/currency");
        if (currency != made_.currency.code()) {
            made_.doubts.push_back(told_of(snapshot, fmt::format("its plan is in {}, so nothing is expected in {}.",
                                                                 currency, made_.currency.code())));
            return std::nullopt;
        }
        plan["costs"] = costs_not_recorded(snapshot, plan);
        auto read = money::parse_ceiling_plan(plan.dump());
        if (!read) {
            made_.doubts.push_back(told_of(snapshot, "its plan cannot be reckoned with: " + read.error().message));
            return std::nullopt;
        }
        return *std::move(read);
    }

    Expected<void> look_ahead(const CaseSnapshot& snapshot, const Record& bought, PortfolioRow& row) {
        const auto plan = plan_of(snapshot);
        auto margin_price = bought.body.money("margin_price");
        if (margin_price) {
            const auto ours = at_recorded_rate(bought, *margin_price, made_.currency);
            if (!ours) return pass_on(ours);
            margin_price = *ours;
        }
        std::optional<money::ExpectedSale> sale;
        if (plan) {
            const auto reckoned = money::expected_sale(*plan, made_.currency, margin_price);
            if (!reckoned) return pass_on(reckoned);
            sale = *reckoned;
        }
        if (auto counted = count_costs(snapshot, sale, row); !counted) return counted;
        if (!sale) return {};
        row.expected_out = sale->net;
        row.expected_result = row.result;
        row.worst_result = row.result;
        for (auto [sum, out, costs] : {std::tuple{&row.expected_result, sale->net, *row.costs_to_come},
                                       std::tuple{&row.worst_result, sale->worst_net, *row.costs_at_most}}) {
            if (auto added = add_to(**sum, out); !added) return added;
            if (auto taken = take_from(**sum, costs); !taken) return taken;
        }
        if (sale->months) row.expected_month = month_after(bought.body.text_or("bought_on"), *sale->months);
        return add_to(month(row.expected_month).expected, sale->net);
    }

    // Recorded costs that are estimated alone, and those of the plan that are not recorded.
    Expected<void> count_costs(const CaseSnapshot& snapshot, const std::optional<money::ExpectedSale>& sale,
                               PortfolioRow& row) {
        row.costs_to_come = row.costs_at_most = zero_;
        if (sale)
            if (auto done = put(row, "", sale->costs, sale->worst_costs); !done) return done;
        for (const Record* line : snapshot.of_kind("cost_line")) {
            const auto estimate = line->body.money_estimate("estimate");
            if (!estimate || line->body.has("actual")) continue;
            const auto& minor = estimate->minor;
            const Decimal hundred = Decimal::from_integer(100);
            const Decimal factor = sale ? sale->cost_factor : Decimal::from_integer(1);
            const Decimal most = sale ? sale->worst_cost_factor : Decimal::from_integer(1);
            const auto mean = static_cast<std::int64_t>(divide_rounded(
                WideInteger(minor.low) + WideInteger(minor.likely) * 4 + minor.high, 6, Rounding::half_away_from_zero));
            const auto likely = scaled(*line, {mean, estimate->currency}, factor, hundred);
            const auto highest = scaled(*line, {minor.high, estimate->currency}, most, hundred);
            if (!likely) return pass_on(likely);
            if (!highest) return pass_on(highest);
            if (auto done = put(row, line->body.text_or("due_on"), *likely, *highest); !done) return done;
        }
        return {};
    }

    Expected<Money> scaled(const Record& line, const Money& amount, Decimal factor, Decimal hundred) const {
        const auto ours = at_recorded_rate(line, amount, made_.currency);
        if (!ours) return pass_on(ours);
        const auto percent = Decimal::from_units(factor.units() * (hundred.units() / Decimal::units_per_one));
        return percent_of(*ours, percent, Rounding::half_away_from_zero);
    }

    Expected<void> put(PortfolioRow& row, const std::string& due_on, const Money& likely, const Money& highest) {
        if (likely.minor == 0 && highest.minor == 0) return {};
        PortfolioMonth& due = month(due_on);
        for (auto [sum, amount] : {std::pair{&*row.costs_to_come, likely}, std::pair{&*row.costs_at_most, highest},
                                   std::pair{&due.needed, likely}, std::pair{&due.at_most, highest}})
            if (auto added = add_to(*sum, amount); !added) return added;
        return {};
    }

    Expected<void> sum(const PortfolioRow& row) {
        for (auto [sum, amount] :
             {std::pair{&made_.paid_out, row.paid_out}, std::pair{&made_.paid_in, row.paid_in},
              std::pair{&made_.owed_by_us, row.owed_by_us}, std::pair{&made_.owed_to_us, row.owed_to_us},
              std::pair{&made_.expected_out, row.expected_out.value_or(zero_)},
              // A picture of which nothing is expected is worth nothing in the worst case.
              std::pair{&made_.worst_result, row.worst_result.value_or(worst_without_plan(row))}})
            if (auto added = add_to(*sum, amount); !added) return added;
        return {};
    }

    static Money worst_without_plan(const PortfolioRow& row) {
        Money worst = row.result;
        if (row.costs_at_most) worst.minor -= row.costs_at_most->minor;
        return worst;
    }

    Of of_;
    Money zero_;
    Portfolio made_;
    std::map<std::string, PortfolioMonth> months_;
};

}  // namespace

Expected<Portfolio> portfolio(casebook::Casebook& book) {
    const auto house = house_of(book);
    if (!house) return pass_on(house);
    casebook::KindsWanted kinds{.all_of = kinds_of_accounts(), .any_of = {}};
    kinds.all_of.insert(kinds.all_of.end(), {"ceiling", "lot"});
    const auto snapshots = book.snapshots(kinds);
    if (!snapshots) return pass_on(snapshots);
    Gathering gathering(house->currency, Gathering::Of::all_pictures);
    for (const CaseSnapshot& snapshot : *snapshots)
        if (auto taken = gathering.take(snapshot); !taken) return pass_on(taken);
    return gathering.finish();
}

Expected<Outlook> outlook_of_case(const CaseSnapshot& snapshot, const Currency& currency) {
    Gathering gathering(currency, Gathering::Of::one);
    if (auto taken = gathering.take(snapshot); !taken) return pass_on(taken);
    Portfolio made = gathering.finish();
    Outlook outlook{.doubts = std::move(made.doubts)};
    if (made.rows.empty()) return outlook;
    outlook.row = std::move(made.rows.front());
    for (auto [result, to] : {std::pair{&outlook.row->expected_result, &outlook.expected},
                              std::pair{&outlook.row->worst_result, &outlook.worst}}) {
        if (!*result) continue;
        const auto divided = money::share_result(**result, shares_recorded(snapshot));
        if (!divided) return pass_on(divided);
        *to = *divided;
    }
    return outlook;
}

std::string portfolio_csv(const Portfolio& made) {
    const auto told = [](const std::optional<Money>& amount) { return amount ? to_decimal_text(*amount) : ""; };
    std::string csv = to_csv_line({"picture", "sold", "paid_out", "paid_in", "owed_by_us", "owed_to_us", "result",
                                   "costs_to_come", "costs_at_most", "expected_out", "expected_result", "worst_result",
                                   "expected_month", "limit", "limit_currency", "currency"});
    for (const PortfolioRow& row : made.rows) {
        csv += to_csv_line(
            {row.title, row.sold ? "yes" : "no", to_decimal_text(row.paid_out), to_decimal_text(row.paid_in),
             to_decimal_text(row.owed_by_us), to_decimal_text(row.owed_to_us), to_decimal_text(row.result),
             told(row.costs_to_come), told(row.costs_at_most), told(row.expected_out), told(row.expected_result),
             told(row.worst_result), row.expected_month, told(row.limit),
             row.limit ? std::string(row.limit->currency.code()) : "", std::string(made.currency.code())});
    }
    return csv;
}

std::string portfolio_months_csv(const Portfolio& made) {
    std::string csv = to_csv_line({"month", "needed", "at_most", "expected", "currency"});
    for (const PortfolioMonth& month : made.months)
        csv += to_csv_line({month.month, to_decimal_text(month.needed), to_decimal_text(month.at_most),
                            to_decimal_text(month.expected), std::string(made.currency.code())});
    return csv;
}

}  // namespace tedge::usecases
