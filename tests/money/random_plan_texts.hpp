// Plans as text with anything in them: sound ones, and ones with a value that cannot be, a field that is not there, a
// list that does not ascend, a number of a thousand digits. For programs that try them by the thousand and the million.
#pragma once

#include <array>
#include <random>
#include <string>

#include "tedge/money/ceiling.hpp"

namespace tedge::test {

class RandomPlanTexts {
public:
    explicit RandomPlanTexts(std::uint64_t seed) : random_(seed) {}

    // About half of them can be used.
    std::string plan() {
        spoilt_ = below(2) == 0 ? static_cast<int>(below(60)) : -1;
        slot_ = 0;
        std::string text = "{\"currency\": " + word("GBP") + ", \"sale\": " + sale();
        text += ", \"selling\": " + word(std::array{"margin-scheme", "ordinary", "export", "none"}[below(4)]);
        text += ", \"vat_percent\": " + number(whole(26));
        text += ", \"costs\": [" + list(below(5), [&] { return "{\"amount\": " + amounts(3'000) + "}"; }) + "]";
        text += ", \"outcomes\": [" + outcomes() + "]";
        if (below(2) == 0) text += ", \"conditions\": [" + conditions() + "]";
        if (below(3) == 0) text += ", \"unsold_recovers\": " + number(share());
        if (below(3) == 0) text += ", \"selling_commission_percent\": " + number(whole(20));
        text += ", \"finance_percent_a_year\": " + number(below(2) == 0 ? "0" : whole(12));
        text += ", \"target\": {\"profit\": " + number(amount(9'000)) + ", \"loss_probability\": " + number(share()) +
                ", \"cash\": " + number(amount(60'000)) + "}";
        if (below(3) == 0) text += ", \"bidders\": {\"serious\": " + number(whole(9)) + ", \"signal_error\": 0.2}";
        return text + (below(400) == 0 ? "" : "}");
    }

private:
    std::uint64_t below(std::uint64_t end) { return random_() % end; }
    std::string whole(std::uint64_t end) { return std::to_string(below(end)); }
    std::string share() { return "0." + std::to_string(below(1'000)); }

    // A whole number mostly, pennies sometimes.
    std::string amount(std::uint64_t end) {
        const std::string pounds = std::to_string(below(end));
        return below(4) == 0 ? pounds + "." + std::to_string(10 + below(90)) : pounds;
    }

    // The value, or where it is the turn of this place something that it must not be.
    std::string number(const std::string& value) {
        static constexpr std::array<const char*, 14> bad{"-1",    "1e12", "1e400",       "-0.001", "\"7\"",
                                                         "null",  "[]",   "true",        "{}",     "1e-9",
                                                         "0.005", "0",    "99999999999", "-1e12"};
        if (slot_++ != spoilt_) return value;
        return below(20) == 0 ? std::string(1 + below(900), '9') : bad.at(below(bad.size()));
    }

    std::string word(const std::string& value) {
        static constexpr std::array<const char*, 6> bad{"\"\"", "\"EURO\"", "\"EUR\"", "7", "null", "\"\\u0000\""};
        return slot_++ == spoilt_ ? bad.at(below(bad.size())) : "\"" + value + "\"";
    }

    template <class Make>
    std::string list(std::uint64_t count, Make make) {
        std::string text;
        for (std::uint64_t i = 0; i < count; ++i) text += (i > 0 ? ", " : "") + make();
        return text;
    }

    std::string three(std::uint64_t low, std::uint64_t likely, std::uint64_t high) {
        if (slot_++ == spoilt_) std::swap(low, high);
        return "[" + number(std::to_string(low)) + ", " + number(std::to_string(likely)) + ", " +
               number(std::to_string(high)) + "]";
    }

    // Likely at an eighth of the way, so that shapes of distributions come again.
    std::string amounts(std::uint64_t size) {
        const std::uint64_t low = below(size);
        if (below(4) == 0) return number(std::to_string(low));
        const std::uint64_t eighth = 1 + below(size / 8 + 1);
        return three(low, low + eighth * below(9), low + 8 * eighth);
    }

    std::string bands() {
        std::uint64_t end = 0;
        std::string text;
        for (std::uint64_t i = below(4); i > 0; --i) {
            end += 1 + below(20'000);
            text += "{\"up_to\": " + number(std::to_string(end)) + ", \"percent\": " + number(whole(35)) + "}, ";
        }
        return "[" + text + "{\"percent\": " + number(whole(30)) + "}]";
    }

    std::string increments() {
        switch (below(6)) {
            case 0:
                return "null";
            case 1:
                return word("fine");
            case 2:
                return "[" + number("50") + ", " + number("120.5") + ", 800, 10000]";
            case 3:
                return "[{\"up_to\": " + number("700") + ", \"step\": " + number("33") + "}, {\"step\": 50}]";
            default:
                return word("common");
        }
    }

    std::string sale() {
        return "{\"premium\": " + bands() + ", \"premium_includes_vat\": " + (below(3) == 0 ? "true" : "false") +
               ", \"minimum_premium\": " + number(below(2) == 0 ? "0" : whole(90)) +
               ", \"vat_on_premium_percent\": " + number("20") + ", \"vat_on_hammer_percent\": " + number(whole(21)) +
               ", \"surcharge_percent\": " + number(below(2) == 0 ? "0" : "3.6") +
               ", \"fixed_fees\": " + number(amount(60)) + ", \"royalty\": " + (below(2) == 0 ? "true" : "false") +
               ", \"increments\": " + increments() + "}";
    }

    std::string outcome(const std::string& chance) {
        return "{\"probability\": " + number(chance) + ", \"price\": " + amounts(30'000) +
               ", \"months\": " + three(2, 2 + below(6), 8 + below(20)) + ", \"unsold\": " + number(share()) + "}";
    }

    std::string outcomes() {
        switch (below(3)) {
            case 0:
                return outcome("1");
            case 1:
                return outcome("0.4") + ", " + outcome("0.6");
            default:
                return outcome("0.25") + ", " + outcome("0.35") + ", " + outcome("0.4");
        }
    }

    std::string factors() {
        const std::uint64_t low = 1 + below(9);
        return "[0." + std::to_string(low) + ", " + number("1") + ", " + number("1.5") + "]";
    }

    std::string conditions() {
        return "{\"probability\": " + number("0.75") + "}, {\"probability\": 0.25, \"price_factor\": " + factors() +
               ", \"cost_factor\": " + factors() + "}";
    }

    std::mt19937_64 random_;
    int spoilt_ = -1;  // the place whose turn it is, counted as they are written; none where there are fewer
    int slot_ = 0;
};

// What a plan promises, whatever is in it: an answer that holds together, or a field and a reason. Empty where it keeps
// its promise, else what was broken.
inline std::string broken_promise(const std::string& text, const money::CeilingOptions& options, bool& solved) {
    solved = false;
    const auto fault_of = [](const Error& error) -> std::string {
        if (error.code == "plan.not-json") return {};  // of a text that ends too early nobody can say which field
        const auto has = [&](const char* name) {
            const auto found = error.values.find(name);
            return found != error.values.end() && !found->second.empty();
        };
        if (!has("field") || !has("reason")) return "refused without field and reason: " + error.code;
        return error.message.empty() || error.next.empty() ? "refused without a sentence: " + error.code : "";
    };
    const auto plan = money::parse_ceiling_plan(text);
    if (!plan) return fault_of(plan.error());
    const auto report = money::solve_ceiling(*plan, options);
    if (!report)
        return report.error().code == "money.out-of-range" ? "" : "a checked plan refused: " + report.error().code;
    solved = true;
    for (const auto* ceiling : {&report->target, &report->risk, &report->cash}) {
        if (!*ceiling) continue;
        if ((*ceiling)->bid.minor < 0 || (*ceiling)->bid.minor > (*ceiling)->hammer.minor)
            return "a bid above its hammer";
        if (((*ceiling)->bid.minor == 0) != (*ceiling)->reason.has_value()) return "a bid of 0 without a reason";
        if ((*ceiling)->bid.minor < report->bid->minor) return "a ceiling below the one that binds";
    }
    if (!report->at_bid) return report->bid && report->bid->minor > 0 ? "a bid without its profit" : "";
    const money::ProfitAtHammer& at = *report->at_bid;
    if (!(at.loss_probability >= 0.0 && at.loss_probability <= 1.0 + 1e-9)) return "a chance outside 0 to 1";
    if (at.quantiles.p5.minor > at.quantiles.p50.minor || at.quantiles.p50.minor > at.quantiles.p95.minor)
        return "quantiles out of order";
    return at.all_in.minor < at.margin_price.minor ? "an all-in price below the margin price" : "";
}

}  // namespace tedge::test
