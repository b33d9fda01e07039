// Headings, running text, lists of keys and values, notes.
#pragma once

#include "page_flow.hpp"

namespace tedge::dossier::page {

// number: of the section, 0 for none. room_below: what must still fit under the heading on its page.
void lay_out(PageFlow& flow, const Heading& heading, int number, double room_below);
void lay_out(PageFlow& flow, const Paragraph& paragraph);
void lay_out(PageFlow& flow, const KeyValues& list);
void lay_out(PageFlow& flow, const Note& note);

}  // namespace tedge::dossier::page
