// What the PDF painter leaves open: bookmarks, metadata that say no more than they should, and an identity that does
// not change from run to run. By libqpdf.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"

namespace tedge::dossier {

struct Bookmark {
    int level = 1;  // 1 to 3
    std::string text;
    int page = 0;                   // from 0
    double top_from_foot_pt = 0.0;  // where the view begins, in points from the foot of the page
};

// Errors: pdf.unwritable.
[[nodiscard]] Expected<std::string> finish_pdf(const std::string& painted, const std::string& title,
                                               const std::string& language, const std::vector<Bookmark>& bookmarks,
                                               Instant now);

}  // namespace tedge::dossier
