// What a sheet opens on: its answer, in a few lines, from what is recorded.
#pragma once

#include <QString>
#include <vector>

#include "book_session.hpp"
#include "tedge/usecases/cases.hpp"

namespace tedge::desk {

enum class Tone { plain, done, warning, closed };

struct AnswerLine {
    QString text;
    Tone tone = Tone::plain;
};

// Money, names and notes are left out while a client looks.
[[nodiscard]] std::vector<AnswerLine> answer_of(usecases::Stage stage, const casebook::CaseSnapshot& snapshot,
                                                bool client_looks);

// The kinds of record that a sheet holds, in the order of the work.
[[nodiscard]] std::vector<std::string_view> kinds_of(usecases::Stage stage);

}  // namespace tedge::desk
