// What the 24 patches should measure: published editions, or one's own measured chart from a CGATS text file.
//
// CIELAB relative to D50, 2° observer. Taking the wrong edition costs 0.5 to 0.9 ΔE00 on average and up to 2 on the
// white patch, about as much as a good calibration gains: the edition is part of every result.
#pragma once

#include <array>
#include <filesystem>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

enum class ChartEdition {
    maker_2005,        // the maker's figures of 2005, for charts made before November 2014: what is taken unless said
    maker_2014,        // the maker's figures for charts made from November 2014 on
    average_of_thirty  // measured: the average of thirty charts, D. Pascale
};

struct ChartReference {
    std::string id;      // "maker-2005", "maker-2014", "average-of-thirty", or "own" for a measured chart
    std::string title;   // for people
    std::string source;  // where the figures come from
    std::string status;  // how sure that is, in the words of the table; for one's own file, what it says of itself
    std::array<Lab, chart_patches> lab{};
};

// "dark skin", "white", … in the order of the patches.
[[nodiscard]] const std::array<std::string, chart_patches>& chart_patch_names();

[[nodiscard]] const ChartReference& chart_reference(ChartEdition edition);
// By its id. Errors: chart-reference.unknown.
[[nodiscard]] Expected<ChartReference> chart_reference(std::string_view id);

// A text of the CGATS.5 family (ISO 28178; the older IT8.7/2 and what measuring programs write): named columns of
// LAB_L, LAB_A, LAB_B or, where these are missing, XYZ_X, XYZ_Y, XYZ_Z with white at 100, both taken as D50, 2°.
// Patches are named A1 to D6 row by row (A01 and a1 too), or 1 to 24; without such names the order of the file counts.
// Errors: chart-reference.not-cgats, chart-reference.no-colours, chart-reference.other-light (the file names another
// illuminant or observer), chart-reference.patches (not these 24, one twice),
// chart-reference.not-a-number, chart-reference.not-this-chart (more than 20 ΔE00 on average from the published ones).
[[nodiscard]] Expected<ChartReference> chart_reference_from_cgats(std::string_view text);
// More errors: files.missing, files.unreadable.
[[nodiscard]] Expected<ChartReference> read_chart_reference(const std::filesystem::path& file);

}  // namespace tedge::imaging
