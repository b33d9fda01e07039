#include "tedge/cleaning/hansen_sphere.hpp"

#include <algorithm>
#include <cmath>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"

namespace tedge::cleaning {

namespace {

std::vector<HansenSphere> read_spheres() {
    const Table table = Table::parse(embedded::spheres_csv).value();
    const auto figure = [&](std::size_t row, const char* column) {
        return parse_number(table.cell(row, column)).value();
    };
    std::vector<HansenSphere> list;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        HansenSphere sphere;
        sphere.material = table.cell(row, "material");
        if (!table.cell(row, "R0").empty()) {
            sphere.centre = {figure(row, "dD"), figure(row, "dP"), figure(row, "dH")};
            sphere.radius = figure(row, "R0");
        }
        sphere.source = table.cell(row, "source");
        sphere.status = table.cell(row, "status");
        list.push_back(std::move(sphere));
    }
    return list;
}

}  // namespace

const std::vector<HansenSphere>& hansen_spheres() {
    static const std::vector<HansenSphere> list = read_spheres();
    return list;
}

const HansenSphere* find_sphere(std::string_view material) {
    const auto found = std::ranges::find(hansen_spheres(), material, &HansenSphere::material);
    return found == hansen_spheres().end() ? nullptr : &*found;
}

double hansen_distance(const HansenParameters& one, const HansenParameters& other) {
    return std::hypot(2 * (one.dD - other.dD), one.dP - other.dP, one.dH - other.dH);
}

std::optional<double> relative_energy_difference(const HansenParameters& solvent, const HansenSphere& sphere) {
    if (!sphere.centre || !sphere.radius) return std::nullopt;
    return hansen_distance(solvent, *sphere.centre) / *sphere.radius;
}

}  // namespace tedge::cleaning
