// The sections of a dossier. Each adds its blocks when the extract holds something for it, and nothing otherwise.
#pragma once

#include "field_text.hpp"
#include "tedge/dossier/document.hpp"
#include "tedge/dossier/picture_source.hpp"

namespace tedge::dossier {

struct Sections {
    const Extract& extract;
    PictureSource& pictures;
    std::vector<Block>& blocks;

    void add(Block block) const { blocks.push_back(std::move(block)); }
    void heading(int level, std::string text) const { add(Heading{level, std::move(text)}); }
};

void add_identification(const Sections& sections);
void add_journey(const Sections& sections);  // for a carrier: size, weight, what is fragile, how it was packed
void add_photographs(const Sections& sections);
void add_condition(const Sections& sections);         // surveys, findings on maps before and after
void add_registered_pairs(const Sections& sections);  // states over one reference, details of findings
void add_made_pictures(const Sections& sections);     // computed from photographs; forecasts apart
void add_measurements(const Sections& sections);
void add_trials(const Sections& sections);
void add_treatment(const Sections& sections);  // treatment and structure
void add_frame(const Sections& sections);
void add_whereabouts(const Sections& sections);  // custody
void add_provenance(const Sections& sections);
void add_attribution(const Sections& sections);
void add_inscriptions(const Sections& sections);
void add_care(const Sections& sections);
void add_unfinished(const Sections& sections);
void add_sources(const Sections& sections);
void add_handing_over(const Sections& sections);     // for a carrier: lines to sign at the door
void add_further_records(const Sections& sections);  // whatever the reader may have that no section tells

// The picture of a photograph record, without caption or marks; nothing when its size is not known.
[[nodiscard]] std::optional<Picture> picture_of(const Sections& sections, const casebook::Record& photograph);
// "Recto, raking light, as received. 20 March 2025."; the day where the reader may have it.
[[nodiscard]] std::string photograph_caption(const Extract& extract, const casebook::Record& photograph);
// For the title page: recto in normal light, the latest.
[[nodiscard]] const casebook::Record* best_photograph(const Extract& extract);

}  // namespace tedge::dossier
