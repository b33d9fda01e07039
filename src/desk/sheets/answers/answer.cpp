#include "sheets/answers/answer.hpp"

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

using usecases::Stage;

const char* role_of(Tone tone) {
    switch (tone) {
        case Tone::done:
            return "done";
        case Tone::warning:
            return "warning";
        case Tone::closed:
            return "closed";
        case Tone::plain:
            break;
    }
    return "plain";
}

QColor ink_of(Tone tone) {
    switch (tone) {
        case Tone::warning:
            return theme().warning;
        case Tone::closed:
            return theme().closed;
        case Tone::plain:
        case Tone::done:
            break;
    }
    return theme().ink;
}

AnswerLines answer_of(Stage stage, const casebook::CaseSnapshot& snapshot, bool client_looks) {
    switch (stage) {
        case Stage::lot:
            return lot_answer(snapshot, client_looks);
        case Stage::ceiling:
            return ceiling_answer(snapshot, client_looks);
        case Stage::transit:
            return transit_answer(snapshot, client_looks);
        case Stage::survey:
            return survey_answer(snapshot);
        case Stage::photographs:
            return photograph_answer(snapshot);
        case Stage::trials:
            return trial_answer(snapshot);
        case Stage::treatment:
            return treatment_answer(snapshot);
        case Stage::structure:
            return structure_answer(snapshot);
        case Stage::frame:
            return frame_answer(snapshot);
        case Stage::research:
            return research_answer(snapshot);
        case Stage::dossier:
            return {{QObject::tr("What leaves is decided by the reader: what is not named for him does not leave.")}};
        case Stage::account:
            return account_answer(snapshot, client_looks);
    }
    return {};
}

AnswerLines step_lines(const std::vector<const casebook::Record*>& steps) {
    AnswerLines lines;
    for (const casebook::Record* step : steps) {
        const bool planned = step->body.flag("planned");
        QString text = capital(spoken(step->body.text_or("act")));
        if (planned) text += QObject::tr(", planned");
        if (step->body.has("done_on")) text += QStringLiteral(", ") + day_text(step->body.text_or("done_on"));
        lines.push_back({text, planned ? Tone::plain : Tone::done});
    }
    return lines;
}

}  // namespace tedge::desk
