#include "sheets/answers/answer.hpp"

namespace tedge::desk {

AnswerLines treatment_answer(const casebook::CaseSnapshot& snapshot) {
    const auto steps = snapshot.of_kind("treatment_step");
    if (steps.empty()) return {{QObject::tr("Nothing was done to the paint yet.")}};
    return step_lines(steps);
}

}  // namespace tedge::desk
