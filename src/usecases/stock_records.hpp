// What the stock book, the list under ordinary VAT and the stock list read of a picture alike.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/decimal.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "tedge/usecases/stock.hpp"

namespace tedge::usecases {

// Its title, who made it and when, of what and how large: what a stock book is to describe it by.
[[nodiscard]] std::string picture_in_words(const casebook::CaseSnapshot& snapshot);

// At the rate recorded with it; none where there is none. Errors: money.mixed-currencies.
[[nodiscard]] Expected<std::optional<Money>> in_house(const casebook::Record& record,
                                                      const std::optional<Money>& amount, const Currency& currency);

// As recorded with the sale, else the standard rate of its day.
[[nodiscard]] Expected<Decimal> vat_percent_of(const casebook::Record& sale);

// ISO days, which compare as text.
struct StockPeriod {
    std::string from;
    std::string to;
    [[nodiscard]] bool holds(const std::string& day) const { return !day.empty() && day >= from && day <= to; }
};
// `left_on`: "" while it is in stock.
[[nodiscard]] bool was_in_stock(const std::string& bought_on, const std::string& left_on, const StockPeriod& period);

// Bought with VAT on the hammer price, or with VAT that is reclaimed: no stock of the margin scheme.
[[nodiscard]] bool is_under_ordinary_vat(const casebook::Record& purchase);

[[nodiscard]] Expected<OrdinaryVat> ordinary_vat(const std::vector<casebook::CaseSnapshot>& snapshots,
                                                 const House& house, const StockPeriod& period);

}  // namespace tedge::usecases
