// The owners of a picture as its case records them: the chain, its statement, and what does not hold together in it.
#pragma once

#include "tedge/casebook/snapshot.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::usecases {

struct RecordedProvenance {
    provenance::OwnershipChain chain;                // earliest first, as recorded_chain.hpp of the dossier makes it
    std::vector<provenance::ChainFinding> findings;  // questions to look into, never a verdict on title
};
// Everything the house knows; what a reader outside may know of it, the dossier decides by its extract.
[[nodiscard]] RecordedProvenance recorded_provenance(const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::usecases
