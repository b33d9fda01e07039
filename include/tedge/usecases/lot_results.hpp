// What became of a lot, held against the limit, and what follows from having bought it: the purchase with the prices to
// expect by the terms, whose risk it is from when, and what falls due. Nothing here says what is lawful; terms are read
// as they are recorded, and what is assumed says so.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/money/ceiling.hpp"
#include "tedge/money/invoice.hpp"
#include "tedge/usecases/deadlines.hpp"

namespace tedge::usecases {

struct LotResult {
    std::string result;                       // bought underbid bought-in withdrawn not-bid
    std::optional<Money> hammer{};            // what it was knocked down at; bought in: how far the bids went
    std::optional<Money> our_last_bid{};      // where we were not the buyer
    std::optional<Money> after_sale_offer{};  // bought in: what it can be had for
    std::string bought_on{};                  // ISO day; empty: the day of the sale
    std::string scheme{};                     // margin vat-on-hammer import none; empty: not known yet
    std::string invoice_number{};
    std::string paid_on{};
    std::string collected_on{};
    std::string insured_by{};
    std::optional<Money> insured_value{};
};

// The purchase that names the lot, else one that names none; nullptr where it was not bought.
[[nodiscard]] const casebook::Record* purchase_of(const casebook::CaseSnapshot& snapshot, const casebook::Record& lot);

// The custody from which the risk is ours; nullptr where none says it.
[[nodiscard]] const casebook::Record* custody_of_risk(const casebook::CaseSnapshot& snapshot);

// The invoice to expect at that hammer price, by the terms of the newest lot. Errors: lot.no-terms, those of invoice().
[[nodiscard]] Expected<money::Invoice> expected_invoice(const casebook::CaseSnapshot& snapshot, const Money& hammer);

// The price against the limit fixed last.
struct PostMortem {
    Money price;  // the hammer price, or what was offered after the sale
    Money limit;
    Money above_limit;                                // price − limit: less than nothing where it lay below
    std::optional<Money> underbid{};                  // by the plan's increments, where we bought
    std::optional<money::ProfitAtHammer> at_price{};  // by the plan of the limit
    std::vector<std::string> said{};                  // in sentences
};

// Of the newest lot and the limit fixed last; none without a price, a limit or a readable plan in its currency.
[[nodiscard]] std::optional<PostMortem> post_mortem(const casebook::CaseSnapshot& snapshot);

// The same before it is recorded: as if that were the result.
[[nodiscard]] std::optional<PostMortem> post_mortem_if(const casebook::CaseSnapshot& snapshot, const LotResult& result);

// From when damage is ours.
struct RiskStanding {
    std::string passes{};                               // fall-of-hammer payment collection
    bool is_assumed = false;                            // the terms do not say; the earliest moment is taken
    std::optional<std::chrono::year_month_day> from{};  // none where that has not come yet
    std::string said{};                                 // a sentence
};
[[nodiscard]] std::optional<RiskStanding> risk_standing(const casebook::CaseSnapshot& snapshot);  // none: not bought

struct RecordedResult {
    std::vector<Done> done{};  // each can be taken back, the last first
    std::optional<Uuid> purchase{};
    std::optional<money::Invoice> expected{};
    std::optional<PostMortem> post_mortem{};
    std::optional<RiskStanding> risk{};
    DeadlinesByTerms by_terms{};
    std::vector<std::string> remarks{};
};

// Writes it to the newest lot; bought, also the purchase, the saleroom's custody from the day the risk is ours, and the
// deadlines; all in one act. Said again with more (paid, collected, insured), it adds to what stands. Prices that
// somebody put right are kept as long as the hammer price stays.
// Errors: lot.none, lot.no-hammer (bought or underbid without a price), lot.has-no-price (withdrawn with one),
// lot.sale-to-come, lot.bought-already (another result while a purchase of it is recorded), those of add_record().
[[nodiscard]] Expected<RecordedResult> record_lot_result(const Acting& acting, const Uuid& case_id,
                                                         const LotResult& result);

}  // namespace tedge::usecases
