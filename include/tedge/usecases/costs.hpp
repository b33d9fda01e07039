// What a treatment may cost: by hours from a table, scaled with the picture and with what was found, and by what past
// cases came to.
//
// The table (resources/reference/treatment_hours.csv) is own judgement from memory, and whatever is reckoned from it
// says so; three past cases of a treatment take its place. Hours cost what the house says an hour costs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/base/estimate.hpp"
#include "tedge/usecases/viewing.hpp"

namespace tedge::usecases {

// What an act came to, case by case, for one unit of what it is measured in, net as recorded.
struct PricedAct {
    std::string treatment;
    std::string measure;  // m2, m, piece, week
    Currency currency;
    std::size_t cases = 0;                      // costs that were counted
    Estimate<std::int64_t> unit_price_minor{};  // the cheapest, the middle one, the dearest
    std::optional<double> actual_to_likely{};   // the middle of actual / likely estimate, where estimates were made
};

// Over all cases but one: costs with an act and an actual amount. The quantity is what was recorded; without it the
// area of the picture (m2) or its perimeter (m) by the treatment's measure, where the picture is measured.
[[nodiscard]] Expected<std::vector<PricedAct>> price_book(casebook::Casebook& book,
                                                          const std::optional<Uuid>& left_out = std::nullopt);

inline constexpr std::size_t cases_for_a_price = 3;

enum class Needed { yes, unknown, no };

[[nodiscard]] std::string_view to_text(Needed needed);  // "yes", "unknown", "no"

struct SuggestedCost {
    std::string treatment;
    std::string name;  // "varnish removal"
    std::string measure;
    double quantity = 0.0;
    Estimate<std::int64_t> amount_minor{};
    Needed needed = Needed::unknown;
    std::string because;  // a sentence: quantity, what it rests on, what was seen
    std::string source;   // "table of hours, from memory", "own price book, 4 costs"
};

struct HourlyRate {
    Estimate<std::int64_t> minor{};
    Currency currency;
};

// One entry for each treatment of the table. The face's area and perimeter by its measured sides; loose paint and
// losses by the area of the findings drawn, else, where the viewer answered yes, by a twentieth of the face, and where
// nobody saw, by that too with nothing as the low value. An act whose questions are all answered no is not needed and
// costs nothing; one that nobody could answer may cost nothing at best. Errors: costs.no-size (nobody measured the
// picture), costs.rate (not ascending, negative), money.out-of-range.
[[nodiscard]] Expected<std::vector<SuggestedCost>> suggest_costs(const casebook::CaseSnapshot& snapshot,
                                                                 const HourlyRate& rate,
                                                                 const std::vector<PricedAct>& own_prices);

// Writes the suggestions that are needed, or may be, as costs with their quantity; acts that have a cost already are
// left alone. Returns what was written. Errors: those of add_record.
[[nodiscard]] Expected<std::vector<Done>> record_suggested(const Acting& acting, const Uuid& case_id,
                                                           const std::vector<SuggestedCost>& suggested,
                                                           const Currency& currency);

// What the comparables of an outcome say. Prices as recorded, nothing converted.
struct OutcomeSupport {
    std::string outcome;  // "" for comparables that name none
    std::vector<Uuid> comparables{};
    std::size_t sold = 0;
    std::size_t unsold = 0;                               // they count: a fifth of what is offered may not sell
    std::optional<Currency> currency{};                   // none where prices are in several, or there are none
    std::optional<Estimate<std::int64_t>> price_minor{};  // of the sold: lowest, middle, highest
    std::vector<std::string> doubts{};                    // mixed currencies, mixed sorts of price, no source, too few
};

// Of every outcome named by a comparable or by the plan fixed last.
[[nodiscard]] std::vector<OutcomeSupport> outcome_support(const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::usecases
