// A viewing by somebody else: the questions, his answers, what nobody has seen, and a look through the dirt.
#include <fmt/format.h>

#include "command.hpp"
#include "picture_files.hpp"
#include "plan_file.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/viewing_aid.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/viewing.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

Expected<Answer> brief(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto case_id = usecases::find_case(**book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto files = usecases::write_brief(**book, *case_id, path_from_utf8(*arguments.option("out")),
                                             context.clock().now(), context.progress());
    if (!files) return pass_on(files);
    return Answer{{{"pdf", to_utf8(files->pdf)}, {"text", to_utf8(files->text)}, {"pages", files->pages}},
                  {to_utf8(files->pdf), to_utf8(files->text)}};
}

Expected<Answer> answers(Context& context, const Arguments& arguments) {
    const auto message = plan_text(arguments, "message");
    if (!message) return pass_on(message);
    std::optional<Uuid> viewer;
    if (arguments.option("viewer")) {
        const auto id = id_at(arguments, "viewer");
        if (!id) return pass_on(id);
        viewer = *id;
    }
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto taken = usecases::take_in_answers(*acting, *case_id, *message, viewer, arguments.option_or("on", ""));
    if (!taken) return pass_on(taken);
    Answer answer;
    answer.fields = {{"id", to_text(taken->done.record)},
                     {"answers", json::object()},
                     {"not_understood", taken->read.not_understood}};
    for (const usecases::ViewingAnswer& one : taken->read.answers) answer.fields["answers"][one.path] = one.answer;
    answer.lines.push_back(fmt::format("{} taken in.", counted(taken->read.answers.size(), "answer", "answers")));
    for (const std::string& line : taken->read.not_understood) {
        answer.lines.push_back(fmt::format("Not understood, kept as it came: {}", line));
    }
    return answer;
}

Expected<std::vector<usecases::Known>> known_of_case(Context& context, const Arguments& arguments) {
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    return usecases::what_was_seen(*snapshot);
}

Expected<Answer> seen(Context& context, const Arguments& arguments) {
    const auto known = known_of_case(context, arguments);
    if (!known) return pass_on(known);
    Answer answer;
    answer.fields["questions"] = json::array();
    for (const usecases::Known& one : *known) {
        answer.fields["questions"].push_back({{"number", one.question.number},
                                              {"question", one.question.text},
                                              {"answer", one.answer.empty() ? json(nullptr) : json(one.answer)},
                                              {"why", one.why.empty() ? json(nullptr) : json(one.why)}});
        answer.lines.push_back(fmt::format("{:2} {}: {}{}", one.question.number, one.question.text,
                                           one.answer.empty() ? "nobody was asked" : one.answer,
                                           one.why.empty() ? "" : " (" + one.why + ")"));
    }
    return answer;
}

Expected<Answer> widen(Context& context, const Arguments& arguments) {
    const auto text = plan_text(arguments, "plan");
    if (!text) return pass_on(text);
    const auto known = known_of_case(context, arguments);
    if (!known) return pass_on(known);
    const auto widened = usecases::widened_plan(*text, *known);
    if (!widened) return pass_on(widened);
    Answer answer;
    answer.fields = {
        {"plan", json::parse(widened->plan)}, {"widened", json::array()}, {"not_in_plan", widened->not_in_plan}};
    for (const usecases::Widening& one : widened->widened) {
        answer.fields["widened"].push_back({{"field", one.field},
                                            {"name", one.name},
                                            {"before", one.before},
                                            {"after", one.after},
                                            {"because", one.because}});
        answer.lines.push_back(fmt::format("{}{}: {} becomes {}. {}", one.field,
                                           one.name.empty() ? "" : " (" + one.name + ")", one.before, one.after,
                                           one.because));
    }
    for (const std::string& line : widened->not_in_plan) answer.lines.push_back(line);
    answer.lines.emplace_back(widened->widened.empty()
                                  ? "Nothing in the plan was widened."
                                  : "By how much is our own judgement, from memory, and published nowhere.");
    return answer;
}

Expected<Answer> aid(Context& context, const Arguments& arguments) {
    imaging::ViewingAid wanted;
    for (auto [name, slider] : {std::pair{"contrast", &wanted.contrast}, std::pair{"tone", &wanted.tone}}) {
        const auto value = arguments.number(name);
        if (!value) return pass_on(value);
        if (*value) *slider = **value;
    }
    const auto picture = read_srgb(arguments.position("PHOTO"), context.progress());
    if (!picture) return pass_on(picture);
    const auto shown = imaging::viewing_aid(*picture, wanted);
    if (!shown) return pass_on(shown);
    const std::string out = *arguments.option("out");
    if (auto written = write_picture_file(out, *shown); !written) return pass_on(written);
    return Answer{{{"out", out}, {"evidence", false}, {"contrast", wanted.contrast}, {"tone", wanted.tone}},
                  {out, "A look through the dirt, not evidence: so it stands in the picture."}};
}

}  // namespace

std::vector<Command> viewing_commands() {
    return {
        {"viewing brief",
         {{"DIR", "CASE"}, {"out"}, {"out"}},
         "The questions for a viewer, on one page (PDF) and as plain text for a telephone.",
         brief},
        {"viewing answers",
         {{"DIR", "CASE"}, {"message", "viewer", "on"}, {"message"}},
         "Takes a viewer's answers in, from a file with his message (1 yes, 2 not seen framed, …).",
         answers},
        {"viewing seen", {{"DIR", "CASE"}, {}}, "What was seen, what not and why, question by question.", seen},
        {"viewing widen",
         {{"DIR", "CASE"}, {"plan"}, {"plan"}},
         "The plan with costs and chances widened by what nobody has seen, each with its reason.",
         widen},
        {"viewing aid",
         {{"PHOTO"}, {"out", "contrast", "tone"}, {"out"}, {}, {"out"}},
         "Lifts contrast (0 to 1) and takes an even tone of dirt and varnish off (0 to 1): a look, not evidence.",
         aid},
    };
}

}  // namespace tedge::cli
