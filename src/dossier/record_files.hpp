// The records a reader may have, for machines: one JSON and one CSV file a kind.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tedge/casebook/casebook.hpp"
#include "tedge/dossier/extract.hpp"

namespace tedge::dossier {

using NamedFile = std::pair<std::string, std::string>;  // path in the bag, bytes

// "records/finding.json": {"kind": "finding", "label": "finding", "reader": "buyer", "fields": [{"name", "label",
// "unit"}], "records": [{"id", "body"}]}, keys sorted. "records/finding.csv" (RFC 4180): id, then a column for each
// field the reader may have; amounts as decimals with their currency ("1200.00 GBP"), places as GeoJSON.
[[nodiscard]] std::vector<NamedFile> record_files(const Extract& extract);

// {"heads": [{"replica", "number", "hash"}]} of one case.
[[nodiscard]] std::string heads_file(const std::vector<casebook::ChainHead>& heads, const Uuid& case_id);

}  // namespace tedge::dossier
