// Any bytes at all as each kind of text that comes from outside: a measured chart, a chain of owners, a plan of money,
// terms of a sale, a date of provenance, a table, a region.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "tedge/base/table.hpp"
#include "tedge/geometry/region.hpp"
#include "tedge/imaging/chart_reference.hpp"
#include "tedge/money/ceiling_plan.hpp"
#include "tedge/provenance/edtf.hpp"
#include "tedge/provenance/ownership_chain.hpp"

using namespace tedge;

namespace {

// What was refused, was refused in a sentence.
template <class T>
const Expected<T>& told(const Expected<T>& answer) {
    if (answer ||
        (!answer.error().code.empty() && answer.error().message.ends_with('.') && !answer.error().next.empty()))
        return answer;
    std::fprintf(stderr, "No sentence: %s %s\n", answer.error().code.c_str(), answer.error().message.c_str());
    std::abort();
}

void write_provenance(std::string_view text) {
    const auto chain = provenance::read_chain(text);
    if (!told(chain)) return;
    static_cast<void>(provenance::statement(*chain).text());
    static_cast<void>(provenance::findings(*chain));
}

void walk_region(std::string_view text) {
    const auto region = Region::from_geojson(text);
    if (!told(region)) return;
    static_cast<void>(region->area_mm2());
    static_cast<void>(region->label_point());
    const auto again = Region::from_geojson(region->to_geojson());
    if (region->empty() || told(again)) return;
    std::fprintf(stderr, "A region that is not read again: %s\n", region->to_geojson().c_str());
    std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(bytes), size);
    told(imaging::chart_reference_from_cgats(text));
    told(money::parse_ceiling_plan(text));
    told(money::parse_sale_terms(text));
    told(provenance::parse_edtf(text));
    told(Table::parse(text));
    write_provenance(text);
    walk_region(text);
    return 0;
}
