#include <algorithm>

#include "sheets/answers/answer.hpp"
#include "tedge/structure/standard_sizes.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

bool back_was_read(const casebook::CaseSnapshot& snapshot) {
    return std::ranges::any_of(snapshot.of_kind("survey"), [](const casebook::Record* survey) {
        const std::string answer = survey->body.text_or("inscriptions", "not-looked");
        return survey->body.text_or("face") == "verso" && answer != "not-looked";
    });
}

}  // namespace

AnswerLines structure_answer(const casebook::CaseSnapshot& snapshot) {
    AnswerLines lines;
    const usecases::CaseCard card = usecases::card_of(snapshot);
    if (card.size) {
        const auto near = structure::nearest_standard_sizes(card.size->width_mm, card.size->height_mm, 1);
        if (near && !near->empty()) {
            lines.push_back({QObject::tr("Nearest standard format: %1 %2")
                                 .arg(shown(near->front().size->system), shown(near->front().size->name))});
        }
    }
    const AnswerLines steps = step_lines(snapshot.of_kind("structure_step"));
    lines.insert(lines.end(), steps.begin(), steps.end());
    if (snapshot.of_kind("inscription").empty() && !back_was_read(snapshot))
        lines.push_back({QObject::tr("△ Before the back is covered: what is written on it?"), Tone::warning});
    return lines;
}

AnswerLines frame_answer(const casebook::CaseSnapshot& snapshot) {
    const auto frames = snapshot.of_kind("picture_frame");
    if (frames.empty()) return {{QObject::tr("No frame is recorded.")}};
    return {{shown(frames.back()->body.text_or("description", "A frame without description"))}};
}

}  // namespace tedge::desk
