#include "stock_records.hpp"

#include "sums.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/text.hpp"
#include "tedge/money/margin_scheme.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

std::string picture_in_words(const CaseSnapshot& snapshot) {
    const casebook::Body& picture = snapshot.picture.body;
    std::vector<std::string> parts{picture.text_or("title")};
    for (const char* field : {"artist", "date_made", "technique"})
        if (picture.has(field)) parts.push_back(picture.text_or(field));
    const auto width_mm = picture.number("width_mm");
    const auto height_mm = picture.number("height_mm");
    if (width_mm && height_mm) parts.push_back(format_size_height_first(*height_mm, *width_mm));
    return join(parts, ", ");
}

Expected<std::optional<Money>> in_house(const Record& record, const std::optional<Money>& amount,
                                        const Currency& currency) {
    if (!amount) return std::optional<Money>();
    const auto converted = at_recorded_rate(record, *amount, currency);
    if (!converted) return pass_on(converted);
    return std::optional(*converted);
}

Expected<Decimal> vat_percent_of(const Record& sale) {
    if (const auto said = decimal_at(sale.body, "vat_percent")) return *said;
    const auto day = parse_date(sale.body.text_or("sold_on"));
    if (!day) return pass_on(day);
    return money::standard_vat_percent_on(*day);
}

bool was_in_stock(const std::string& bought_on, const std::string& left_on, const StockPeriod& period) {
    return (bought_on.empty() || bought_on <= period.to) && (left_on.empty() || left_on >= period.from);
}

bool is_under_ordinary_vat(const Record& purchase) {
    const auto input_vat = purchase.body.money("input_vat");
    return purchase.body.text_or("scheme") == "vat-on-hammer" || (input_vat && input_vat->minor > 0);
}

}  // namespace tedge::usecases
