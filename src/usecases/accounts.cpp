#include "tedge/usecases/accounts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "account_records.hpp"
#include "stock_records.hpp"
#include "sums.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/money/conversion.hpp"
#include "tedge/money/result_shares.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Record;

std::string label_of(const Record& record) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    return std::string(kind != nullptr ? kind->label : record.kind);
}

// Keeps the accounts of one case in one currency.
class Ledger {
public:
    Ledger(const CaseSnapshot& snapshot, const Currency& currency)
        : snapshot_(snapshot), made_(nothing_yet(Money{0, currency})), price_{0, currency} {}

    Expected<CaseAccounts> keep() {
        for (auto step : {&Ledger::find_sale, &Ledger::enter_all, &Ledger::count_cash, &Ledger::reckon_vat,
                          &Ledger::pay_from_profit, &Ledger::divide})
            if (auto done = (this->*step)(); !done) return pass_on(done);
        return std::move(made_);
    }

private:
    [[nodiscard]] static CaseAccounts nothing_yet(const Money& zero) {
        return {.currency = zero.currency,
                .paid_out = zero,
                .paid_in = zero,
                .deposits_held = zero,
                .owed_by_us = zero,
                .owed_to_us = zero,
                .result = zero,
                .ours = zero};
    }
    [[nodiscard]] Expected<Money> here(const Record& record, const Money& amount) const {
        return at_recorded_rate(record, amount, made_.currency);
    }
    void doubt(std::string sentence) { made_.doubts.push_back(std::move(sentence)); }

    Expected<void> find_sale() {
        const auto stands = standing_sale(snapshot_);
        if (!stands) return pass_on(stands);
        if (!*stands) return {};
        sale_ = (*stands)->record;
        price_ = (*stands)->price;
        return {};
    }

    [[nodiscard]] const Record* purchase() const { return standing_purchase(snapshot_); }

    // --- what is owed -------------------------------------------------------------------------------------------
    [[nodiscard]] Expected<std::optional<Money>> due_of(const Record& record) {
        const Body& body = record.body;
        if (record.kind == "purchase") return due_for_purchase(body);
        if (record.kind == "sale") return body.money("price");
        if (record.kind == "return") return body.money("refund");
        if (record.kind == "commission") return due_for_commission(body);
        auto due = body.money("actual");
        if (const auto vat = body.money("vat"); due && vat)
            if (auto added = add_to(*due, *vat); !added) return pass_on(added);
        return due;
    }

    std::optional<Money> due_for_purchase(const Body& body) {
        if (const auto all_in = body.money("all_in")) return all_in;
        const auto hammer = body.money("hammer");
        doubt(hammer
                  ? "Of the purchase the hammer price alone is recorded: premium and charges are not in the accounts."
                  : "Of the purchase no price is recorded.");
        return hammer;
    }

    Expected<std::optional<Money>> due_for_commission(const Body& body) {
        if (const auto fixed = body.money("amount")) return std::optional(*fixed);
        const auto percent = decimal_at(body, "percent");
        const std::string of = body.text_or("percent_of");
        std::optional<Money> base;
        if (of == "sale-price" && sale_ != nullptr) base = price_;
        if (of == "purchase-price" && purchase() != nullptr) base = due_for_purchase(purchase()->body);
        if (of == "profit" && sale_ != nullptr && profit_)
            base = profit_->minor > 0 ? *profit_ : Money{0, made_.currency};
        if (!percent || !base) return std::optional<Money>();
        const auto due = percent_of(*base, *percent, Rounding::half_away_from_zero);
        if (!due) return pass_on(due);
        return std::optional(*due);
    }

    [[nodiscard]] bool is_incoming(const Record& record) const {
        if (record.kind == "sale") return true;
        const auto of = record.kind == "return" ? record.body.record("of") : std::nullopt;
        const Record* returned = of ? snapshot_.find(*of) : nullptr;
        return returned != nullptr && returned->kind == "purchase";
    }

    [[nodiscard]] static std::string what_of(const Record& record, bool incoming) {
        if (record.kind == "cost_line") return record.body.text_or("name");
        if (record.kind == "commission") return record.body.text_or("role");
        if (record.kind == "return") return incoming ? "refund of the purchase" : "refund of the sale";
        return label_of(record);
    }

    Expected<void> enter_all() {
        for (const Record& record : snapshot_.records) {
            const auto kinds = {"purchase", "cost_line", "commission", "sale", "return"};
            if (std::ranges::find(kinds, record.kind) == kinds.end()) continue;
            if (record.kind == "commission" && record.body.text_or("percent_of") == "profit" &&
                !record.body.has("amount"))
                continue;  // known when the rest is
            if (auto entered = enter(record); !entered) return pass_on(entered);
        }
        return {};
    }

    Expected<void> enter(const Record& record) {
        const auto due = due_of(record);
        if (!due) return pass_on(due);
        const bool incoming = is_incoming(record);
        AccountEntry entry{.record = record.id,
                           .kind = record.kind,
                           .what = what_of(record, incoming),
                           .party = party_of(record),
                           .incoming = incoming,
                           .estimate = record.body.money_estimate("estimate"),
                           .due = *due,
                           .due_on = due_day(snapshot_, record)};
        if (auto settled = settle(record, entry); !settled) return pass_on(settled);
        made_.entries.push_back(std::move(entry));
        return {};
    }

    [[nodiscard]] static std::optional<Uuid> party_of(const Record& record) {
        for (const char* field : {"seller", "payee", "party", "buyer"})
            if (const auto party = record.body.record(field)) return party;
        return std::nullopt;
    }

    // --- what is paid -------------------------------------------------------------------------------------------
    Expected<void> settle(const Record& record, AccountEntry& entry) {
        Money counts{0, made_.currency};
        for (const Record* payment : snapshot_.of_kind("payment")) {
            const auto amount = payment->body.money("amount");
            if (payment->body.record("settles") != record.id || !amount) continue;
            if (!entry.paid) entry.paid = Money{0, entry.due ? entry.due->currency : amount->currency};
            const bool onward = (payment->body.text_or("direction") == "in") == entry.incoming;
            const auto in_its_own = at_recorded_rate(*payment, *amount, entry.paid->currency);
            const auto in_ours = here(*payment, *amount);
            const auto move = onward ? add_to : take_from;
            if (auto moved = move(*entry.paid, in_its_own); !moved) return moved;
            if (auto moved = move(counts, in_ours); !moved) return moved;
            entry.payments.push_back(payment->id);
        }
        if (entry.payments.empty() && entry.due) {
            const bool said_paid = record.body.has("paid_on");  // a day alone says that all of it was paid
            entry.paid = said_paid ? *entry.due : Money{0, entry.due->currency};
        }
        return count_owed(record, entry, counts, entry.payments.empty() && record.body.has("paid_on"));
    }

    Expected<void> count_owed(const Record& record, AccountEntry& entry, Money counts, bool said_paid) {
        if (entry.due) {
            const auto owed = subtract(*entry.due, *entry.paid);
            if (!owed) return pass_on(owed);
            entry.owed = *owed;
            const Money& open = said_paid ? *entry.due : *owed;
            if (open.minor != 0)
                if (auto added = add_to(counts, here(record, open)); !added) return added;
            if (owed->minor != 0) {
                const auto ours = here(record, *owed);
                if (!ours) return pass_on(ours);
                entry.owed_here = *ours;
                const bool to_us = entry.incoming == (ours->minor > 0);
                const Money size{ours->minor < 0 ? -ours->minor : ours->minor, ours->currency};
                if (auto added = add_to(to_us ? made_.owed_to_us : made_.owed_by_us, size); !added) return added;
            }
        }
        if (!entry.due && !entry.paid) return {};
        entry.counts = counts;
        return entry.incoming ? add_to(made_.result, counts) : take_from(made_.result, counts);
    }

    Expected<void> count_cash() {
        for (const Record* payment : snapshot_.of_kind("payment")) {
            const auto amount = payment->body.money("amount");
            if (!amount) continue;
            const auto counts = here(*payment, *amount);
            const bool in = payment->body.text_or("direction") == "in";
            if (auto added = add_to(in ? made_.paid_in : made_.paid_out, counts); !added) return added;
            const auto settles = payment->body.record("settles");
            if (settles && snapshot_.find(*settles) != nullptr) continue;
            if (payment->body.text_or("is").starts_with("deposit")) {
                auto moved = in ? take_from(made_.deposits_held, counts) : add_to(made_.deposits_held, counts);
                if (!moved) return moved;
            } else {
                doubt(fmt::format("A payment of {} settles nothing that is recorded and is in the cash alone.",
                                  to_display_text(*amount)));
            }
        }
        for (const AccountEntry& entry : made_.entries) {
            if (!entry.payments.empty() || !entry.counts || !entry.paid || entry.paid->minor == 0) continue;
            if (auto added = add_to(made_.paid_out, *entry.counts); !added) return added;
        }
        return {};
    }

    // --- the sale -----------------------------------------------------------------------------------------------
    Expected<void> reckon_vat() {
        for (const Record* cost : snapshot_.of_kind("cost_line"))
            if (const auto vat = cost->body.money("vat"); vat && cost->body.has("actual"))
                if (auto added = add_to(made_.result, here(*cost, *vat)); !added) return added;
        const auto estimated = std::ranges::count_if(
            made_.entries, [](const AccountEntry& e) { return e.estimate && !e.due && e.payments.empty(); });
        if (estimated > 0)
            doubt(fmt::format("{} only estimated and not in the result.",
                              estimated == 1 ? "1 cost is" : fmt::format("{} costs are", estimated)));
        if (sale_ == nullptr) return {};
        auto sold = sold_picture();
        if (!sold) return pass_on(sold);
        AccountsSale sale{.record = sale_->id,
                          .scheme = sold->scheme,
                          .price = sold->price,
                          .margin_price = sold->margin_price,
                          .vat_percent = sold->vat_percent};
        if (purchase() != nullptr)
            if (const auto all_in = purchase()->body.money("all_in")) {
                const auto ours = here(*purchase(), *all_in);
                if (!ours) return pass_on(ours);
                sale.all_in = *ours;
            }
        if (auto counted = count_vat(*sold, sale); !counted) return counted;
        if (sale.scheme == money::SaleScheme::exported && !sale_->body.has("export_proof"))
            doubt("Sold for export, and no proof of export is recorded: without it the sale is not zero-rated.");
        made_.sale = std::move(sale);
        return {};
    }

    Expected<money::SoldPicture> sold_picture() {
        const auto scheme = money::parse_sale_scheme(sale_->body.text_or("scheme"));
        if (!scheme) return pass_on(scheme);
        const auto price = here(*sale_, price_);
        if (!price) return pass_on(price);
        money::SoldPicture sold{.scheme = *scheme, .price = *price};
        if (const Record* bought = purchase()) {
            for (const auto& [field, to] :
                 {std::pair{"margin_price", &sold.margin_price}, std::pair{"input_vat", &sold.input_vat}}) {
                const auto amount = bought->body.money(field);
                if (!amount) continue;
                const auto ours = here(*bought, *amount);
                if (!ours) return pass_on(ours);
                *to = *ours;
            }
            if (*scheme == money::SaleScheme::margin && bought->body.text_or("scheme") == "vat-on-hammer")
                doubt("Bought with VAT on the hammer price and sold under the margin scheme: ask an accountant.");
        }
        const auto percent = vat_percent_of(*sale_);
        if (!percent) return pass_on(percent);
        sold.vat_percent = *percent;
        return sold;
    }

    Expected<void> count_vat(const money::SoldPicture& sold, AccountsSale& sale) {
        const auto vat = money::sale_vat(sold);
        if (!vat && (vat.error().code == "sale.no-margin-price" || vat.error().code == "sale.vat-was-shown")) {
            doubt(fmt::format("{} {} The result is before VAT.", vat.error().message, vat.error().next));
            return {};
        }
        if (!vat) return pass_on(vat);
        sale.vat = *vat;
        if (auto taken = take_from(made_.result, vat->vat); !taken) return taken;
        return add_to(made_.result, vat->recovered);
    }

    // --- who gets what ------------------------------------------------------------------------------------------
    Expected<void> pay_from_profit() {
        profit_ = made_.result;
        for (const Record* commission : snapshot_.of_kind("commission")) {
            if (commission->body.text_or("percent_of") != "profit" || commission->body.has("amount")) continue;
            if (auto entered = enter(*commission); !entered) return entered;
        }
        return {};
    }

    Expected<void> divide() {
        const std::vector<money::ResultShare> wanted = shares_recorded(snapshot_);
        const auto divided = money::share_result(made_.result, wanted);
        if (!divided) return pass_on(divided);
        made_.ours = divided->ours;
        std::size_t next = 0;
        for (const Record* share : snapshot_.of_kind("share")) {
            const Money nothing{0, made_.currency};
            AccountsShare part{
                share->id, share->body.record("party"), wanted[next].percent, divided->shares[next], nothing, nothing};
            for (const Record* payment : snapshot_.of_kind("payment")) {
                const auto amount = payment->body.money("amount");
                if (payment->body.record("settles") != share->id || !amount) continue;
                const bool in = payment->body.text_or("direction") == "in";
                if (auto added = add_to(in ? part.paid_in : part.paid_out, here(*payment, *amount)); !added)
                    return added;
            }
            made_.shares.push_back(std::move(part));
            ++next;
        }
        return {};
    }

    const CaseSnapshot& snapshot_;
    CaseAccounts made_;
    Money price_;  // of the sale, after refunds, in its own currency
    const Record* sale_ = nullptr;
    std::optional<Money> profit_{};
};

}  // namespace

Expected<Money> at_recorded_rate(const Record& record, const Money& amount, const Currency& currency) {
    if (amount.currency == currency) return amount;
    const auto rate = decimal_at(record.body, "rate");
    if (!rate || record.body.text_or("rate_to") != currency.code()) {
        return fail("money.mixed-currencies",
                    fmt::format("An amount of a {} is in {}, and no rate into {} is recorded with it.",
                                label_of(record), amount.currency.code(), currency.code()),
                    fmt::format("Record the rate that was used: rate, rate_to {} and rate_on.", currency.code()),
                    {{"record", tedge::to_text(record.id)}, {"field", "rate"}});
    }
    return money::convert(amount, {currency, *rate});
}

Expected<CaseAccounts> accounts_of_case(const CaseSnapshot& snapshot, const Currency& currency) {
    return Ledger(snapshot, currency).keep();
}

std::vector<std::string> kinds_of_accounts() {
    return {"purchase", "cost_line", "payment", "share", "commission", "sale", "return", "deadline"};
}

}  // namespace tedge::usecases
