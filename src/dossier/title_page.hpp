// The first page, the contents, and what stands at the head and foot of every page.
#pragma once

#include <memory>

#include "page_flow.hpp"

namespace tedge::dossier::page {

// A row of tacks on a line: the tacking edge, our mark.
void draw_tacks(QPainter& painter, double y, const QColor& colour);

void lay_out(PageFlow& flow, const TitlePage& title_page);
// The same words small above the first block, without picture and imprint.
void lay_out_short(PageFlow& flow, const TitlePage& title_page);

// Sections with their pages; the pages are looked up when it is painted. Starts a page of its own.
using SectionPages = std::vector<int>;
void lay_out_contents(PageFlow& flow, const std::vector<std::string>& sections,
                      const std::shared_ptr<const SectionPages>& pages);

void draw_head_and_foot(QPainter& painter, const Document& document, const Types& types, int page, int page_count);

}  // namespace tedge::dossier::page
