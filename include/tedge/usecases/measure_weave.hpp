// Counting the threads of the canvas on a photograph that is placed on a face.
#pragma once

#include <optional>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/thread_count.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/derived_pictures.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct MeasuredWeave {
    imaging::ThreadCount count;  // set a is counted across the face, set b down it
    // The two measurements, with uncertainty and place; nothing where the count is not to be trusted.
    struct Recorded {
        Done across;
        Done down;
    };
    std::optional<Recorded> recorded;
    // The maps of set a and of set b, kept with the photographs; none where the count is not to be trusted. Where the
    // case keeps both already, the counts are recorded already as well, and `recorded` is nothing.
    std::vector<KeptPicture> maps;
};

// Reads the stored original (any light, recto or verso), counts by the photograph's placement and records what is to be
// trusted, with both maps drawn and kept. The uncertainty joins that of the count and that of the scale (the
// placement's error over the part counted). Errors: photograph.not-a-photograph, casebook.deleted-record,
// photograph.not-placed, photograph.placed-anew, those of read_picture, count_threads and keep_derived_picture, and the
// casebook's.
[[nodiscard]] Expected<MeasuredWeave> measure_weave(const Acting& acting, const Uuid& photograph,
                                                    const Progress& progress = {});

}  // namespace tedge::usecases
