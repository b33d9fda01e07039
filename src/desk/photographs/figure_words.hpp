// What has been measured of photographs, in a practitioner's words.
#pragma once

#include <QString>
#include <QStringList>
#include <map>
#include <vector>

#include "sheets/answers/answer.hpp"
#include "tedge/usecases/photograph_figures.hpp"

namespace tedge::desk {

struct FigureWords {
    QString text;        // "✓ Light 3.1 % uneven, by the board of its session"
    QStringList beside;  // published tolerances, a line for each figure; then what the record notes
    QString sources;     // of these tolerances: what each says, by whom, and how sure that is
    Tone tone = Tone::plain;
};

struct PhotographWords {
    FigureWords colour;
    FigureWords evenness;
    FigureWords sharpness;
    FigureWords scale;
    FigureWords noise;
    std::vector<FigureWords> others;
};

// Of one photograph.
[[nodiscard]] PhotographWords words_of(const casebook::Record& photograph, const usecases::PhotographFigures& figures);

using FiguresById = std::map<Uuid, usecases::PhotographFigures>;
// Of several: how many have been measured, and from where to where the figures go.
[[nodiscard]] PhotographWords words_of(const std::vector<const casebook::Record*>& photographs,
                                       const FiguresById& figures);

}  // namespace tedge::desk
