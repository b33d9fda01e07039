// Tables that may run over pages: the header stands again on each, and a row too tall for a page is split by lines.
#pragma once

#include "page_flow.hpp"

namespace tedge::dossier::page {

void lay_out(PageFlow& flow, const DataTable& table);
// The least room in which a table may begin: its header and a first row.
[[nodiscard]] double room_to_begin(PageFlow& flow, const DataTable& table);

}  // namespace tedge::dossier::page
