#include <algorithm>

#include "lot_on_record.hpp"
#include "tedge/base/time_zone.hpp"
#include "tedge/usecases/deadlines.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using std::chrono::sys_days;
using std::chrono::year_month_day;

namespace {

// "14:30 Europe/London (GMT)": without the day.
std::string hour_words(Instant at, std::string_view zone) {
    const std::string text = moment_words(at, zone);
    const auto comma = text.find(", ");
    return comma == std::string::npos ? text : text.substr(comma + 2);
}

std::optional<StandingDeadline> standing_deadline(const Record& record) {
    const auto on = parse_date(record.body.text_or("on"));
    if (!on) return std::nullopt;
    StandingDeadline made{.case_id = record.case_id,
                          .record = record.id,
                          .title = {},
                          .what = record.body.text_or("what"),
                          .on = *on,
                          .basis = record.body.text_or("basis")};
    if (const auto at = parse_instant(record.body.text_or("at")))
        made.at = hour_words(*at, record.body.text_or("zone"));
    if (const auto done = parse_date(record.body.text_or("done_on"))) made.done_on = *done;
    return made;
}

std::optional<StandingDeadline> sale_to_come(const Record& lot) {
    const auto at = parse_instant(lot.body.text_or("sale_at"));
    if (!at || lot.body.has("result")) return std::nullopt;
    const std::string zone = lot.body.text_or("sale_zone");
    const auto there = wall_time(*at, zone);
    return StandingDeadline{.case_id = lot.case_id,
                            .record = lot.id,
                            .title = {},
                            .what = "Sale, " + lot_words(lot),
                            .on = there ? there->day : year_month_day(std::chrono::floor<std::chrono::days>(*at)),
                            .at = hour_words(*at, zone),
                            .basis = lot.body.text_or("sale"),
                            .is_sale = true};
}

void put_in_order(std::vector<StandingDeadline>& all) {
    std::ranges::stable_sort(all, [](const StandingDeadline& a, const StandingDeadline& b) {
        if (a.done_on.has_value() != b.done_on.has_value()) return !a.done_on;
        return a.done_on ? *a.done_on > *b.done_on : a.on < b.on;
    });
}

std::vector<StandingDeadline> unordered_deadlines(const CaseSnapshot& snapshot, year_month_day today) {
    std::vector<StandingDeadline> all;
    const auto put = [&](std::optional<StandingDeadline> made) {
        if (!made) return;
        made->title = snapshot.picture.body.text_or("title");
        made->days_left = static_cast<int>((sys_days(made->on) - sys_days(today)).count());
        all.push_back(*std::move(made));
    };
    for (const Record* lot : snapshot.of_kind("lot")) put(sale_to_come(*lot));
    for (const Record* deadline : snapshot.of_kind("deadline")) put(standing_deadline(*deadline));
    return all;
}

}  // namespace

std::vector<StandingDeadline> standing_deadlines(const CaseSnapshot& snapshot, year_month_day today) {
    auto all = unordered_deadlines(snapshot, today);
    put_in_order(all);
    return all;
}

Expected<std::vector<StandingDeadline>> standing_deadlines(casebook::Casebook& book, const std::optional<Uuid>& case_id,
                                                           year_month_day today) {
    if (case_id) {
        const auto snapshot = book.snapshot(*case_id);
        if (!snapshot) return pass_on(snapshot);
        return standing_deadlines(*snapshot, today);
    }
    const auto snapshots = book.snapshots({.all_of = {"deadline", "lot"}, .any_of = {}});
    if (!snapshots) return pass_on(snapshots);
    std::vector<StandingDeadline> all;
    for (const CaseSnapshot& snapshot : *snapshots)
        for (StandingDeadline& each : unordered_deadlines(snapshot, today)) all.push_back(std::move(each));
    put_in_order(all);
    return all;
}

}  // namespace tedge::usecases
