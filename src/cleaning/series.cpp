#include "tedge/cleaning/series.hpp"

#include <algorithm>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cleaning {

namespace {

// A series' own value for one solvent, "cyclohexane 96/2/2".
struct OwnParameters {
    const Solvent* solvent = nullptr;
    TeasParameters teas;
};

OwnParameters read_own_parameters(std::string_view text) {
    if (text.empty()) return {};
    const auto blank = text.rfind(' ');
    const auto figures = split(text.substr(blank + 1), '/');
    return {find_solvent(text.substr(0, blank)).value(),
            {parse_number(figures.at(0)).value(), parse_number(figures.at(1)).value(),
             parse_number(figures.at(2)).value()}};
}

TeasParameters average_with(const Mixture& mixture, const OwnParameters& own) {
    TeasParameters average = average_teas(mixture);
    for (const Component& component : mixture) {
        if (component.solvent != own.solvent) continue;
        const double share = component.percent / 100;
        const TeasParameters& table = component.solvent->teas.value;
        average.fd += share * (own.teas.fd - table.fd);
        average.fp += share * (own.teas.fp - table.fp);
        average.fh += share * (own.teas.fh - table.fh);
    }
    return average;
}

SeriesStep read_step(const Table& table, std::size_t row) {
    SeriesStep step;
    step.code = table.cell(row, "code");
    step.mixture = parse_mixture(table.cell(row, "composition")).value();
    step.teas = average_with(step.mixture, read_own_parameters(table.cell(row, "own_parameters")));
    const std::string& published = table.cell(row, "fd_published");
    if (!published.empty()) step.published_fd = parse_number(published).value();
    step.source = table.cell(row, "source");
    step.status = table.cell(row, "status");
    return step;
}

std::string series_name(const std::string& id, const std::string& first_row_name) {
    if (id == "ligroin-acetone") return "Ligroin/acetone (LA)";
    if (id == "ligroin-ethanol") return "Ligroin/ethanol (LE)";
    if (id == "acetone-ethanol") return "Acetone/ethanol (AE)";
    return first_row_name;
}

std::vector<TestSeries> read_series() {
    const Table table = Table::parse(embedded::series_csv).value();
    std::vector<TestSeries> list;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        const std::string& id = table.cell(row, "id");
        if (list.empty() || list.back().id != id) list.push_back({id, series_name(id, table.cell(row, "series")), {}});
        list.back().steps.push_back(read_step(table, row));
    }
    return list;
}

}  // namespace

const std::vector<TestSeries>& test_series() {
    static const std::vector<TestSeries> list = read_series();
    return list;
}

const TestSeries* find_series(std::string_view id) {
    const auto found = std::ranges::find(test_series(), id, &TestSeries::id);
    return found == test_series().end() ? nullptr : &*found;
}

}  // namespace tedge::cleaning
