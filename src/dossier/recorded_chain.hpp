// The owners of the records as a chain that can be examined and printed.
#pragma once

#include "tedge/dossier/extract.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::dossier {

// In their order; dates that are no EDTF count as not known and stand in the link's details instead.
[[nodiscard]] provenance::OwnershipChain recorded_chain(const Extract& extract);

}  // namespace tedge::dossier
