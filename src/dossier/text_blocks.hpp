// Headings, running text, lists of keys and values, notes.
#pragma once

#include "page_flow.hpp"

namespace tedge::dossier::page {

// number: of the section, 0 for none. room_below: what must still fit under the heading on its page.
void lay_out(PageFlow& flow, const Heading& heading, int number, double room_below);
void lay_out(PageFlow& flow, const Paragraph& paragraph);
void lay_out(PageFlow& flow, const KeyValues& list);
void lay_out(PageFlow& flow, const Note& note);

// Its first lines, and the white below them.
[[nodiscard]] double room_to_begin(const PageFlow& flow, const Paragraph& paragraph);

// Of the list as much as stands together: all of a short one, the first rows of a long one.
[[nodiscard]] double room_to_begin(const PageFlow& flow, const KeyValues& list);

}  // namespace tedge::dossier::page
