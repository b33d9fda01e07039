#include "tedge/usecases/deadlines.hpp"

#include <fmt/format.h>

#include <array>

#include "case_plan.hpp"
#include "embedded_tables.hpp"
#include "lot_on_record.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/own_files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/time_zone.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::FieldValues;
using casebook::Record;
using std::chrono::sys_days;
using std::chrono::year_month_day;

namespace {

constexpr std::int64_t most_days = 36'600;  // a hundred years: beyond it somebody mistyped

struct CountedTerm {
    std::string_view term;
    std::string_view field;  // of the terms: a number of days
    std::string_view what;   // before the lot
    int more_days;           // after those counted
    std::string_view left_open;
};

constexpr std::array counted_terms{
    CountedTerm{"pay", "terms/pay_within_days", "Pay for", 0, "when to pay"},
    CountedTerm{"collect", "terms/collect_within_days", "Collect", 0, "until when to collect"},
    CountedTerm{"storage", "terms/storage_free_days", "Storage begins for", 1, "when storage begins"},
    CountedTerm{"return", "terms/return_window_days", "Return window ends for", 0, "a return window"},
    CountedTerm{"export", "terms/export_within_days", "Export, or prove the export of,", 0, "until when to export"},
};

struct DatedTerm {
    std::string_view term;
    std::string_view field;
    std::string_view what;
};

constexpr std::array dated_terms{
    DatedTerm{"register", "terms/register_by", "Register to bid for"},
    DatedTerm{"approval", "terms/approval_by", "Be approved to bid for"},
};

std::optional<std::int64_t> default_days(std::string_view term) {
    static const Table defaults = Table::parse(embedded::payment_defaults_csv).value();
    for (std::size_t row = 0; row < defaults.row_count(); ++row)
        if (defaults.cell(row, "term") == term) return std::stoll(defaults.cell(row, "days"));
    return std::nullopt;
}

TermDeadline counted_from(year_month_day day, const CountedTerm& term, std::int64_t days, bool is_default,
                          const Record& lot) {
    std::string basis = fmt::format("{} {} after the sale on {}", days, days == 1 ? "day" : "days",
                                    provenance::words_for_day(to_text(day)));
    basis +=
        is_default ? "; the terms do not say: usual where they do not, from memory, ask the saleroom" : " by its terms";
    if (term.more_days > 0) basis += "; the day after the last free one";
    const year_month_day on(sys_days(day) + std::chrono::days(days + term.more_days));
    return {std::string(term.term), fmt::format("{} {}", term.what, lot_words(lot)), on, basis + ".", is_default};
}

// Whether the terms hold on that day, by their own dates.
std::optional<std::string> validity_remark(const Record& lot, year_month_day day) {
    const auto from = parse_date(lot.body.text_or("terms/valid_from"));
    const auto to = parse_date(lot.body.text_or("terms/valid_to"));
    if ((!from || *from <= day) && (!to || day <= *to)) return std::nullopt;
    return fmt::format("The recorded terms hold {}{}{}, and the sale is on {}: read those of the day.",
                       from ? "from " + provenance::words_for_day(to_text(*from)) : "", from && to ? " " : "",
                       to ? "until " + provenance::words_for_day(to_text(*to)) : "",
                       provenance::words_for_day(to_text(day)));
}

void count_after_sale(const Record& lot, year_month_day day, DeadlinesByTerms& by_terms) {
    for (const CountedTerm& term : counted_terms) {
        const auto said = lot.body.number(term.field);
        if (said && *said >= 0.0 && *said <= static_cast<double>(most_days)) {
            by_terms.due.push_back(counted_from(day, term, static_cast<std::int64_t>(*said), false, lot));
        } else if (const auto usual = default_days(term.term)) {
            by_terms.due.push_back(counted_from(day, term, *usual, true, lot));
        } else {
            by_terms.not_said.push_back(fmt::format("The terms do not say {}.", term.left_open));
        }
    }
}

}  // namespace

std::optional<year_month_day> day_of_sale(const CaseSnapshot& snapshot, const Record& lot) {
    if (const Record* purchase = purchase_of(snapshot, lot))
        if (const auto bought = parse_date(purchase->body.text_or("bought_on"))) return *bought;
    const auto at = parse_instant(lot.body.text_or("sale_at"));
    if (!at) return std::nullopt;
    const auto there = wall_time(*at, lot.body.text_or("sale_zone"));
    return there ? there->day : year_month_day(std::chrono::floor<std::chrono::days>(*at));
}

DeadlinesByTerms deadlines_by_terms(const CaseSnapshot& snapshot, const Record& lot) {
    DeadlinesByTerms by_terms;
    for (const DatedTerm& term : dated_terms) {
        const auto on = parse_date(lot.body.text_or(term.field));
        if (on) {
            by_terms.due.push_back({std::string(term.term), fmt::format("{} {}", term.what, lot_words(lot)), *on,
                                    "The day is that of the terms.", false});
        }
    }
    if (auto remark = nameless_purchase_remark(snapshot, lot)) by_terms.remarks.push_back(*std::move(remark));
    const auto day = day_of_sale(snapshot, lot);
    if (!day) {
        by_terms.remarks.emplace_back("When the sale is, is not recorded, so no days can be counted from it.");
        return by_terms;
    }
    if (lot.body.has("sale_at") && !wall_time(Instant{}, lot.body.text_or("sale_zone")))
        by_terms.remarks.emplace_back("The time zone of the sale is not known; its day is that of UTC.");
    if (auto remark = validity_remark(lot, *day)) by_terms.remarks.push_back(*std::move(remark));
    if (purchase_of(snapshot, lot) != nullptr) count_after_sale(lot, *day, by_terms);
    return by_terms;
}

namespace {

const Record* deadline_of_term(const CaseSnapshot& snapshot, const Record& lot, const std::string& term) {
    for (const Record* deadline : snapshot.of_kind("deadline"))
        if (deadline->body.text("term") == term && deadline->body.record("lot") == lot.id) return deadline;
    return nullptr;
}

// What was done by itself answers its deadline.
std::string day_done(const CaseSnapshot& snapshot, const Record& lot, const std::string& term) {
    const Record* purchase = purchase_of(snapshot, lot);
    if (purchase == nullptr) return {};
    if (term == "pay") return purchase->body.text_or("paid_on");
    if (term == "collect" || term == "storage") return purchase->body.text_or("collected_on");
    return {};
}

Expected<std::optional<Done>> write_term(const Acting& acting, const CaseSnapshot& snapshot, const Record& lot,
                                         const TermDeadline& due) {
    const std::string done = day_done(snapshot, lot, due.term);
    FieldValues values;
    values.text("what", due.what)
        .text("on", to_text(due.on))
        .text("term", due.term)
        .record("lot", lot.id)
        .text("basis", due.basis);
    if (!done.empty()) values.text("done_on", done);
    const Record* before = deadline_of_term(snapshot, lot, due.term);
    Expected<Done> written = std::unexpected(Error{});
    if (before == nullptr) {
        written = add_record(acting, snapshot.picture.id, "deadline", values);
    } else {
        const auto stands = [&](const char* field, const std::string& text) {
            return before->body.text_or(field) == text;
        };
        const bool is_done = before->body.has("done_on");
        const bool same = stands("what", due.what) && stands("on", to_text(due.on)) && stands("basis", due.basis);
        if (is_done || (same && done.empty())) return std::optional<Done>();
        written = change_record(acting, before->id, values, "counted anew");
    }
    if (!written) return pass_on(written);
    return std::optional(*std::move(written));
}

}  // namespace

Expected<MadeDeadlines> make_deadlines(const Acting& acting, const Uuid& case_id) {
    return acting.book.in_one_act([&]() -> Expected<MadeDeadlines> {
        const auto snapshot = acting.book.snapshot(case_id);
        if (!snapshot) return pass_on(snapshot);
        const Record* lot = newest_of_kind(*snapshot, "lot");
        if (lot == nullptr)
            return fail("lot.none", "No lot is recorded for this picture.", "Enter the lot and its terms first.");
        MadeDeadlines made{.by_terms = deadlines_by_terms(*snapshot, *lot)};
        for (const TermDeadline& due : made.by_terms.due) {
            auto written = write_term(acting, *snapshot, *lot, due);
            if (!written) return pass_on(written);
            if (*written) made.done.push_back(**std::move(written));
        }
        return made;
    });
}

std::vector<CalendarEntry> calendar_entries(const CaseSnapshot& snapshot) {
    std::vector<CalendarEntry> entries;
    const std::string title = snapshot.picture.body.text_or("title");
    for (const Record* deadline : snapshot.of_kind("deadline")) {
        const auto on = parse_date(deadline->body.text_or("on"));
        if (!on || deadline->body.has("done_on")) continue;
        CalendarEntry entry{.uid = to_text(deadline->id),
                            .summary = deadline->body.text_or("what") + ": " + title,
                            .description = deadline->body.text_or("basis"),
                            .day = *on,
                            .last_written = deadline->last_written};
        if (const auto at = parse_instant(deadline->body.text_or("at"))) entry.at = *at;
        entries.push_back(std::move(entry));
    }
    for (const Record* lot : snapshot.of_kind("lot")) {
        const auto at = parse_instant(lot->body.text_or("sale_at"));
        if (!at || lot->body.has("result")) continue;
        CalendarEntry entry{.uid = to_text(lot->id),
                            .summary = fmt::format("Sale, {}: {}", lot_words(*lot), title),
                            .description = lot->body.text_or("sale"),
                            .at = *at,
                            .last_written = lot->last_written};
        if (const auto there = wall_text(*at, lot->body.text_or("sale_zone")))
            entry.description += (entry.description.empty() ? "" : "\n") + *there;
        entries.push_back(std::move(entry));
    }
    return entries;
}

Expected<CalendarExport> export_deadlines(casebook::Casebook& book, const std::optional<Uuid>& case_id,
                                          const std::filesystem::path& file, const CalendarOptions& options) {
    std::vector<CalendarEntry> entries;
    if (case_id) {
        const auto snapshot = book.snapshot(*case_id);
        if (!snapshot) return pass_on(snapshot);
        entries = calendar_entries(*snapshot);
    } else {
        const auto snapshots = book.snapshots({.all_of = {"deadline", "lot"}, .any_of = {}});
        if (!snapshots) return pass_on(snapshots);
        for (const CaseSnapshot& snapshot : *snapshots)
            for (CalendarEntry& entry : calendar_entries(snapshot)) entries.push_back(std::move(entry));
    }
    if (entries.empty()) {
        return fail("deadlines.none", "Nothing falls due that is not done already, so there is nothing to write.",
                    "Enter deadlines, or have them counted from the terms of the lot.");
    }
    if (auto fine = check_may_be_replaced(file, "BEGIN:VCALENDAR", "deadlines.exists", "calendar"); !fine)
        return pass_on(fine);
    if (auto written = write_file_durably(file, calendar_text(entries, options)); !written) return pass_on(written);
    return CalendarExport{entries.size()};
}

}  // namespace tedge::usecases
