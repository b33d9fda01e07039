// The words of a finished PDF, as a reader's search would find them: pages by the character maps of their fonts,
// bookmarks and metadata. By libqpdf.
#pragma once

#include <string>

#include "tedge/base/error.hpp"

namespace tedge::dossier {

// UTF-8; pieces of text in the order of painting. Errors: pdf.unreadable.
[[nodiscard]] Expected<std::string> text_in_pdf(const std::string& pdf);

}  // namespace tedge::dossier
