// What falls due around a sale, counted from the terms of the lot, and its way into other people's calendars.
//
// Days are calendar days after the day of the sale as the clocks of the sale show it; whether the terms mean working
// days, whoever read them knows. "Storage begins" is the day after the last free one. Where the terms do not say when
// to pay, the usual number of days is taken and said to be a default; nothing else is assumed.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tedge/usecases/calendar_file.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct TermDeadline {
    std::string term;  // register approval pay collect storage return export: as in the records
    std::string what;  // "Pay for lot 12"
    std::chrono::year_month_day on;
    std::string basis;        // "7 days after the sale on 5 March 2026 (terms)"
    bool is_default = false;  // the terms do not say it
};

struct DeadlinesByTerms {
    std::vector<TermDeadline> due{};
    std::vector<std::string> not_said{};  // what the terms leave open, a sentence each
    std::vector<std::string> remarks{};   // the zone is not known; the terms do not hold on the day of the sale
};

// The day that the terms count from: of the purchase where one of this lot is recorded, else of the sale by the clocks
// of its zone. None where neither is recorded.
[[nodiscard]] std::optional<std::chrono::year_month_day> day_of_sale(const casebook::CaseSnapshot& snapshot,
                                                                     const casebook::Record& lot);

// Before the sale to register and be approved; after the lot was bought the rest.
[[nodiscard]] DeadlinesByTerms deadlines_by_terms(const casebook::CaseSnapshot& snapshot, const casebook::Record& lot);

struct MadeDeadlines {
    std::vector<Done> done{};  // written or counted anew; none where all stand already
    DeadlinesByTerms by_terms{};
};

// Writes them for the newest lot, in one act. One that stands already is counted anew, and is not written where nothing
// changed; one that is done is left alone. Errors: lot.none, those of add_record().
[[nodiscard]] Expected<MadeDeadlines> make_deadlines(const Acting& acting, const Uuid& case_id);

// Something that falls due, or a sale to come, as it stands on a day.
struct StandingDeadline {
    Uuid case_id;
    Uuid record;  // a deadline, or the lot whose sale it is
    std::string title;
    std::string what;
    std::chrono::year_month_day on;  // of a sale the day by its own clocks
    std::string at{};                // "14:30 Europe/London (GMT)"; empty: the whole day
    std::string basis{};             // how it was counted
    std::optional<std::chrono::year_month_day> done_on{};
    bool is_sale = false;
    int days_left = 0;  // less than nothing: so many days ago

    [[nodiscard]] bool is_past() const { return !done_on && days_left < 0; }
};

// What is open by its day, the earliest first, then what is done, the latest first. Of a lot only its sale, until its
// result is recorded.
[[nodiscard]] std::vector<StandingDeadline> standing_deadlines(const casebook::CaseSnapshot& snapshot,
                                                               std::chrono::year_month_day today);
// Of that case, else of all.
[[nodiscard]] Expected<std::vector<StandingDeadline>> standing_deadlines(casebook::Casebook& book,
                                                                         const std::optional<Uuid>& case_id,
                                                                         std::chrono::year_month_day today);

// What a calendar is given: deadlines not done yet and sales whose result is not recorded, of one case or of all. What
// falls due, the picture's title, the lot and how it was counted; no amounts, no people, no private notes.
[[nodiscard]] std::vector<CalendarEntry> calendar_entries(const casebook::CaseSnapshot& snapshot);

struct CalendarExport {
    std::size_t entries = 0;
};
// A calendar of that name is replaced. Errors: deadlines.none, deadlines.exists (a file of that name is no calendar),
// those of files.
[[nodiscard]] Expected<CalendarExport> export_deadlines(casebook::Casebook& book, const std::optional<Uuid>& case_id,
                                                        const std::filesystem::path& file,
                                                        const CalendarOptions& options = {});

}  // namespace tedge::usecases
