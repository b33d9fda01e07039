// Which standard format of canvas or stretcher a measured picture comes near: a clue to place, date and cutting down.
#pragma once

#include <string>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::structure {

struct StandardSize {
    std::string system;  // "English", "French", "Roman"
    std::string name;    // "kit-cat", "30 figure"
    double long_mm = 0;
    double short_mm = 0;
    std::string period;
    std::string status;  // "confirmed", "recalled", "computed", …; figures of a recalled row are from memory
    std::string source;
    std::string note;

    [[nodiscard]] bool from_memory() const { return status.contains("recalled") || status.contains("memory"); }
};

// Rows with both sides known, without those the table itself marks as unfit for matching. Loom widths are not among
// them.
[[nodiscard]] const std::vector<StandardSize>& standard_sizes();

struct SizeMatch {
    const StandardSize* size = nullptr;  // into standard_sizes()
    double long_deviation_mm = 0;        // measured minus standard
    double short_deviation_mm = 0;
    double worst_deviation = 0;  // the larger of the two, relative to the standard (0.02 = 2 %)
    // One side within 2 % of the standard and the other 5 to 25 % short of it: the picture may have been cut down there
    // (our own reckoning, a question for the tacking edges and the cusping, no proof).
    bool maybe_cut_down = false;
};

// The nearest formats first, upright or lying alike, at most `count`; equal ones in the order of the table.
// Errors: size.bad-size.
[[nodiscard]] Expected<std::vector<SizeMatch>> nearest_standard_sizes(double width_mm, double height_mm,
                                                                      std::size_t count = 5);

// Formats from which the picture may have been cut down on one side, most likely first: the best agreement of the side
// that is whole. Errors: size.bad-size.
[[nodiscard]] Expected<std::vector<SizeMatch>> possible_sizes_before_cutting(double width_mm, double height_mm);

}  // namespace tedge::structure
