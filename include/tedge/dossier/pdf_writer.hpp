// Lays a document out on A4 and writes it as PDF/A-1b (ISO 19005-1:2005, level B).
//
// Same document, same `now`, same fonts and libraries: same bytes. The metadata name the title, the moment and this
// program, nobody and no path.
#pragma once

#include <string>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/dossier/document.hpp"

namespace tedge::dossier {

struct PdfResult {
    std::string bytes;
    int pages = 0;
};

// Needs require_gui_application() before it; from two threads one waits for the other.
// Errors: pdf.no-font (Open Sans is not installed), pdf.bad-document (a table row of the wrong length, a picture
// without size), pdf.unwritable, those of the pictures, "cancelled".
[[nodiscard]] Expected<PdfResult> write_pdf(const Document& document, Instant now, const Progress& progress = {});

}  // namespace tedge::dossier
