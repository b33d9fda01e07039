// What is bought or sold outside the margin scheme, with the VAT that is reclaimed and the VAT that is owed.
#include <fmt/format.h>

#include <algorithm>

#include "account_records.hpp"
#include "stock_records.hpp"
#include "sums.hpp"
#include "tedge/base/table.hpp"
#include "tedge/money/sale_vat.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

Expected<void> enter_ordinary_purchase(const CaseSnapshot& snapshot, const Record& purchase, const House& house,
                                       OrdinaryVatRow& row) {
    const casebook::Body& body = purchase.body;
    row.purchased_on = body.text_or("bought_on");
    row.purchase_invoice = body.text_or("invoice_number");
    row.seller = name_in(snapshot, body.record("seller"));
    const auto price = in_house(purchase, body.money("all_in"), house.currency);
    if (!price) return pass_on(price);
    row.purchase_price = *price;
    const auto input = in_house(purchase, body.money("input_vat"), house.currency);
    if (!input) return pass_on(input);
    row.input_vat = *input;
    return {};
}

Expected<void> enter_ordinary_sale(const CaseSnapshot& snapshot, const StandingSale& sale, const House& house,
                                   OrdinaryVatRow& row) {
    const casebook::Body& body = sale.record->body;
    row.sold_on = body.text_or("sold_on");
    row.sales_invoice = body.text_or("invoice_number");
    row.buyer = name_in(snapshot, body.record("buyer"));
    const auto price = in_house(*sale.record, sale.price, house.currency);
    if (!price) return pass_on(price);
    row.selling_price = *price;
    const auto scheme = money::parse_sale_scheme(body.text_or("scheme"));
    if (!scheme) return pass_on(scheme);
    row.exported = *scheme == money::SaleScheme::exported;
    const auto percent = vat_percent_of(*sale.record);
    if (!percent) return pass_on(percent);
    row.vat_percent = *percent;
    // A sale under the margin scheme of what was bought with VAT shown is no such sale: see what is missing.
    if (*scheme == money::SaleScheme::margin) return {};
    const auto vat = money::sale_vat({.scheme = *scheme, .price = **price, .vat_percent = *percent});
    if (!vat) return pass_on(vat);
    row.output_vat = vat->vat;
    return {};
}

void forget_later_sale(OrdinaryVatRow& row, const StockPeriod& period) {
    if (row.sold_on <= period.to) return;
    row.sold_on.clear();
    row.sales_invoice.clear();
    row.buyer.clear();
    row.selling_price.reset();
    row.output_vat.reset();
    row.exported = false;
}

void name_missing(const OrdinaryVatRow& row, const Record* sale, bool bought_with_vat, OrdinaryVat& made) {
    const auto miss = [&](std::string_view what) {
        made.missing.push_back(fmt::format("\"{}\": {}", row.description, what));
    };
    if (bought_with_vat && !row.input_vat) miss("how much VAT of the purchase is reclaimed is not recorded.");
    if (bought_with_vat && row.purchase_invoice.empty()) miss("no purchase invoice is named: VAT is reclaimed by one.");
    if (row.sold_on.empty()) return;
    if (row.sales_invoice.empty()) miss("no sales invoice is named.");
    if (row.exported && !sale->body.has("export_proof"))
        miss("sold for export, and no proof of export is recorded: without it the sale is not zero-rated.");
    if (!row.output_vat) miss("bought with VAT shown and sold under the margin scheme: ask an accountant.");
}

bool is_sold_outside(const std::optional<StandingSale>& sale) {
    return sale && sale->record->body.text_or("scheme") == "ordinary";
}

Expected<void> enter_ordinary(const CaseSnapshot& snapshot, const Record& purchase, const House& house,
                              const StockPeriod& period, OrdinaryVat& made) {
    const auto stands = &purchase == standing_purchase(snapshot) ? standing_sale(snapshot)
                                                                 : Expected<std::optional<StandingSale>>(std::nullopt);
    if (!stands) return pass_on(stands);
    const bool bought_with_vat = is_under_ordinary_vat(purchase);
    if (!bought_with_vat && !is_sold_outside(*stands)) return {};
    OrdinaryVatRow row{.stock_number = snapshot.picture.body.text_or("stock_number"),
                       .description = picture_in_words(snapshot)};
    if (auto entered = enter_ordinary_purchase(snapshot, purchase, house, row); !entered) return entered;
    if (*stands)
        if (auto entered = enter_ordinary_sale(snapshot, **stands, house, row); !entered) return entered;
    const auto back = returns_of(snapshot, purchase.id);
    const std::string left_on = back.empty() ? row.sold_on : back.front()->body.text_or("returned_on");
    if (!was_in_stock(row.purchased_on, left_on, period)) return {};
    forget_later_sale(row, period);
    if (!bought_with_vat && row.sold_on.empty()) return {};  // until then it is stock of the margin scheme
    name_missing(row, *stands ? (*stands)->record : nullptr, bought_with_vat, made);
    if (row.input_vat && back.empty() && period.holds(row.purchased_on))
        if (auto added = add_to(made.input_vat, *row.input_vat); !added) return added;
    if (row.output_vat && period.holds(row.sold_on))
        if (auto added = add_to(made.output_vat, *row.output_vat); !added) return added;
    made.rows.push_back(std::move(row));
    return {};
}

}  // namespace

Expected<OrdinaryVat> ordinary_vat(const std::vector<CaseSnapshot>& snapshots, const House& house,
                                   const StockPeriod& period) {
    const Money nothing{0, house.currency};
    OrdinaryVat made{.input_vat = nothing, .output_vat = nothing};
    for (const CaseSnapshot& snapshot : snapshots)
        for (const Record* purchase : snapshot.of_kind("purchase"))
            if (auto entered = enter_ordinary(snapshot, *purchase, house, period, made); !entered)
                return refused_for(snapshot, std::move(entered).error());
    std::ranges::stable_sort(made.rows, [](const OrdinaryVatRow& a, const OrdinaryVatRow& b) {
        return money::stock_number_before(a.stock_number, b.stock_number);
    });
    return made;
}

std::string ordinary_vat_csv(const OrdinaryVat& made) {
    const auto told = [](const std::optional<Money>& amount) { return amount ? to_decimal_text(*amount) : ""; };
    std::string csv = to_csv_line({"stock_number", "purchased_on", "purchase_invoice", "purchase_price", "input_vat",
                                   "seller", "description", "sold_on", "sales_invoice", "selling_price", "buyer",
                                   "exported", "vat_percent", "output_vat", "currency"});
    for (const OrdinaryVatRow& row : made.rows)
        csv += to_csv_line({row.stock_number, row.purchased_on, row.purchase_invoice, told(row.purchase_price),
                            told(row.input_vat), row.seller, row.description, row.sold_on, row.sales_invoice,
                            told(row.selling_price), row.buyer,
                            row.sold_on.empty() ? ""
                            : row.exported      ? "yes"
                                                : "no",
                            row.output_vat ? row.vat_percent.to_text() : "", told(row.output_vat),
                            std::string(made.input_vat.currency.code())});
    return csv;
}

}  // namespace tedge::usecases
