#include <fmt/format.h>

#include "command.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/duties.hpp"
#include "tedge/usecases/suspicions.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;
using usecases::Duty;

json said_or_null(const std::string& text) {
    return text.empty() ? json(nullptr) : json(text);
}

Expected<std::chrono::year_month_day> day_at(const Arguments& arguments, Context& context) {
    const std::string today = to_text(context.clock().now()).substr(0, 10);
    return said_by("on", parse_date(arguments.option_or("on", today)));
}

json duty_fields(const Duty& duty) {
    json sources = json::array();
    for (const money::LegalSource& source : duty.sources)
        sources.push_back(
            {{"source", source.source}, {"status", source.status}, {"from_memory", source.from_memory()}});
    return {{"duty", duty.name},
            {"question", duty.question},
            {"called_for", usecases::to_text(duty.called)},
            {"why", duty.why},
            {"state", duty.state},
            {"answer", duty.answer ? json(to_text(*duty.answer)) : json(nullptr)},
            {"found", said_or_null(duty.found)},
            {"answered_on", said_or_null(duty.answered_on)},
            {"document", duty.document ? json(to_text(*duty.document)) : json(nullptr)},
            {"sources", sources},
            {"remarks", duty.remarks}};
}

void tell_duty(const Duty& duty, Answer& answer) {
    answer.fields["duties"].push_back(duty_fields(duty));
    answer.lines.push_back(fmt::format("{:18} {:14} {}", duty.name, duty.state, duty.question));
    answer.lines.push_back(
        fmt::format("{:33} {}{}", "",
                    duty.called == usecases::CalledFor::unknown ? "Not known whether it is asked: " : "", duty.why));
    if (!duty.found.empty()) answer.lines.push_back(fmt::format("{:33} Found: {}", "", duty.found));
    for (const std::string& remark : duty.remarks) answer.lines.push_back(fmt::format("{:33} {}", "", remark));
    for (const money::LegalSource& source : duty.sources)
        answer.lines.push_back(fmt::format("{:33} [{}; {}]", "", source.source, source.status));
}

Expected<Answer> list_duties(Context& context, const Arguments& arguments) {
    const auto today = day_at(arguments, context);
    if (!today) return pass_on(today);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto id = usecases::find_case(**book, arguments.position("CASE"));
    if (!id) return pass_on(id);
    const auto made = usecases::duties_of_case(**book, *id, *today);
    if (!made) return pass_on(made);
    Answer answer;
    answer.fields = {{"duties", json::array()},
                     {"identity_papers", json::array()},
                     {"identity_papers_until", said_or_null(made->papers_until)}};
    for (const Duty& duty : made->duties) tell_duty(duty, answer);
    for (const usecases::IdentityPaper& paper : made->papers) {
        answer.fields["identity_papers"].push_back({{"document", to_text(paper.document)},
                                                    {"title", paper.title},
                                                    {"destroy_after", said_or_null(paper.destroy_after)},
                                                    {"due", paper.due}});
        answer.lines.push_back(fmt::format("{}  {}: {}", to_text(paper.document), paper.title,
                                           paper.destroy_after.empty() ? "no day is said on which it is destroyed"
                                           : paper.due
                                               ? "was to be destroyed after " + paper.destroy_after + ": `record erase`"
                                               : "to be destroyed after " + paper.destroy_after));
    }
    answer.lines.emplace_back("Nothing here says that something is lawful: ask licensed advice.");
    return answer;
}

Expected<Answer> answer_one(Context& context, const Arguments& arguments) {
    const auto on = day_at(arguments, context);
    if (!on) return pass_on(on);
    usecases::DutyAnswer said{.duty = arguments.position("DUTY"),
                              .answer = arguments.position("ANSWER"),
                              .text = arguments.option_or("text", ""),
                              .on = to_text(*on)};
    if (arguments.option("document")) {
        const auto document = id_at(arguments, "document");
        if (!document) return pass_on(document);
        said.document = *document;
    }
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!id) return pass_on(id);
    const auto done = usecases::answer_duty(*acting, *id, said);
    if (!done) return pass_on(done);
    return done_answer(*done, said.answer);
}

Expected<Answer> add_suspicion(Context& context, const Arguments& arguments) {
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!id) return pass_on(id);
    const auto done = usecases::note_suspicion(*acting, *id, *arguments.option("text"));
    if (!done) return pass_on(done);
    return done_answer(*done, "noted; no dossier, bag or table holds it. A copy of the casebook does: give none away");
}

Expected<Answer> list_suspicions(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto id = usecases::find_case(**book, arguments.position("CASE"));
    if (!id) return pass_on(id);
    const auto notes = usecases::suspicions_of(**book, *id);
    if (!notes) return pass_on(notes);
    Answer answer;
    answer.fields["suspicions"] = json::array();
    for (const usecases::Suspicion& note : *notes) {
        answer.fields["suspicions"].push_back({{"id", to_text(note.record)},
                                               {"text", note.text},
                                               {"noted_on", said_or_null(note.noted_on)},
                                               {"reported_on", said_or_null(note.reported_on)},
                                               {"reference", said_or_null(note.reference)}});
        answer.lines.push_back(fmt::format("{}  {}  {}", to_text(note.record), note.noted_on, note.text));
    }
    return answer;
}

}  // namespace

std::vector<Command> duty_commands() {
    return {
        {"duties",
         {{"DIR", "CASE"}, {"on"}},
         "What law and good practice ask of this deal: answered, open or not applicable, with sources.",
         list_duties},
        {"duties answer",
         {{"DIR", "CASE", "DUTY", "ANSWER"}, {"text", "document", "on"}},
         "Answers one: answered, open or not-applicable, with --text and --document ID.",
         answer_one},
        {"suspicion add",
         {{"DIR", "CASE"}, {"text"}, {"text"}},
         "Notes a suspicion: for no dossier, bag or table. Whoever has a copy of the casebook has it.",
         add_suspicion},
        {"suspicion list", {{"DIR", "CASE"}, {}}, "Lists the notes of suspicion of a case.", list_suspicions},
    };
}

}  // namespace tedge::cli
