// Plans beside one another, and the question that is asked again after the purchase and after every stage: go on, sell
// as it stands, or sell as found.
//
// All by the rules of ceiling.hpp. After the purchase the hammer price is no longer a question: what was paid is paid,
// the margin price is that of the invoice, and only what is still to come is uncertain. Interest is reckoned from now
// on, on what is tied up; interest already paid belongs to the costs paid.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tedge/money/ceiling.hpp"

namespace tedge::money {

struct NamedPlan {
    std::string name;
    CeilingPlan plan;
};

struct PlanBeside {
    std::string name;
    CeilingReport report;
    std::optional<ProfitAtHammer> at_hammer{};  // at the hammer price that all are compared at
};

struct PlansBeside {
    std::optional<Money> hammer{};    // the one asked for, else the bid of the first plan; none where that is 0
    std::vector<PlanBeside> plans{};  // as given, then "as found" where a plan says what that would bring
    std::vector<Remark> remarks{};    // courses.as-found-not-said
};

// Each plan's ceilings, and what each leads to at one hammer price. "As found" is the first plan's that has it.
// Errors: those of solve_ceiling and profit_at, with values.plan; money.mixed-currencies (plans in two currencies).
[[nodiscard]] Expected<PlansBeside> plans_beside_one_another(const std::vector<NamedPlan>& plans,
                                                             const std::optional<Money>& hammer = std::nullopt,
                                                             const CeilingOptions& options = {});

// What is spent and does not come back, whatever is decided now.
struct AlreadySpent {
    Money all_in;         // paid for the lot
    Money margin_price;   // of it, what the margin scheme counts as bought
    Money vat_recovered;  // of it, what was or will be recovered
    Money costs;          // everything paid since
};

enum class Course { go_on, sell_as_it_stands, sell_as_found };

[[nodiscard]] std::string_view course_name(Course course);  // "go on", "sell as it stands", "sell as found"

// What a course leads to, everything already spent included.
struct CourseOutlook {
    Course course;
    Money expected_profit;
    double loss_probability;
    ProfitQuantiles quantiles;
    Money still_to_spend;       // expected
    Money still_to_spend_high;  // every cost at its high value, times the largest cost factor
};

// The largest sum that may still be spent in all before something is given up, whatever it is spent on.
struct SpendingLimits {
    std::optional<Money> target{};  // before the expected profit falls below the profit wanted
    std::optional<Money> risk{};    // before the chance of loss passes the one accepted
    std::optional<Money> cash{};    // before the cash there is has gone
    std::optional<Money> stop{};    // before stopping is worth as much (the better of the other two courses)
};

struct CoursesReport {
    std::vector<CourseOutlook> courses{};  // go on first; the others where it is said what they would bring
    Course best = Course::go_on;           // of those, the one of the highest expected profit, the earlier of equals
    SpendingLimits may_be_spent{};
    std::optional<Money> lowest{};  // of the limits
    std::vector<Remark> remarks{};  // what nobody has said yet, what is exceeded
};

// `plan` holds what is still to come: costs not yet paid, outcomes as they are judged now. `as_it_stands` is what the
// picture would bring in its present state, `plan.as_found` untouched (leave it out once it is touched).
// Errors: those of check(CeilingPlan), money.mixed-currencies, courses.negative (values.field), money.out-of-range.
[[nodiscard]] Expected<CoursesReport> weigh_courses(const CeilingPlan& plan, const AlreadySpent& spent,
                                                    const std::optional<AsFound>& as_it_stands = std::nullopt,
                                                    const CeilingOptions& options = {});

}  // namespace tedge::money
