#include "tedge/usecases/provenance.hpp"

#include "tedge/dossier/recorded_chain.hpp"

namespace tedge::usecases {

RecordedProvenance recorded_provenance(const casebook::CaseSnapshot& snapshot) {
    RecordedProvenance recorded{dossier::recorded_chain(snapshot.of_kind("provenance_link")), {}};
    recorded.findings = provenance::findings(recorded.chain);
    return recorded;
}

}  // namespace tedge::usecases
