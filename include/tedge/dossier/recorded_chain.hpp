// The owners of the records as a chain that can be examined and printed. The one place where records become links.
#pragma once

#include <vector>

#include "tedge/dossier/extract.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::dossier {

// Records of kind provenance_link, in the order of their field "order"; those without an owner are left out. Dates that
// are no EDTF count as not known and stand in the link's details instead; life dates are "born/died".
[[nodiscard]] provenance::OwnershipChain recorded_chain(std::vector<const casebook::Record*> links);
// What this reader may know of it.
[[nodiscard]] provenance::OwnershipChain recorded_chain(const Extract& extract);

}  // namespace tedge::dossier
