#include "tedge/cleaning/solvents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cleaning {

namespace {

// The tables are compiled in: what is wrong in them is our own mistake and throws.
double number(const Table& table, std::size_t row, std::string_view column) {
    return parse_number(table.cell(row, column)).value();
}

// The first number in "c. 140", "<-10" or "38-42 (low-flash grades 21-30)", and the second of a range.
struct Range {
    double low = 0;
    double high = 0;
};

std::optional<Range> read_range(std::string_view text) {
    const auto start = text.find_first_of("-0123456789");
    if (start == std::string_view::npos) return std::nullopt;
    text.remove_prefix(start);
    const auto end = text.find_first_not_of("0123456789.", 1);
    const auto low = parse_number(text.substr(0, end));
    if (!low) return std::nullopt;
    Range range{*low, *low};
    if (end == std::string_view::npos || text[end] != '-') return range;
    text.remove_prefix(end + 1);
    const auto high = parse_number(text.substr(0, text.find_first_not_of("0123456789.")));
    if (high) range.high = *high;
    return range;
}

std::optional<double> middle(const std::string& text) {
    const auto range = read_range(text);
    return range ? std::optional((range->low + range->high) / 2) : std::nullopt;
}

std::optional<double> lowest(const std::string& text) {
    const auto range = read_range(text);
    return range ? std::optional(range->low) : std::nullopt;
}

std::optional<double> figure(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(parse_number(text).value());
}

// A plain number without the noughts behind its point, anything else as it is printed.
std::string published_text(const std::string& text) {
    const auto number = parse_number(text);
    return number ? format_number(*number) : text;
}

Hazards read_hazards(const Table& table, std::size_t row) {
    Hazards hazards;
    hazards.molar_mass_g_mol = middle(table.cell(row, "M_g_mol"));
    hazards.density_g_ml = middle(table.cell(row, "density_20C_g_ml"));
    hazards.saturated_ppm = figure(table.cell(row, "saturated_vapour_20C_ppm"));
    hazards.flash_point_c = lowest(table.cell(row, "flash_point_C"));
    hazards.flash_point_text = published_text(table.cell(row, "flash_point_C"));
    hazards.flash_point_from_memory = table.cell(row, "flash_source").contains("recalled");
    hazards.limit = {figure(table.cell(row, "UK_WEL_8h_ppm")), figure(table.cell(row, "UK_WEL_8h_mg_m3")),
                     figure(table.cell(row, "UK_WEL_15min_ppm")), figure(table.cell(row, "UK_WEL_15min_mg_m3")),
                     table.cell(row, "UK_status")};
    hazards.skin_notation = table.cell(row, "UK_Sk_recalled") == "Sk";
    hazards.health_notes = table.cell(row, "CLP_health_notes");
    hazards.blend = table.cell(row, "formula").starts_with("mixture");
    return hazards;
}

SolventGroup group_named(const std::string& name) {
    static const std::map<std::string, SolventGroup> groups{
        {"alcohol", SolventGroup::alcohol},   {"hydrocarbon", SolventGroup::hydrocarbon},
        {"aromatic", SolventGroup::aromatic}, {"water", SolventGroup::water},
        {"polar", SolventGroup::polar},       {"other", SolventGroup::other}};
    return groups.at(name);
}

std::map<std::string, std::size_t> rows_by_name(const Table& table) {
    std::map<std::string, std::size_t> rows;
    for (std::size_t row = 0; row < table.row_count(); ++row) rows[table.cell(row, "solvent")] = row;
    return rows;
}

std::string hansen_status(const Table& table, std::size_t row) {
    const std::string& others = table.cell(row, "other_dataset_values");
    return others.empty() ? "read in open data" : "read in open data; other sets differ: " + others;
}

struct Tables {
    Table teas = Table::parse(embedded::teas_csv).value();
    Table hansen = Table::parse(embedded::hansen_csv).value();
    Table safety = Table::parse(embedded::safety_csv).value();
    Table words = Table::parse(embedded::solvent_words_csv).value();
    std::map<std::string, std::size_t> hansen_rows = rows_by_name(hansen);
    std::map<std::string, std::size_t> safety_rows = rows_by_name(safety);
    std::map<std::string, std::size_t> words_rows = rows_by_name(words);
};

void add_words(Solvent& solvent, const Tables& tables) {
    const Table& words = tables.words;
    const std::size_t row = tables.words_rows.at(solvent.name);
    for (const auto name : split(words.cell(row, "other_names"), '|')) {
        if (!name.empty()) solvent.other_names.emplace_back(name);
    }
    solvent.group = group_named(words.cell(row, "group"));
    solvent.mixes_with_water = words.cell(row, "with_water") == "miscible";
    const std::string& safety_row = words.cell(row, "safety_row");
    if (!safety_row.empty()) solvent.hazards = read_hazards(tables.safety, tables.safety_rows.at(safety_row));
}

void add_hansen(Solvent& solvent, const Tables& tables) {
    const auto row = tables.hansen_rows.find(solvent.name);
    if (row == tables.hansen_rows.end()) return;
    const Table& table = tables.hansen;
    const std::size_t at = row->second;
    solvent.hansen = {{number(table, at, "dD_MPa05"), number(table, at, "dP_MPa05"), number(table, at, "dH_MPa05")},
                      "open data sets agreeing: " + table.cell(at, "datasets_agreeing"),
                      hansen_status(table, at)};
}

std::vector<Solvent> read_solvents() {
    const Tables tables;
    const Table& teas = tables.teas;
    std::vector<Solvent> list;
    for (std::size_t row = 0; row < teas.row_count(); ++row) {
        Solvent solvent;
        solvent.name = teas.cell(row, "solvent");
        solvent.cas = teas.cell(row, "cas");
        solvent.teas = {{number(teas, row, "fd"), number(teas, row, "fp"), number(teas, row, "fh")},
                        teas.cell(row, "source"),
                        teas.cell(row, "status")};
        add_words(solvent, tables);
        add_hansen(solvent, tables);
        list.push_back(std::move(solvent));
    }
    return list;
}

// Levenshtein distance: how many letters have to be added, left out or changed.
std::size_t letters_apart(std::string_view one, std::string_view other) {
    std::vector<std::size_t> row(other.size() + 1);
    for (std::size_t j = 0; j < row.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= one.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= other.size(); ++j) {
            const std::size_t changed = diagonal + (one[i - 1] == other[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({changed, row[j] + 1, row[j - 1] + 1});
        }
    }
    return row.back();
}

std::size_t distance_to(const Solvent& solvent, std::string_view wanted) {
    std::size_t nearest = letters_apart(wanted, lowered_ascii(solvent.name));
    for (const std::string& name : solvent.other_names) {
        nearest = std::min(nearest, letters_apart(wanted, lowered_ascii(name)));
    }
    const bool inside = wanted.size() >= 3 && lowered_ascii(solvent.name).contains(wanted);
    return inside ? 0 : nearest;
}

std::vector<std::string> near_names(std::string_view wanted) {
    const std::size_t allowed = std::max<std::size_t>(2, wanted.size() / 3);
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const Solvent& solvent : solvents()) {
        const std::size_t distance = distance_to(solvent, wanted);
        if (distance <= allowed) near.emplace_back(distance, short_name(solvent));
    }
    std::ranges::stable_sort(near, {}, &std::pair<std::size_t, std::string>::first);
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, near.size()); ++i) names.push_back(near[i].second);
    return names;
}

bool goes_by(const Solvent& solvent, std::string_view wanted) {
    return lowered_ascii(solvent.name) == wanted ||
           std::ranges::any_of(solvent.other_names, [&](const auto& name) { return lowered_ascii(name) == wanted; });
}

}  // namespace

TeasParameters teas_from_hansen(const HansenParameters& hansen) {
    const double sum = hansen.dD + hansen.dP + hansen.dH;
    return {100 * hansen.dD / sum, 100 * hansen.dP / sum, 100 * hansen.dH / sum};
}

const std::vector<Solvent>& solvents() {
    static const std::vector<Solvent> list = read_solvents();
    return list;
}

Expected<const Solvent*> find_solvent(std::string_view name) {
    const std::string wanted = lowered_ascii(trimmed(name));
    const auto found =
        std::ranges::find_if(solvents(), [&](const Solvent& solvent) { return goes_by(solvent, wanted); });
    if (found != solvents().end()) return &*found;
    const auto near = near_names(wanted);
    return fail("solvent.unknown", fmt::format("\"{}\" is not in the table of solvents.", trimmed(name)),
                near.empty() ? "See the table of solvents for the names it knows."
                             : fmt::format("Near names: {}.", join(near, "; ")),
                {{"name", std::string(trimmed(name))}, {"near", join(near, "; ")}});
}

std::string short_name(const Solvent& solvent) {
    if (!solvent.name.contains(" (") && !solvent.name.contains(" / ")) return solvent.name;
    return solvent.other_names.empty() ? solvent.name : solvent.other_names.front();
}

}  // namespace tedge::cleaning
