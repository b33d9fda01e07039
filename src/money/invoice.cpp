#include "tedge/money/invoice.hpp"

#include <fmt/format.h>

#include <array>
#include <map>
#include <utility>

#include "price_parts.hpp"

namespace tedge::money {

namespace {

std::array<std::pair<Charge, Exact>, 8> charges_of(const PriceParts& parts) {
    return {{{Charge::hammer, parts.hammer},
             {Charge::premium, parts.premium},
             {Charge::vat_on_premium, parts.vat_on_premium},
             {Charge::vat_on_hammer, parts.vat_on_hammer},
             {Charge::surcharge, parts.surcharge},
             {Charge::vat_on_surcharge, parts.vat_on_surcharge},
             {Charge::fixed_fees, parts.fixed_fees},
             {Charge::royalty, parts.royalty}}};
}

Expected<void> check_amount(const SaleTerms& terms, const Money& amount, std::string negative_code) {
    if (auto sound = check(terms); !sound) return sound;
    if (amount.currency != terms.currency) {
        return fail(
            "money.mixed-currencies",
            fmt::format("The sale is held in {}, the amount is in {}.", terms.currency.code(), amount.currency.code()),
            "Convert it at the rate of the day.");
    }
    if (amount.minor < 0) return fail(std::move(negative_code), "The amount is negative.", "Check the amount.");
    return {};
}

// The lines, each rounded by itself, with one line more where they miss the rounded total by a penny or two.
Expected<std::vector<InvoiceLine>> lines_of(const PriceParts& parts, const Money& total) {
    std::vector<InvoiceLine> lines;
    std::int64_t rest = total.minor;
    for (const auto& [charge, amount] : charges_of(parts)) {
        const auto shown = to_money(amount, total.currency);
        if (!shown) return pass_on(shown);
        rest -= shown->minor;
        if (shown->minor != 0 || charge == Charge::hammer) lines.push_back({charge, *shown});
    }
    if (rest != 0) lines.push_back({Charge::rounding, Money{rest, total.currency}});
    return lines;
}

void fold_vat_into_premium(std::map<Charge, std::int64_t>& amounts) {
    if (const auto inside = amounts.extract(Charge::vat_on_premium)) amounts[Charge::premium] += inside.mapped();
}

std::map<Charge, std::int64_t> summed(const std::vector<InvoiceLine>& lines, bool premium_holds_vat) {
    std::map<Charge, std::int64_t> amounts;
    for (const InvoiceLine& line : lines) amounts[line.charge] += line.amount.minor;
    if (premium_holds_vat) fold_vat_into_premium(amounts);
    return amounts;
}

}  // namespace

std::string_view charge_name(Charge charge) {
    constexpr std::array<std::string_view, 9> names{"hammer",        "premium",   "VAT on premium",
                                                    "VAT on hammer", "surcharge", "VAT on surcharge",
                                                    "fixed fees",    "royalty",   "rounding"};
    return names.at(static_cast<std::size_t>(charge));
}

Expected<Invoice> invoice(const SaleTerms& terms, const Money& hammer) {
    if (const auto sound = check_amount(terms, hammer, "invoice.negative-hammer"); !sound) return pass_on(sound);
    const PriceParts parts = price_parts(terms, hammer.minor);
    const auto total = to_money(parts.all_in(), terms.currency);
    if (!total) return pass_on(total);
    auto lines = lines_of(parts, *total);
    const auto margin_price = to_money(parts.margin_price(), terms.currency);
    const auto vat_to_recover = to_money(parts.vat_to_recover(), terms.currency);
    if (!lines) return pass_on(lines);
    if (!margin_price) return pass_on(margin_price);
    if (!vat_to_recover) return pass_on(vat_to_recover);
    return Invoice{std::move(*lines), *total, *margin_price, *vat_to_recover};
}

Expected<Money> largest_hammer_within(const SaleTerms& terms, const Money& sum) {
    if (const auto sound = check_amount(terms, sum, "invoice.negative-sum"); !sound) return pass_on(sound);
    const Exact limit = exact(sum.minor);
    const auto affordable = [&](std::int64_t hammer) { return price_parts(terms, hammer).all_in() <= limit; };
    return Money{largest_that(sum.minor, affordable), terms.currency};
}

Expected<std::vector<InvoiceDifference>> compare_invoice(const SaleTerms& terms, const Money& hammer,
                                                         const std::vector<InvoiceLine>& charged) {
    const auto right = invoice(terms, hammer);
    if (!right) return pass_on(right);
    for (const InvoiceLine& line : charged) {
        if (const auto same = subtract(line.amount, hammer); !same) return pass_on(same);
    }
    const auto due = summed(right->lines, terms.premium_includes_vat);
    const auto asked = summed(charged, terms.premium_includes_vat);
    std::map<Charge, std::pair<std::int64_t, std::int64_t>> both;
    for (const auto& [charge, amount] : due) both[charge].first = amount;
    for (const auto& [charge, amount] : asked) both[charge].second = amount;
    std::vector<InvoiceDifference> differences;
    for (const auto& [charge, amounts] : both) {
        const auto& [right_amount, asked_amount] = amounts;
        differences.push_back({charge, Money{right_amount, terms.currency}, Money{asked_amount, terms.currency},
                               Money{asked_amount - right_amount, terms.currency}});
    }
    return differences;
}

}  // namespace tedge::money
