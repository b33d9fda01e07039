#include "lot_on_record.hpp"

#include <fmt/format.h>

#include <cmath>

#include "case_plan.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

std::optional<Currency> currency_of_sale(const CaseSnapshot& snapshot) {
    if (const Record* lot = newest_of_kind(snapshot, "lot")) {
        for (const char* field : {"estimate_low", "estimate_high", "hammer"})
            if (const auto amount = lot->body.money(field)) return amount->currency;
    }
    const Record* ceiling = newest_of_kind(snapshot, "ceiling");
    const auto limit = ceiling != nullptr ? ceiling->body.money("limit") : std::nullopt;
    return limit ? std::optional(limit->currency) : std::nullopt;
}

namespace {

void lay_terms_over(json& sale, const json& terms) {
    if (!terms.is_object()) return;
    for (const auto& [name, value] : terms.items()) {
        // A number typed into a form is kept as it counts; a currency without minor units takes no decimals.
        const bool whole = value.is_number_float() && std::abs(value.get<double>()) < 9e15 &&
                           std::trunc(value.get<double>()) == value.get<double>();
        sale[name] = whole ? json(static_cast<std::int64_t>(value.get<double>())) : value;
    }
}

}  // namespace

Expected<money::SaleTerms> terms_of_sale(const CaseSnapshot& snapshot, const Currency& currency) {
    json sale = json::object();
    lay_terms_over(sale, plan_fixed_last(snapshot).value("sale", json()));
    if (const Record* lot = newest_of_kind(snapshot, "lot"))
        lay_terms_over(sale, lot->body.as_json().value("terms", json()));
    if (!sale.contains("premium")) {
        return fail("lot.no-terms", "The terms of the sale are not recorded, so nothing can be reckoned from them.",
                    "Enter them with the lot: the premium, and the VAT on it.");
    }
    sale["currency"] = std::string(currency.code());
    return money::parse_sale_terms(json{{"currency", sale["currency"]}, {"sale", sale}}.dump());
}

const Record* purchase_of(const CaseSnapshot& snapshot, const Record& lot) {
    const Record* nameless = nullptr;
    for (const Record* purchase : snapshot.of_kind("purchase")) {
        if (purchase->body.record("lot") == lot.id) return purchase;
        if (!purchase->body.has("lot")) nameless = purchase;
    }
    return nameless;
}

std::string lot_words(const Record& lot) {
    const std::string number = lot.body.text_or("lot_number");
    return number.empty() ? "the lot" : "lot " + number;
}

std::string round_text(const Money& money) {
    std::string text = to_display_text(money);
    const auto point = text.rfind('.');
    if (point != std::string::npos && text.find_first_not_of('0', point + 1) == std::string::npos) text.resize(point);
    return text;
}

std::string day_words(std::string_view iso_date) {
    const auto day = provenance::parse_edtf(iso_date);
    return parse_date(iso_date) && day ? provenance::words_for(*day) : std::string(iso_date);
}

}  // namespace tedge::usecases
