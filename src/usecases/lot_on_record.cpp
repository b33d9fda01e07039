#include "lot_on_record.hpp"

#include <fmt/format.h>

#include "case_plan.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

Expected<money::SaleTerms> terms_of_sale(const CaseSnapshot& snapshot, const Currency& currency) {
    json sale = sale_of_case(snapshot);
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
