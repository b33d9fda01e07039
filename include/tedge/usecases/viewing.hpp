// Somebody else's eyes: the questions on one page for a viewer who has only a telephone, his answers taken in, and what
// nobody has seen made visible in the plan.
//
// The questions are those of the field table (parts_asked of a viewing note), numbered as they stand there. The brief
// says what the catalogue says and nothing of ours: no estimate of our own, no limit, no note.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct BriefQuestion {
    int number = 0;    // from 1; stays with its question
    std::string path;  // "answers/lined"
    std::string text;  // "Lined before"
};

struct ViewingBrief {
    std::string title;                 // of the picture
    std::vector<std::string> facts{};  // lot, sale, when, size as catalogued; a line each
    std::vector<BriefQuestion> questions{};
};

[[nodiscard]] ViewingBrief viewing_brief(const casebook::CaseSnapshot& snapshot);

// For a telephone: a question a line, and how to answer by number. No line needs more than plain letters.
[[nodiscard]] std::string brief_text(const ViewingBrief& brief);

struct BriefFiles {
    std::filesystem::path pdf;   // out/viewing-brief.pdf
    std::filesystem::path text;  // out/viewing-brief.txt
    int pages = 0;
};

// Both into the folder `out`, made where it is missing. Errors: viewing.exists (a file of that name is there), those of
// the PDF and of files, cancelled.
[[nodiscard]] Expected<BriefFiles> write_brief(casebook::Casebook& book, const Uuid& case_id,
                                               const std::filesystem::path& out, Instant now,
                                               const Progress& progress = {});

// A question answered: yes, no, not-seen; why it was not seen (framed, sealed, refused, not-asked) and a remark where
// there is one.
struct ViewingAnswer {
    std::string path;
    std::string answer;
    std::string why{};
    std::string note{};
};

struct ReadAnswers {
    std::vector<ViewingAnswer> answers{};
    std::vector<std::string> not_understood{};  // lines as they came
};

// A message as people write it: "1 yes", "2. no", "3 not seen, framed: it hangs high", "4: y", lines or semicolons
// between them. The last answer to a question counts. What is not understood is handed back, never guessed.
[[nodiscard]] ReadAnswers read_answers(std::string_view message);

struct TakenAnswers {
    Done done;
    ReadAnswers read;
};

// A viewing note with the answers of a message, and the message itself as what was seen. Errors: viewing.no-answers
// (nothing in it is an answer), those of add_record.
[[nodiscard]] Expected<TakenAnswers> take_in_answers(const Acting& acting, const Uuid& case_id,
                                                     std::string_view message,
                                                     const std::optional<Uuid>& viewer = std::nullopt,
                                                     std::string_view viewed_on = {});

// What is known of a question from all viewing notes: the newest that answers it yes or no, else why it was not seen.
struct Known {
    BriefQuestion question;
    std::string answer{};  // yes, no, not-seen; empty where nobody was asked
    std::string why{};
};
[[nodiscard]] std::vector<Known> what_was_seen(const casebook::CaseSnapshot& snapshot);

// One estimate or chance moved because something was not seen.
struct Widening {
    std::string field;   // "costs[1].amount", "outcomes[0].probability"
    std::string name;    // of the cost, outcome or condition
    std::string before;  // decimal text: the high value, or the chance
    std::string after;
    std::string because;  // a sentence
};

struct WidenedPlan {
    std::string plan;  // JSON; `plan` itself where nothing was unseen
    std::vector<Widening> widened{};
    std::vector<std::string> not_in_plan{};  // what was not seen and has no cost in the plan; a sentence each
};

// Each question that was not seen, or not asked, raises the high value of the costs it bears upon and moves chance from
// the better outcomes to the cheapest, or from the best condition to the worst, by the rows of
// resources/reference/not_seen.csv: own judgement, not published anywhere; they say so. A cost belongs to a treatment
// by its `treatment` or by its name. Several questions upon one cost: the largest factor counts; upon the chances:
// shares are taken one after another. The order low, likely, high and the sum of the chances are kept. Errors: those of
// parse_ceiling_plan.
[[nodiscard]] Expected<WidenedPlan> widened_plan(std::string_view plan, const std::vector<Known>& known);

}  // namespace tedge::usecases
