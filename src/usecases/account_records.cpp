#include "account_records.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "sums.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

std::vector<const Record*> returns_of(const CaseSnapshot& snapshot, const Uuid& record) {
    std::vector<const Record*> found;
    for (const Record* back : snapshot.of_kind("return"))
        if (back->body.record("of") == record) found.push_back(back);
    return found;
}

namespace {

Expected<Money> price_left(const CaseSnapshot& snapshot, const Record& sale, Money price) {
    for (const Record* back : returns_of(snapshot, sale.id)) {
        const auto refund = back->body.money("refund");
        if (!refund) continue;
        if (auto taken = take_from(price, at_recorded_rate(*back, *refund, price.currency)); !taken)
            return pass_on(taken);
    }
    return price;
}

}  // namespace

Expected<std::optional<StandingSale>> standing_sale(const CaseSnapshot& snapshot) {
    std::optional<StandingSale> stands;
    for (const Record* sale : snapshot.of_kind("sale")) {
        const auto price = sale->body.money("price");
        if (!price) continue;
        const auto left = price_left(snapshot, *sale, *price);
        if (!left) return pass_on(left);
        if (left->minor <= 0) continue;
        if (stands) {
            return fail("accounts.two-sales", "The picture is sold twice.",
                        "Remove the sale that was not made, or record its return.",
                        {{"record", tedge::to_text(sale->id)}});
        }
        stands = StandingSale{sale, *left};
    }
    return stands;
}

const Record* standing_purchase(const CaseSnapshot& snapshot) {
    const auto purchases = snapshot.of_kind("purchase");
    const auto kept =
        std::ranges::find_if(purchases, [&](const Record* r) { return returns_of(snapshot, r->id).empty(); });
    return kept != purchases.end() ? *kept : nullptr;
}

std::vector<money::ResultShare> shares_recorded(const CaseSnapshot& snapshot) {
    std::vector<money::ResultShare> shares;
    for (const Record* share : snapshot.of_kind("share"))
        shares.push_back({decimal_at(share->body, "percent").value_or(Decimal{}),
                          share->body.text_or("bears") == "profit-and-loss"});
    return shares;
}

std::string due_day(const CaseSnapshot& snapshot, const Record& owed) {
    const std::string said = owed.body.text_or("due_on");
    const auto lot = owed.kind == "purchase" ? owed.body.record("lot") : std::nullopt;
    if (!said.empty() || !lot) return said;
    for (const Record* deadline : snapshot.of_kind("deadline"))
        if (deadline->body.text_or("term") == "pay" && deadline->body.record("lot") == lot)
            return deadline->body.text_or("on");
    return said;
}

std::unexpected<Error> refused_for(const CaseSnapshot& snapshot, Error error) {
    error.message = fmt::format("\"{}\": {}", snapshot.picture.body.text_or("title"), error.message);
    error.values["case"] = tedge::to_text(snapshot.picture.id);
    return std::unexpected(std::move(error));
}

std::string name_in(const CaseSnapshot& snapshot, const std::optional<Uuid>& person) {
    const Record* found = person ? snapshot.find(*person) : nullptr;
    return found != nullptr ? found->body.text_or("name") : std::string();
}

}  // namespace tedge::usecases
