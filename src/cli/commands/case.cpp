#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/length.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/records.hpp"
#include "tedge/usecases/suspicions.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json or_null(const std::string& text) {
    return text.empty() ? json(nullptr) : json(text);
}

json card_fields(const usecases::CaseCard& card) {
    json done = json::array();
    for (std::size_t i = 0; i < usecases::all_stages.size(); ++i) {
        if (card.stages.done[i]) done.push_back(to_text(usecases::all_stages[i]));
    }
    return {{"id", to_text(card.id)},
            {"title", card.title},
            {"artist", or_null(card.artist)},
            {"width_mm", card.size ? json(card.size->width_mm) : json(nullptr)},
            {"height_mm", card.size ? json(card.size->height_mm) : json(nullptr)},
            {"stage", to_text(card.stages.now)},
            {"stages_done", done},
            {"place", or_null(card.place)},
            {"holder", or_null(card.holder)},
            {"insured_by", or_null(card.insured_by)},
            {"next_deadline", or_null(card.next_deadline_on)},
            {"next_deadline_what", or_null(card.next_deadline_what)}};
}

std::string card_line(const usecases::CaseCard& card) {
    return fmt::format("{}  {}{}{}  ({})", to_text(card.id), card.title, card.artist.empty() ? "" : ", " + card.artist,
                       card.size ? ", " + format_size_height_first(card.size->height_mm, card.size->width_mm) : "",
                       to_text(card.stages.now));
}

Expected<Answer> add_case(Context& context, const Arguments& arguments) {
    const auto width_mm = arguments.number("width-mm");
    const auto height_mm = arguments.number("height-mm");
    if (!width_mm) return pass_on(width_mm);
    if (!height_mm) return pass_on(height_mm);
    if (width_mm->has_value() != height_mm->has_value()) {
        return fail("usage.half-a-size", "A size needs both --width-mm and --height-mm.", "Give both, or neither.");
    }
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    usecases::NewCase wanted{*arguments.option("title"), arguments.option_or("artist", ""), std::nullopt};
    if (*width_mm) wanted.size = SizeMm{**width_mm, **height_mm};
    const auto id = usecases::open_case(*acting, wanted);
    if (!id) return pass_on(id);
    const auto snapshot = acting->book.snapshot(*id);
    if (!snapshot) return pass_on(snapshot);
    const usecases::CaseCard card = usecases::card_of(*snapshot);
    return Answer{card_fields(card), {card_line(card)}};
}

Expected<Answer> list_cases(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto cards = usecases::cards(**book);
    if (!cards) return pass_on(cards);
    Answer answer;
    answer.fields["cases"] = json::array();
    for (const usecases::CaseCard& card : *cards) {
        answer.fields["cases"].push_back(card_fields(card));
        answer.lines.push_back(card_line(card));
    }
    return answer;
}

Expected<Answer> show(Context& context, const Arguments& arguments) {
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    const usecases::CaseCard card = usecases::card_of(*snapshot);
    Answer answer{card_fields(card), {card_line(card)}};
    answer.fields["records"] = json::array();
    for (const casebook::Record& record : snapshot->records) {
        if (usecases::is_kept_back(record.kind)) continue;
        answer.fields["records"].push_back(
            {{"id", to_text(record.id)}, {"kind", record.kind}, {"fields", record.body.as_json()}});
        answer.lines.push_back(
            fmt::format("  {}  {}  {}", to_text(record.id), record.kind, record.body.canonical_json()));
    }
    return answer;
}

Expected<Answer> search(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto hits = (*book)->search(arguments.position("WORDS"));
    if (!hits) return pass_on(hits);
    Answer answer;
    answer.fields["hits"] = json::array();
    for (const casebook::SearchHit& hit : *hits) {
        answer.fields["hits"].push_back({{"case", hit.case_id.is_nil() ? json(nullptr) : json(to_text(hit.case_id))},
                                         {"record", to_text(hit.record)},
                                         {"kind", hit.kind},
                                         {"excerpt", hit.excerpt}});
        answer.lines.push_back(fmt::format("{}  {}  {}", to_text(hit.record), hit.kind, hit.excerpt));
    }
    return answer;
}

Expected<Answer> add_person(Context& context, const Arguments& arguments) {
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto id = acting->book.person_named(*arguments.option("name"));
    if (!id) return pass_on(id);
    if (const auto role = arguments.option("role")) {
        const auto done = usecases::change_record(*acting, *id, casebook::FieldValues().text("role", *role));
        if (!done) return pass_on(done);
    }
    return Answer{{{"id", to_text(*id)}}, {fmt::format("{}  {}", to_text(*id), *arguments.option("name"))}};
}

}  // namespace

std::vector<Command> case_commands() {
    return {
        {"case add",
         {{"DIR"}, {"title", "artist", "width-mm", "height-mm"}, {"title"}},
         "Opens a case for a picture.",
         add_case},
        {"case list", {{"DIR"}, {}}, "Lists the pictures and how far each has come.", list_cases},
        {"case show", {{"DIR", "CASE"}, {}}, "Shows a case with all its records.", show},
        {"person add",
         {{"DIR"}, {"name", "role"}, {"name"}},
         "Adds a person to the casebook, or finds one.",
         add_person},
        {"search", {{"DIR", "WORDS"}, {}}, "Finds records by their words.", search},
    };
}

}  // namespace tedge::cli
