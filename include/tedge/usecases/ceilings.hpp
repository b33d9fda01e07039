// The bid ceiling of a case: the plan put together from what is recorded, fixed with who and when, found out of date by
// what was learnt since; and, once the picture is bought, the courses that are left.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/money/courses.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

// A plan as `tedge ceiling` reads it (docs: casebook format), put together from the case: the plan fixed last, if any,
// with the newest lot's terms in place of its own and the costs as they are estimated now. What a cost came to counts
// for certain; costs of the fixed plan that nobody recorded stay as they were. Without a plan fixed before, outcomes
// are empty and have to be filled in: it is a draft. Errors: money.mixed-currencies (a cost in another currency, with
// values.field), money.unknown-currency.
[[nodiscard]] Expected<std::string> draft_plan(const casebook::CaseSnapshot& snapshot, const Currency& currency);

struct FixedCeiling {
    Done done;
    money::CeilingReport report;
};

// Solves the plan and writes it down with its report, the limit, who fixed it and when. A plan that cannot be solved or
// limits nothing is not fixed; nothing is written then. What was fixed is not changed afterwards (ceiling.fixed): fix
// another, the newest counts. Errors: those of parse_ceiling_plan and solve_ceiling, ceiling.no-limit, and those of
// add_record.
[[nodiscard]] Expected<FixedCeiling> fix_ceiling(const Acting& acting, const Uuid& case_id, std::string_view plan,
                                                 std::string_view note = {});

// What a report says, as it is kept with a limit and told to scripts. Amounts are decimal numbers in major units.
[[nodiscard]] nlohmann::json ceiling_values(const money::CeilingReport& report);

// Something recorded after the limit was fixed, which it therefore does not know of.
struct LearntSince {
    Uuid record;
    std::string sentence;
};

struct CeilingStanding {
    Uuid record;
    std::optional<Money> limit{};
    std::string fixed_at{};            // as recorded, UTC
    std::string fixed_by{};            // a name; empty where it was not recorded
    std::vector<LearntSince> since{};  // empty: it knows all that is recorded
    bool bought = false;               // the question is another one now: courses_of_case

    [[nodiscard]] bool out_of_date() const { return !bought && !since.empty(); }
};

// Of the limit fixed last: viewing notes written or changed after it, lots of which then something else was known that
// a plan is made of (their result is none of it), and estimates of costs. None where no limit was fixed.
[[nodiscard]] std::optional<CeilingStanding> ceiling_standing(const casebook::CaseSnapshot& snapshot);

// Of the newest purchase and the costs paid. VAT is recovered only in ordinary selling, on premium and hammer by the
// plan's terms. Errors: courses.not-bought, courses.no-price (neither all-in price nor hammer price is recorded),
// money.mixed-currencies.
[[nodiscard]] Expected<money::AlreadySpent> spent_on(const casebook::CaseSnapshot& snapshot,
                                                     const money::CeilingPlan& plan);

// The plan from now on: of draft_plan() only the costs not yet paid. `changed` is a plan to ask it of instead of the
// one fixed last; it may hold "as_it_stands" beside "as_found", of the same form. Errors: courses.no-plan (none fixed,
// none given) and those of spent_on, parse_ceiling_plan and weigh_courses.
[[nodiscard]] Expected<money::CoursesReport> courses_of_case(const casebook::CaseSnapshot& snapshot,
                                                             const std::optional<std::string>& changed = std::nullopt);

}  // namespace tedge::usecases
