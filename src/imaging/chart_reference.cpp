#include "tedge/imaging/chart_reference.hpp"

#include <stdexcept>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"

namespace tedge::imaging {
namespace {

struct Edition {
    const char* id;
    const char* title;
    const char* source;
    const char* status;
    const char* suffix;  // of the table's columns
};

// In the order of ChartEdition.
constexpr std::array<Edition, 3> editions{
    Edition{"maker-2005", "the maker's figures of 2005, for charts made before November 2014",
            "the maker's published CIELAB D50, 2005", "confirmed", ""},
    Edition{"maker-2014", "the maker's figures for charts made from November 2014",
            "the maker's published CIELAB D50, from November 2014", "confirmed", "_after2014"},
    Edition{"average-of-thirty", "the average of thirty measured charts",
            "computed from xyY of D. Pascale's average of 30 charts", "computed", "_avg30"}};

const Table& table() {
    static const Table parsed = [] {
        auto read = Table::parse(embedded::chart24_lab_d50_csv);
        if (!read || read->row_count() != chart_patches) throw std::logic_error("chart24_lab_d50.csv");
        return std::move(*read);
    }();
    return parsed;
}

ChartReference edition_from_table(const Edition& edition) {
    ChartReference out{.id = edition.id, .title = edition.title, .source = edition.source, .status = edition.status};
    const std::string suffix = edition.suffix;
    const auto number = [](std::size_t row, const std::string& column) {
        return parse_number(table().cell(row, column)).value();
    };
    for (std::size_t i = 0; i < chart_patches; ++i)
        out.lab[i] = {number(i, "L" + suffix), number(i, "a" + suffix), number(i, "b" + suffix)};
    return out;
}

}  // namespace

const std::array<std::string, chart_patches>& chart_patch_names() {
    static const auto names = [] {
        std::array<std::string, chart_patches> out;
        for (std::size_t i = 0; i < chart_patches; ++i) out[i] = table().cell(i, "name");
        return out;
    }();
    return names;
}

const ChartReference& chart_reference(ChartEdition edition) {
    static const std::array<ChartReference, 3> all{edition_from_table(editions[0]), edition_from_table(editions[1]),
                                                   edition_from_table(editions[2])};
    return all[static_cast<std::size_t>(edition)];
}

Expected<ChartReference> chart_reference(std::string_view id) {
    for (std::size_t i = 0; i < editions.size(); ++i)
        if (id == editions[i].id) return chart_reference(static_cast<ChartEdition>(i));
    return fail("chart-reference.unknown", "There is no edition of the chart called “" + std::string(id) + "”.",
                "Choose maker-2005, maker-2014 or average-of-thirty, or give a CGATS file of your own chart.",
                {{"edition", std::string(id)}});
}

}  // namespace tedge::imaging
