// A viewer's message taken apart: a question by its number, yes, no or not seen, why, and what is said beside it.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/viewing.hpp"

namespace tedge::usecases {

using nlohmann::json;

namespace {

struct SpokenAnswer {
    std::string_view said;
    std::string_view answer;
};
// The longest first: "not seen" begins like "no".
constexpr SpokenAnswer spoken_answers[] = {{"not seen", "not-seen"},
                                           {"not-seen", "not-seen"},
                                           {"unseen", "not-seen"},
                                           {"ns", "not-seen"},
                                           {"yes", "yes"},
                                           {"no", "no"},
                                           {"y", "yes"},
                                           {"n", "no"}};
constexpr SpokenAnswer spoken_reasons[] = {{"framed", "framed"},
                                           {"sealed", "sealed"},
                                           {"refused", "refused"},
                                           {"not asked", "not-asked"},
                                           {"not-asked", "not-asked"}};

bool ends_a_word(std::string_view text, std::size_t at) {
    return at >= text.size() || std::string_view(" ,.:;-()").find(text[at]) != std::string_view::npos;
}

std::string_view without_marks(std::string_view text) {
    while (!text.empty() && std::string_view(" ,.:;-()\t").find(text.front()) != std::string_view::npos)
        text.remove_prefix(1);
    return trimmed(text);
}

// Takes the word that the text begins with, whatever its case, off it; "" where it begins with none of them.
template <std::size_t N>
std::string taken(const SpokenAnswer (&words)[N], std::string_view& text) {
    const std::string lowered = lowered_ascii(text);
    for (const SpokenAnswer& word : words) {
        if (!lowered.starts_with(word.said) || !ends_a_word(lowered, word.said.size())) continue;
        text = without_marks(text.substr(word.said.size()));
        return std::string(word.answer);
    }
    return {};
}

std::optional<ViewingAnswer> read_line(std::string_view line) {
    const auto questions = casebook::parts_asked("viewing_note", "answers");
    const std::size_t digits = std::min(line.find_first_not_of("0123456789"), line.size());
    const auto number = parse_integer(line.substr(0, digits));
    if (!number || *number < 1 || static_cast<std::size_t>(*number) > questions.size()) return std::nullopt;
    std::string_view rest = without_marks(line.substr(digits));
    ViewingAnswer answer{.path = std::string(questions[static_cast<std::size_t>(*number - 1)].name),
                         .answer = taken(spoken_answers, rest)};
    if (answer.answer.empty()) return std::nullopt;
    if (answer.answer == "not-seen") answer.why = taken(spoken_reasons, rest);
    answer.note = std::string(rest);
    return answer;
}

json as_recorded(const ViewingAnswer& answer) {
    json value = {{"answer", answer.answer}};
    if (!answer.why.empty()) value["why"] = answer.why;
    if (!answer.note.empty()) value["note"] = answer.note;
    return value;
}

}  // namespace

ReadAnswers read_answers(std::string_view message) {
    ReadAnswers read;
    for (const std::string_view line : split(message, '\n')) {
        for (const std::string_view part : split(line, ';')) {
            const std::string_view said = trimmed(part);
            if (said.empty()) continue;
            auto answer = read_line(said);
            if (!answer) {
                read.not_understood.emplace_back(said);
                continue;
            }
            std::erase_if(read.answers, [&](const ViewingAnswer& before) { return before.path == answer->path; });
            read.answers.push_back(*std::move(answer));
        }
    }
    return read;
}

Expected<TakenAnswers> take_in_answers(const Acting& acting, const Uuid& case_id, std::string_view message,
                                       const std::optional<Uuid>& viewer, std::string_view viewed_on) {
    ReadAnswers read = read_answers(message);
    if (read.answers.empty()) {
        return fail("viewing.no-answers", "Nothing in this message answers a question by its number.",
                    "Write a line for each, such as: 1 yes.");
    }
    casebook::FieldValues values;
    for (const ViewingAnswer& answer : read.answers) values.value(answer.path, as_recorded(answer));
    values.text("text", without_controls(trimmed(message), "\n\t"));
    if (viewer) values.record("viewer", *viewer);
    if (!viewed_on.empty()) values.text("viewed_on", viewed_on);
    auto done = add_record(acting, case_id, "viewing_note", values);
    if (!done) return pass_on(done);
    return TakenAnswers{*std::move(done), std::move(read)};
}

std::vector<Known> what_was_seen(const casebook::CaseSnapshot& snapshot) {
    std::vector<Known> known;
    for (BriefQuestion& question : viewing_brief(snapshot).questions) {
        Known one{.question = std::move(question)};
        for (const casebook::Record* note : snapshot.of_kind("viewing_note")) {
            const std::string answer = note->body.text_or(one.question.path + "/answer");
            // What one viewer has seen stays seen, though the next did not get to it.
            if (answer.empty() || (answer == "not-seen" && !one.answer.empty() && one.answer != "not-seen")) continue;
            one.answer = answer;
            one.why = note->body.text_or(one.question.path + "/why");
        }
        known.push_back(std::move(one));
    }
    return known;
}

}  // namespace tedge::usecases
