// What a sheet opens on: its answer, in a few lines, from what is recorded. One file per sheet beside this one.
#pragma once

#include <QColor>
#include <QObject>
#include <QString>
#include <vector>

#include "tedge/usecases/cases.hpp"

namespace tedge::desk {

enum class Tone { plain, done, warning, closed };
// The style sheet's name for it.
[[nodiscard]] const char* role_of(Tone tone);
// In lists: what is done stands in plain ink.
[[nodiscard]] QColor ink_of(Tone tone);

struct AnswerLine {
    QString text;
    Tone tone = Tone::plain;
};
using AnswerLines = std::vector<AnswerLine>;

// Money, names and notes are left out while a client looks.
[[nodiscard]] AnswerLines answer_of(usecases::Stage stage, const casebook::CaseSnapshot& snapshot, bool client_looks);

[[nodiscard]] AnswerLines lot_answer(const casebook::CaseSnapshot& snapshot, bool client_looks);
[[nodiscard]] AnswerLines ceiling_answer(const casebook::CaseSnapshot& snapshot, bool client_looks);
[[nodiscard]] AnswerLines transit_answer(const casebook::CaseSnapshot& snapshot, bool client_looks);
[[nodiscard]] AnswerLines survey_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines photograph_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines trial_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines treatment_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines structure_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines frame_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines research_answer(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] AnswerLines account_answer(const casebook::CaseSnapshot& snapshot, bool client_looks);

// "varnish removal, planned" or "varnish removal, 21 April 2026": a step of the work, done or meant.
[[nodiscard]] AnswerLines step_lines(const std::vector<const casebook::Record*>& steps);

}  // namespace tedge::desk
