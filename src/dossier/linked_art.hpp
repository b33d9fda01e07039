// The picture and its provenance as Linked Art 1.0 (https://linked.art/api/1.0/), JSON-LD.
//
// Terms are those of the Art & Architecture Thesaurus whose numbers resources/reference/aat_terms.csv confirms; what
// has no confirmed number (craquelure, lining, varnish …) is told in statements.
#pragma once

#include "record_files.hpp"

namespace tedge::dossier {

// "linked-art/object.json" (HumanMadeObject) and "linked-art/provenance-01.json" … (Activity with an Acquisition, or a
// TransferOfCustody for dealers, agents and salerooms). Names are urn:uuid; people of the provenance get one made from
// the name as printed, so that one owner has one name in all files of the bag.
[[nodiscard]] std::vector<NamedFile> linked_art_files(const Extract& extract);

}  // namespace tedge::dossier
