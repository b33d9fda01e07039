// Which photograph shows a face at which stage, and where a place in millimetres lies in it.
#pragma once

#include "tedge/dossier/document.hpp"
#include "tedge/dossier/extract.hpp"

namespace tedge::dossier {

// Rank of a photograph's stage in the order of the work: "saleroom" 0 … "framed" 12; -1 when it has none.
[[nodiscard]] int stage_rank(const casebook::Record& photograph);

// Light in which people look at it: normal, or with the gloss taken off by polarisers.
[[nodiscard]] bool is_normal_light(const casebook::Record& photograph);

// Photographs of that face that can carry marks (size and placement known), in the order of the work.
[[nodiscard]] std::vector<const casebook::Record*> placed_photographs(const Extract& extract, std::string_view face);

// The first that shows the picture as it came (normal light before other lights), and the last in normal light that is
// later than it; nullptr where there is none.
struct BeforeAndAfter {
    const casebook::Record* before = nullptr;
    const casebook::Record* after = nullptr;
};
[[nodiscard]] BeforeAndAfter before_and_after(const std::vector<const casebook::Record*>& photographs);

// A place on its face_frame as seen in a photograph of the same face, through the epochs between the two. Nothing when
// the two are not joined.
[[nodiscard]] std::optional<Region> region_in_frame(const Extract& extract, const casebook::Record& placed,
                                                    const Uuid& face_frame);
[[nodiscard]] std::optional<PictureMark> mark_in_photograph(const Extract& extract, const casebook::Record& placed,
                                                            const casebook::Record& photograph);

// Pixels for a millimetre in the middle of the photograph, or of a picture made from photographs.
[[nodiscard]] std::optional<double> px_per_mm_of(const casebook::Record& photograph);

}  // namespace tedge::dossier
