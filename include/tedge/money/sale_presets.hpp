// Terms to begin with where a sale's own have not been read yet, the ways to bid, and what a round hammer price comes
// to by each. Presets name no house.
//
// Figures: resources/reference/sale_presets.csv and bidding_routes.csv, each row with its days of validity, source and
// status. Most were seen on secondary pages or are from memory, and say so: the sale's own conditions decide.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/money/invoice.hpp"

namespace tedge::money {

struct SalePreset {
    std::string name;   // "regional-25"
    std::string label;  // for people
    SaleTerms terms;
    std::string premium;     // as printed: "25 to 50000; 20"
    std::string increments;  // the name of their table
    std::string valid_from;  // ISO 8601; empty: not known
    std::string valid_to;
    std::string status;
    std::string source;
};

// Those that hold on the day, in the order of the table.
[[nodiscard]] std::vector<SalePreset> sale_presets_on(std::chrono::year_month_day day);

// Errors: sale.unknown-preset (values.preset; there is none of that name on that day).
[[nodiscard]] Expected<SalePreset> sale_preset(std::string_view name, std::chrono::year_month_day day);

// One way to bid, and what it adds. A route that is free adds nothing to the terms' own surcharge.
struct BiddingRoute {
    std::string name{};
    std::string label{};
    Decimal surcharge_percent{};      // of the hammer price
    Decimal surcharge_vat_percent{};  // on the surcharge
    std::string status{};
    std::string source{};
};

[[nodiscard]] const std::vector<BiddingRoute>& usual_bidding_routes();

// Those of the sale in a plan: `"routes": [{"name": "telephone", "surcharge_percent": 0}, …]` beside its other terms,
// with `surcharge_vat_percent` where the surcharge is printed without its VAT. Empty where it names none. Errors: those
// of parse_sale_terms.
[[nodiscard]] Expected<std::vector<BiddingRoute>> parse_bidding_routes(std::string_view json);

// The same terms by that route: its surcharge takes the place of the terms' own.
[[nodiscard]] SaleTerms by_route(const SaleTerms& terms, const BiddingRoute& route);

struct RouteCost {
    BiddingRoute route;
    Money total;           // all-in at the hammer price
    Money dearer_by;       // than the cheapest of the routes compared
    Money same_all_in_at;  // the largest hammer price whose all-in by this route is not above that of the cheapest
};

// In the order given. Errors: those of invoice(), sale.out-of-range (a surcharge outside 0 to 100 %).
[[nodiscard]] Expected<std::vector<RouteCost>> compare_routes(const SaleTerms& terms,
                                                              const std::vector<BiddingRoute>& routes,
                                                              const Money& hammer);

// What a round hammer price comes to in all: one line for 100, 200, 500, 1,000 … up to `highest` whole units.
struct RoundHammer {
    Money hammer;
    Money all_in;
    double percent_above_hammer;
};
[[nodiscard]] Expected<std::vector<RoundHammer>> round_hammers(const SaleTerms& terms, std::int64_t highest = 100'000);

}  // namespace tedge::money
