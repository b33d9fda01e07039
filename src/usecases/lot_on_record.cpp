#include "lot_on_record.hpp"

#include <fmt/format.h>

#include "case_plan.hpp"
#include "tedge/base/time_zone.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

Expected<money::SaleTerms> terms_in_sale(json sale, const Currency& currency) {
    if (!sale.contains("premium")) {
        return fail("lot.no-terms", "The terms of the sale are not recorded, so nothing can be reckoned from them.",
                    "Enter them with the lot: the premium, and the VAT on it.");
    }
    sale["currency"] = std::string(currency.code());
    return money::parse_sale_terms(json{{"currency", sale["currency"]}, {"sale", sale}}.dump());
}

Expected<money::SaleTerms> terms_of_sale(const CaseSnapshot& snapshot, const Currency& currency) {
    return terms_in_sale(sale_of_case(snapshot), currency);
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

std::string moment_words(Instant at, std::string_view zone) {
    const auto there = wall_text(at, zone);
    const std::string text = there ? *there : wall_text(at, "Etc/UTC").value_or(tedge::to_text(at));
    return provenance::words_for_day(text.substr(0, 10)) + text.substr(10);
}

std::optional<std::string> nameless_purchase_remark(const CaseSnapshot& snapshot, const Record& lot) {
    const Record* purchase = purchase_of(snapshot, lot);
    if (purchase == nullptr || purchase->body.has("lot") || snapshot.of_kind("lot").size() < 2) return std::nullopt;
    return fmt::format(
        "The purchase names no lot; it is taken for {}, the one recorded last. Name its lot in the purchase.",
        lot_words(lot));
}

}  // namespace tedge::usecases
