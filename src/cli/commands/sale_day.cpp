// The day of the sale and what follows: the result of a lot, the invoice held against the terms, what falls due.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "amounts.hpp"
#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/deadlines.hpp"
#include "tedge/usecases/invoice_check.hpp"
#include "tedge/usecases/lot_results.hpp"
#include "tedge/usecases/usual_currency.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

constexpr std::uint64_t largest_invoice_bytes = 1'000'000;

Expected<std::optional<Money>> money_option(const Arguments& arguments, std::string_view name,
                                            const Currency& currency) {
    const auto said = arguments.option(name);
    if (!said) return std::optional<Money>();
    const auto amount = said_by(name, parse_money(*said, currency));
    if (!amount) return pass_on(amount);
    return std::optional(*amount);
}

Expected<std::string> day_option(const Arguments& arguments, std::string_view name) {
    const auto said = arguments.option(name);
    if (!said) return std::string();
    const auto day = said_by(name, parse_date(*said));
    if (!day) return pass_on(day);
    return *said;
}

// One of the words that the field takes; "" where the option is not there.
Expected<std::string> word_option(const Arguments& arguments, std::string_view name, std::string_view kind) {
    const auto said = arguments.option(name);
    if (!said) return std::string();
    const auto words = casebook::words_of(*casebook::find_kind(kind)->field(name));
    if (std::ranges::find(words, *said) != words.end()) return *said;
    return said_by(name, Expected<std::string>(fail("usage.not-a-word", fmt::format("--{} is none of its words.", name),
                                                    fmt::format("Say one of {}.", fmt::join(words, ", ")))));
}

Expected<usecases::LotResult> said_result(const Arguments& arguments, const Currency& currency) {
    const auto result = word_option(arguments, "result", "lot");
    const auto scheme = word_option(arguments, "scheme", "purchase");
    if (!result) return pass_on(result);
    if (!scheme) return pass_on(scheme);
    usecases::LotResult wanted{.result = *result,
                               .scheme = *scheme,
                               .invoice_number = arguments.option_or("invoice-number", ""),
                               .insured_by = arguments.option_or("insured-by", "")};
    for (const auto& [name, field] :
         {std::pair{"hammer", &wanted.hammer}, std::pair{"our-last-bid", &wanted.our_last_bid},
          std::pair{"after-sale-offer", &wanted.after_sale_offer}, std::pair{"insured-value", &wanted.insured_value}}) {
        const auto amount = money_option(arguments, name, currency);
        if (!amount) return pass_on(amount);
        *field = *amount;
    }
    for (const auto& [name, field] : {std::pair{"on", &wanted.bought_on}, std::pair{"paid-on", &wanted.paid_on},
                                      std::pair{"collected-on", &wanted.collected_on}}) {
        const auto day = day_option(arguments, name);
        if (!day) return pass_on(day);
        *field = *day;
    }
    return wanted;
}

void tell_post_mortem(const std::optional<usecases::PostMortem>& found, Answer& answer) {
    answer.fields["post_mortem"] = nullptr;
    if (!found) return;
    json fields = {{"price", amount(found->price)},
                   {"limit", amount(found->limit)},
                   {"above_limit", amount(found->above_limit)},
                   {"underbid", amount(found->underbid)},
                   {"said", found->said},
                   {"expected_profit", nullptr},
                   {"loss_probability", nullptr}};
    if (found->at_price) {
        fields["expected_profit"] = amount(found->at_price->expected_profit);
        fields["loss_probability"] = found->at_price->loss_probability;
    }
    answer.fields["post_mortem"] = std::move(fields);
    answer.lines.insert(answer.lines.end(), found->said.begin(), found->said.end());
}

void tell_deadlines(const usecases::DeadlinesByTerms& by_terms, Answer& answer) {
    answer.fields["deadlines"] = json::array();
    answer.fields["not_said"] = by_terms.not_said;
    for (const usecases::TermDeadline& due : by_terms.due) {
        answer.fields["deadlines"].push_back({{"term", due.term},
                                              {"what", due.what},
                                              {"on", tedge::to_text(due.on)},
                                              {"basis", due.basis},
                                              {"default", due.is_default}});
        answer.lines.push_back(fmt::format("{}  {} ({})", tedge::to_text(due.on), due.what, due.basis));
    }
    for (const std::string& remark : by_terms.remarks) answer.fields["remarks"].push_back(remark);
    for (const auto* list : {&by_terms.not_said, &by_terms.remarks})
        answer.lines.insert(answer.lines.end(), list->begin(), list->end());
}

void tell_expected(const std::optional<money::Invoice>& bill, Answer& answer) {
    answer.fields["expected_invoice"] = nullptr;
    if (!bill) return;
    json lines = json::array();
    for (const money::InvoiceLine& line : bill->lines)
        lines.push_back({{"name", money::charge_name(line.charge)}, {"amount", amount(line.amount)}});
    answer.fields["expected_invoice"] = {
        {"lines", lines}, {"total", amount(bill->total)}, {"margin_price", amount(bill->margin_price)}};
    answer.lines.push_back(fmt::format("By the terms: all-in {}, purchase price for the margin {}.",
                                       to_display_text(bill->total), to_display_text(bill->margin_price)));
}

Answer result_answer(const usecases::RecordedResult& recorded, const std::string& result) {
    Answer answer;
    answer.fields = {{"result", result},
                     {"purchase", recorded.purchase ? json(to_text(*recorded.purchase)) : json(nullptr)},
                     {"risk", nullptr},
                     {"remarks", recorded.remarks}};
    answer.lines.push_back(fmt::format("Recorded: {}.", result));
    tell_expected(recorded.expected, answer);
    tell_post_mortem(recorded.post_mortem, answer);
    if (recorded.risk) {
        answer.fields["risk"] = {
            {"passes", recorded.risk->passes},
            {"assumed", recorded.risk->is_assumed},
            {"from", recorded.risk->from ? json(tedge::to_text(*recorded.risk->from)) : json(nullptr)}};
        answer.lines.push_back(recorded.risk->said);
    }
    answer.lines.insert(answer.lines.end(), recorded.remarks.begin(), recorded.remarks.end());
    tell_deadlines(recorded.by_terms, answer);
    return answer;
}

Expected<Answer> lot_result(Context& context, const Arguments& arguments) {
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto snapshot = acting->book.snapshot(*case_id);
    if (!snapshot) return pass_on(snapshot);
    auto currency = Expected<Currency>(usecases::currency_of_sale(acting->book, *snapshot));
    if (const auto said = arguments.option("currency")) currency = said_by("currency", Currency::parse(*said));
    if (!currency) return pass_on(currency);
    const auto wanted = said_result(arguments, *currency);
    if (!wanted) return pass_on(wanted);
    const auto recorded = usecases::record_lot_result(*acting, *case_id, *wanted);
    if (!recorded) return pass_on(recorded);
    return result_answer(*recorded, wanted->result);
}

Answer check_answer(const usecases::InvoiceCheck& check) {
    Answer answer;
    json lines = json::array();
    for (const money::InvoiceDifference& line : check.lines) {
        lines.push_back({{"name", money::charge_name(line.charge)},
                         {"due", amount(line.due)},
                         {"charged", amount(line.charged)},
                         {"difference", amount(line.difference)}});
        answer.lines.push_back(fmt::format("{:20} due {:>18}  charged {:>18}", money::charge_name(line.charge),
                                           to_display_text(line.due), to_display_text(line.charged)));
    }
    for (const auto& line : check.not_in_terms) {
        lines.push_back(
            {{"name", line.name}, {"due", 0}, {"charged", amount(line.amount)}, {"difference", amount(line.amount)}});
    }
    answer.fields = {{"agrees", check.agrees()},         {"lines", lines},
                     {"due", amount(check.due)},         {"charged", amount(check.charged)},
                     {"differences", check.differences}, {"remarks", check.remarks}};
    for (const auto* list : {&check.differences, &check.remarks})
        answer.lines.insert(answer.lines.end(), list->begin(), list->end());
    answer.lines.emplace_back(check.agrees() ? "It agrees with the recorded terms."
                                             : "Ask the saleroom about each, or put the recorded terms right.");
    if (!check.agrees()) answer.code = ExitCode::refused;
    return answer;
}

Expected<Answer> invoice_check(Context& context, const Arguments& arguments) {
    const auto text = read_file(path_from_utf8(*arguments.option("received")), largest_invoice_bytes);
    if (!text) return pass_on(text);
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    const auto hammer = usecases::hammer_paid(*snapshot);
    if (!hammer) return pass_on(hammer);
    const auto received = usecases::read_received_invoice(*text, hammer->currency);
    if (!received) return pass_on(received);
    const auto check = usecases::check_invoice(*snapshot, *received);
    if (!check) return pass_on(check);
    if (arguments.flag("keep")) {
        const auto acting = context.acting(arguments);
        if (!acting) return pass_on(acting);
        const auto kept = usecases::keep_invoice(*acting, snapshot->picture.id, *received);
        if (!kept) return pass_on(kept);
    }
    return check_answer(*check);
}

Expected<Answer> count_deadlines(Context& context, const Arguments& arguments) {
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto made = usecases::make_deadlines(*acting, *case_id);
    if (!made) return pass_on(made);
    Answer answer;
    answer.fields = {{"written", made->done.size()}, {"remarks", json::array()}};
    tell_deadlines(made->by_terms, answer);
    return answer;
}

// The case that the command names; none: all of the book.
Expected<std::optional<Uuid>> case_if_given(casebook::Casebook& book, const Arguments& arguments) {
    const auto said = arguments.position_if_given("CASE");
    if (!said) return std::optional<Uuid>();
    const auto case_id = usecases::find_case(book, *said);
    if (!case_id) return pass_on(case_id);
    return std::optional(*case_id);
}

json due_fields(const usecases::StandingDeadline& due) {
    return {{"case", to_text(due.case_id)},
            {"title", due.title},
            {"record", to_text(due.record)},
            {"what", due.what},
            {"on", tedge::to_text(due.on)},
            {"at", due.at.empty() ? json(nullptr) : json(due.at)},
            {"basis", due.basis},
            {"done_on", due.done_on ? json(tedge::to_text(*due.done_on)) : json(nullptr)},
            {"sale", due.is_sale},
            {"days_left", due.days_left},
            {"overdue", due.is_past()}};
}

Expected<Answer> list_deadlines(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto wanted = case_if_given(**book, arguments);
    if (!wanted) return pass_on(wanted);
    const std::chrono::year_month_day today(std::chrono::floor<std::chrono::days>(context.clock().now()));
    const auto all = usecases::standing_deadlines(**book, *wanted, today);
    if (!all) return pass_on(all);
    Answer answer;
    answer.fields["deadlines"] = json::array();
    for (const usecases::StandingDeadline& due : *all) {
        answer.fields["deadlines"].push_back(due_fields(due));
        const std::string standing =
            due.done_on ? "  done " + tedge::to_text(*due.done_on)
            : due.is_past()
                ? fmt::format("  overdue by {}", counted(static_cast<std::size_t>(-due.days_left), "day", "days"))
                : std::string();
        answer.lines.push_back(fmt::format("{}{}  {}, {}{}", tedge::to_text(due.on), due.at.empty() ? "" : " " + due.at,
                                           due.what, due.title, standing));
    }
    if (all->empty()) answer.lines.emplace_back("Nothing falls due, and no sale is to come.");
    return answer;
}

Expected<usecases::CalendarOptions> calendar_options(const Arguments& arguments) {
    const auto days = arguments.number("remind-days");
    if (!days) return pass_on(days);
    if (!*days) return usecases::CalendarOptions{};
    if (**days < 0 || **days > 366 || **days != static_cast<int>(**days)) {
        return fail("usage.not-days", "A reminder comes a whole number of days before, from 0 to 366.",
                    "Say for example --remind-days 2.");
    }
    return usecases::CalendarOptions{.remind_days = static_cast<int>(**days)};
}

Expected<Answer> export_calendar(Context& context, const Arguments& arguments) {
    const auto options = calendar_options(arguments);
    if (!options) return pass_on(options);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto wanted = case_if_given(**book, arguments);
    if (!wanted) return pass_on(wanted);
    const auto file = path_from_utf8(*arguments.option("out"));
    const auto written = usecases::export_deadlines(**book, *wanted, file, *options);
    if (!written) return pass_on(written);
    Answer answer;
    answer.fields = {{"file", to_utf8(file)}, {"entries", written->entries}};
    answer.lines = {fmt::format("{}, {}.", to_utf8(file), counted(written->entries, "entry", "entries"))};
    return answer;
}

}  // namespace

std::vector<Command> sale_day_commands() {
    return {
        {"lot result",
         {{"DIR", "CASE"},
          {"result", "hammer", "our-last-bid", "after-sale-offer", "on", "scheme", "invoice-number", "paid-on",
           "collected-on", "insured-by", "insured-value", "currency"},
          {"result"}},
         "What became of the lot: bought, underbid, bought-in, withdrawn, not-bid; and what follows from it.",
         lot_result},
        {"invoice check",
         {{"DIR", "CASE"}, {"received"}, {"received"}, {"keep"}},
         "Holds the saleroom's invoice against the terms, line by line; --keep stores it with the purchase.",
         invoice_check},
        {"deadlines count",
         {{"DIR", "CASE"}, {}},
         "Counts what falls due from the terms of the lot and writes it down.",
         count_deadlines},
        {"deadlines list",
         {{"DIR"}, {}, {}, {}, {}, "CASE"},
         "What falls due and which sales are to come, of one case or of all, the next first.",
         list_deadlines},
        {"deadlines export",
         {{"DIR"}, {"out", "remind-days"}, {"out"}, {}, {}, "CASE"},
         "Writes what falls due, of one case or of all, as an iCalendar file for other calendars.",
         export_calendar},
    };
}

}  // namespace tedge::cli
