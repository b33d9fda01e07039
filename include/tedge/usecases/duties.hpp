// The questions a deal is asked by law and good practice: each answered, open or not applicable.
//
// Which of them the case calls for is read from its facts (price, day, country, age, who the other side is) and said
// with a reason; a person answers, with a document where there is one. Nothing here says that something is lawful: that
// is for licensed advice. Each question names its sources and whether any of it is known from memory alone.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/money/legal_limits.hpp"
#include "tedge/usecases/house.hpp"

namespace tedge::usecases {

using tedge::to_text;  // of days and ids, beside those of this namespace

enum class CalledFor { yes, no, unknown };  // by the facts that are recorded
[[nodiscard]] std::string_view to_text(CalledFor called);

struct Duty {
    std::string name{};      // "money-laundering"
    std::string question{};  // one sentence
    CalledFor called = CalledFor::unknown;
    std::string why{};             // one or two sentences with the facts they rest on
    std::string state{};           // answered, open, not-applicable
    std::optional<Uuid> answer{};  // the record; none where nobody answered
    std::string found{};           // what the answer says
    std::string answered_on{};
    std::optional<Uuid> document{};
    std::vector<money::LegalSource> sources{};
    std::vector<std::string> remarks{};  // what does not go together, what is missing
};

// A paper that says who somebody is, kept for a term.
struct IdentityPaper {
    Uuid document;
    std::string title{};
    std::string destroy_after{};  // "" where no day was said
    bool due = false;             // the day is over
};

struct DutiesOfCase {
    std::vector<Duty> duties{};
    std::vector<IdentityPaper> papers{};
    std::string papers_until{};  // ISO day: deal and term by the law of the day; "" before there is a deal
};

// A sale to the same buyer in another case, at what it was sold for.
struct LinkedSale {
    Uuid case_id;
    std::string title{};
    std::string sold_on{};
    std::optional<Money> price{};  // in the currency of the limit; none where no rate into it is recorded
};

// `linked`: other sales to the buyer of this case, in the currency of the limit that holds on the day of the sale.
[[nodiscard]] DutiesOfCase duties_of_case(const casebook::CaseSnapshot& snapshot, const House& house,
                                          std::chrono::year_month_day today, const std::vector<LinkedSale>& linked);
// The same with the sales linked by their buyer looked up in the book. Errors: casebook.no-such-record.
[[nodiscard]] Expected<DutiesOfCase> duties_of_case(casebook::Casebook& book, const Uuid& case_id,
                                                    std::chrono::year_month_day today);

struct DutyAnswer {
    std::string duty{};
    std::string answer{};  // answered, open, not-applicable
    std::string text{};
    std::optional<Uuid> document{};
    std::string on{};  // ISO day
};

// Errors: duties.nothing-said ("answered" without a text and without a document, "not-applicable" without a reason),
// and those of add_record.
[[nodiscard]] Expected<Done> answer_duty(const Acting& acting, const Uuid& case_id, const DutyAnswer& answer);

}  // namespace tedge::usecases
