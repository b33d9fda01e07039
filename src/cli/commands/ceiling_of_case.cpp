// The ceiling of a case: drafted from what is recorded, fixed, asked whether it still holds; and what comes after it.
#include <fmt/format.h>

#include "command.hpp"
#include "plan_file.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/ceilings.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<casebook::CaseSnapshot> snapshot_of_case(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto case_id = usecases::find_case(**book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    return (*book)->snapshot(*case_id);
}

Expected<Answer> draft(Context& context, const Arguments& arguments) {
    const auto snapshot = snapshot_of_case(context, arguments);
    if (!snapshot) return pass_on(snapshot);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    auto currency = Expected<Currency>(usecases::usual_currency(**book, snapshot->picture.id));
    if (const auto said = arguments.option("currency")) currency = said_by("currency", Currency::parse(*said));
    if (!currency) return pass_on(currency);
    const auto plan = usecases::draft_plan(*snapshot, *currency);
    if (!plan) return pass_on(plan);
    const json made = json::parse(*plan);
    return Answer{{{"plan", made}}, {made.dump(2)}};
}

Expected<Answer> fix(Context& context, const Arguments& arguments) {
    const auto text = plan_text(arguments, "plan");
    if (!text) return pass_on(text);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto fixed = usecases::fix_ceiling(*acting, *case_id, *text, arguments.option_or("note", ""));
    if (!fixed) return pass_on(fixed);
    Answer answer = ceiling_answer(fixed->report);
    answer.fields["id"] = to_text(fixed->done.record);
    answer.lines.emplace_back("Fixed, with its plan.");
    return answer;
}

Expected<Answer> standing(Context& context, const Arguments& arguments) {
    const auto snapshot = snapshot_of_case(context, arguments);
    if (!snapshot) return pass_on(snapshot);
    const auto found = usecases::ceiling_standing(*snapshot);
    if (!found) {
        return Answer{{{"fixed", false}, {"out_of_date", false}, {"since", json::array()}},
                      {"No limit is fixed for this picture."}};
    }
    Answer answer;
    answer.fields = {{"fixed", true},
                     {"id", to_text(found->record)},
                     {"limit", amount(found->limit)},
                     {"fixed_at", found->fixed_at},
                     {"fixed_by", found->fixed_by},
                     {"bought", found->bought},
                     {"out_of_date", found->out_of_date()},
                     {"since", json::array()}};
    answer.lines.push_back(fmt::format("Limit {}, fixed {}{}.", found->limit ? to_display_text(*found->limit) : "?",
                                       found->fixed_at, found->fixed_by.empty() ? "" : " by " + found->fixed_by));
    if (found->bought) answer.lines.emplace_back("The picture is bought: ask the courses.");
    for (const usecases::LearntSince& since : found->since) {
        answer.fields["since"].push_back({{"record", to_text(since.record)}, {"text", since.sentence}});
        answer.lines.push_back(since.sentence);
    }
    if (found->out_of_date()) answer.lines.emplace_back("It is out of date: draft, think and fix it again.");
    return answer;
}

json limits_fields(const money::SpendingLimits& limits) {
    return {{"target", amount(limits.target)},
            {"risk", amount(limits.risk)},
            {"cash", amount(limits.cash)},
            {"stop", amount(limits.stop)}};
}

Answer courses_answer(const money::CoursesReport& report) {
    Answer answer;
    answer.fields = {{"best", money::course_name(report.best)},
                     {"courses", json::array()},
                     {"may_be_spent", limits_fields(report.may_be_spent)},
                     {"lowest", amount(report.lowest)}};
    for (const money::CourseOutlook& course : report.courses) {
        answer.fields["courses"].push_back({{"course", money::course_name(course.course)},
                                            {"expected_profit", amount(course.expected_profit)},
                                            {"loss_probability", course.loss_probability},
                                            {"quantiles",
                                             {{"p5", amount(course.quantiles.p5)},
                                              {"p50", amount(course.quantiles.p50)},
                                              {"p95", amount(course.quantiles.p95)}}},
                                            {"still_to_spend", amount(course.still_to_spend)},
                                            {"still_to_spend_high", amount(course.still_to_spend_high)}});
        answer.lines.push_back(
            fmt::format("{}: expected profit {}, chance of loss {} %, still to spend {} (at most {})",
                        money::course_name(course.course), to_display_text(course.expected_profit),
                        format_fixed(100 * course.loss_probability, 1), to_display_text(course.still_to_spend),
                        to_display_text(course.still_to_spend_high)));
    }
    if (report.courses.size() > 1) {
        answer.lines.push_back(fmt::format("By these figures: {}.", money::course_name(report.best)));
    }
    const auto& limits = report.may_be_spent;
    for (const auto& [limit, until] :
         {std::pair{limits.target, "the expected profit falls below the one wanted"},
          std::pair{limits.risk, "the chance of loss passes the one accepted"},
          std::pair{limits.cash, "the cash there is has gone"}, std::pair{limits.stop, "stopping is worth as much"}}) {
        if (limit)
            answer.lines.push_back(fmt::format("{} may still be spent before {}.", to_display_text(*limit), until));
    }
    add_remarks(report.remarks, answer);
    return answer;
}

Expected<Answer> courses(Context& context, const Arguments& arguments) {
    std::optional<std::string> changed;
    if (arguments.option("plan")) {
        const auto text = plan_text(arguments, "plan");
        if (!text) return pass_on(text);
        changed = *text;
    }
    const auto snapshot = snapshot_of_case(context, arguments);
    if (!snapshot) return pass_on(snapshot);
    const auto report = usecases::courses_of_case(*snapshot, changed);
    if (!report) return pass_on(report);
    return courses_answer(*report);
}

}  // namespace

std::vector<Command> ceiling_of_case_commands() {
    return {
        {"ceiling draft",
         {{"DIR", "CASE"}, {"currency"}},
         "A plan from what is recorded of the case: terms, costs, the plan fixed last; to be thought through and "
         "fixed.",
         draft},
        {"ceiling fix",
         {{"DIR", "CASE"}, {"plan", "note"}, {"plan"}},
         "Solves a plan and writes the limit down with it, who and when.",
         fix},
        {"ceiling standing",
         {{"DIR", "CASE"}, {}},
         "Whether the limit fixed last knows all that is recorded.",
         standing},
        {"ceiling courses",
         {{"DIR", "CASE"}, {"plan"}},
         "After the purchase and after every stage: go on, sell as it stands, sell as found; what may still be spent.",
         courses},
    };
}

}  // namespace tedge::cli
