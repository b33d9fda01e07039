#include "tedge/usecases/stock.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "account_records.hpp"
#include "stock_records.hpp"
#include "sums.hpp"
#include "tedge/base/table.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;
using money::StockBookEntry;

Expected<void> enter_sale(const CaseSnapshot& snapshot, const StandingSale& sale, const House& house,
                          StockBookEntry& entry) {
    const casebook::Body& body = sale.record->body;
    const std::string scheme = body.text_or("scheme");
    entry.sold_on = body.text_or("sold_on");
    entry.sales_invoice = body.text_or("invoice_number");
    entry.buyer = name_in(snapshot, body.record("buyer"));
    entry.exported = scheme == "export";
    if (scheme == "ordinary") entry.disposal = "sold outside the scheme, under ordinary VAT";
    if (scheme == "none") entry.disposal = "sold outside the scheme, no VAT reckoned";
    const auto price = in_house(*sale.record, sale.price, house.currency);
    if (!price) return pass_on(price);
    if (entry.disposal.empty()) entry.selling_price = *price;
    const auto percent = vat_percent_of(*sale.record);
    if (!percent) return pass_on(percent);
    entry.vat_percent = *percent;
    return {};
}

Expected<StockBookEntry> entry_of(const CaseSnapshot& snapshot, const Record& purchase, const House& house) {
    const casebook::Body& body = purchase.body;
    StockBookEntry entry{.stock_number = snapshot.picture.body.text_or("stock_number"),
                         .purchased_on = body.text_or("bought_on"),
                         .purchase_invoice = body.text_or("invoice_number"),
                         .seller = name_in(snapshot, body.record("seller")),
                         .description = picture_in_words(snapshot)};
    const auto price = in_house(purchase, body.money("margin_price"), house.currency);
    if (!price) return pass_on(price);
    entry.purchase_price = *price;
    if (const auto back = returns_of(snapshot, purchase.id); !back.empty()) {
        entry.sold_on = back.front()->body.text_or("returned_on");
        entry.disposal = "returned to the seller";
        return entry;
    }
    const auto sale = standing_sale(snapshot);
    if (!sale) return pass_on(sale);
    if (*sale && &purchase == standing_purchase(snapshot))
        if (auto entered = enter_sale(snapshot, **sale, house, entry); !entered) return pass_on(entered);
    return entry;
}

void take_back_what_came_later(StockBookEntry& entry, const std::string& to) {
    if (entry.sold_on <= to) return;
    entry.sold_on.clear();
    entry.sales_invoice.clear();
    entry.buyer.clear();
    entry.disposal.clear();
    entry.selling_price.reset();
}

Expected<std::vector<CaseSnapshot>> all_accounts(casebook::Casebook& book) {
    return book.snapshots({.all_of = kinds_of_accounts(), .any_of = {}});
}

}  // namespace

Expected<StockBookOfHouse> stock_book_of(casebook::Casebook& book, std::chrono::year_month_day from,
                                         std::chrono::year_month_day to) {
    if (from > to) return fail("stock.period", "The period ends before it begins.", "Exchange the two days.");
    const auto house = house_of(book);
    if (!house) return pass_on(house);
    const auto snapshots = all_accounts(book);
    if (!snapshots) return pass_on(snapshots);
    const StockPeriod period{tedge::to_text(from), tedge::to_text(to)};
    std::vector<StockBookEntry> entries;
    std::vector<std::string> left_out;
    for (const CaseSnapshot& snapshot : *snapshots) {
        for (const Record* purchase : snapshot.of_kind("purchase")) {
            auto entry = entry_of(snapshot, *purchase, *house);
            if (!entry) return refused_for(snapshot, std::move(entry).error());
            if (!was_in_stock(entry->purchased_on, entry->sold_on, period)) continue;
            if (is_under_ordinary_vat(*purchase)) {
                left_out.push_back(fmt::format(
                    "\"{}\" was bought with VAT {} and is no stock of the margin scheme.", entry->description,
                    purchase->body.text_or("scheme") == "vat-on-hammer" ? "on the hammer price" : "that is reclaimed"));
                continue;
            }
            take_back_what_came_later(*entry, period.to);
            entries.push_back(*std::move(entry));
        }
    }
    auto made = money::stock_book(std::move(entries), house->currency);
    if (!made) return pass_on(made);
    auto ordinary = ordinary_vat(*snapshots, *house, period);
    if (!ordinary) return pass_on(ordinary);
    return StockBookOfHouse{*std::move(made), std::move(left_out), *std::move(ordinary)};
}

namespace {

Expected<std::string> cost_in_code(const CaseSnapshot& snapshot, const House& house, const money::PriceCode& code) {
    const auto accounts = accounts_of_case(snapshot, house.currency);
    if (!accounts) return pass_on(accounts);
    Money cost{0, house.currency};
    // The price given back to a buyer is no cost of the picture that came back with it.
    for (const AccountEntry& entry : accounts->entries)
        if (entry.counts && !entry.incoming && entry.kind != "return")
            if (auto added = add_to(cost, *entry.counts); !added) return pass_on(added);
    return cost.minor > 0 ? code.encode(cost) : std::string();
}

}  // namespace

Expected<std::vector<StockListRow>> stock_list(casebook::Casebook& book) {
    const auto house = house_of(book);
    if (!house) return pass_on(house);
    const auto code = money::PriceCode::parse(house->price_code);
    const auto snapshots = all_accounts(book);
    if (!snapshots) return pass_on(snapshots);
    std::vector<StockListRow> rows;
    for (const CaseSnapshot& snapshot : *snapshots) {
        const Record* purchase = standing_purchase(snapshot);
        auto sale = standing_sale(snapshot);
        if (!sale) return refused_for(snapshot, std::move(sale).error());
        if (purchase == nullptr || *sale) continue;
        StockListRow row{snapshot.picture.id,
                         snapshot.picture.body.text_or("stock_number"),
                         picture_in_words(snapshot),
                         purchase->body.text_or("bought_on"),
                         {},
                         snapshot.picture.body.money("asking_price")};
        if (code) {
            auto written = cost_in_code(snapshot, *house, *code);
            if (!written) return refused_for(snapshot, std::move(written).error());
            row.cost_in_code = *std::move(written);
        }
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, [](const StockListRow& a, const StockListRow& b) {
        return money::stock_number_before(a.stock_number, b.stock_number);
    });
    return rows;
}

std::string stock_list_csv(const std::vector<StockListRow>& rows) {
    std::string csv =
        to_csv_line({"stock_number", "description", "bought_on", "cost_in_code", "asking_price", "currency"});
    for (const StockListRow& row : rows)
        csv += to_csv_line({row.stock_number, row.description, row.bought_on, row.cost_in_code,
                            row.asking_price ? to_decimal_text(*row.asking_price) : "",
                            row.asking_price ? std::string(row.asking_price->currency.code()) : ""});
    return csv;
}

}  // namespace tedge::usecases
