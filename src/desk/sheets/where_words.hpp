// A place in words: which ninth of the face it lies in.
#pragma once

#include <QString>

#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

// "upper left", "middle right", "centre": three rows and three columns of the face as one looks at it.
[[nodiscard]] QString ninth_of(PointMm point, SizeMm face);
// "upper left", or "verso, upper left" for a face other than the recto; "" for a record without a place.
[[nodiscard]] QString where_words(const casebook::Record& record, const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
