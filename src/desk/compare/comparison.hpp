// What somebody wants to know of a picture by comparing, and which of its photographs tell it.
#pragma once

#include <QObject>
#include <QString>
#include <vector>

#include "tedge/casebook/snapshot.hpp"
#include "tedge/geometry/face_frame.hpp"

namespace tedge::desk {

enum class Means { side_by_side, half_and_half, turn_over, fade };

struct Comparison {
    QString question;                   // "What changed last?"
    std::vector<Uuid> photographs;      // two to four, as they are to stand; empty where the question has no answer yet
    QString why_not;                    // then: what is missing, in a sentence
    Means means = Means::side_by_side;  // to begin with
    bool close = false;                 // begin at the size of the photograph's own pixels
    Face in_face = Face::recto;         // in whose millimetres they lie together
};

inline constexpr std::size_t most_compared = 4;

// In the order in which they are offered. Only photographs that lie on the newest frame of the face count; `chosen` are
// those somebody picked, which make a question of their own. Face: recto or verso for both sides, else itself alone.
[[nodiscard]] std::vector<Comparison> comparisons(const casebook::CaseSnapshot& snapshot, Face face,
                                                  const std::vector<Uuid>& chosen);

}  // namespace tedge::desk
