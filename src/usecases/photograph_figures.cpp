#include "tedge/usecases/photograph_figures.hpp"

#include <nlohmann/json.hpp>

#include "photograph_chart.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

PhotographFigure figure_of(const Record& measurement) {
    PhotographFigure figure;
    figure.measurement = measurement.id;
    figure.what = measurement.body.text_or("what");
    figure.value = measurement.body.number("value").value_or(0.0);
    figure.unit = measurement.body.text_or("unit");
    figure.uncertainty = measurement.body.number("uncertainty");
    figure.note = measurement.body.text_or("note");
    return figure;
}

PhotographFigure colour_of(const Record& measurement) {
    PhotographFigure figure = figure_of(measurement);
    figure.patches = patch_errors_kept(measurement.body);
    figure.tolerances = imaging::beside_tolerances(figures_kept(measurement.body));
    return figure;
}

PhotographFigure beside(PhotographFigure figure, std::optional<double> imaging::CaptureFigures::* as) {
    imaging::CaptureFigures figures;
    figures.*as = figure.value;
    figure.tolerances = imaging::beside_tolerances(figures);
    return figure;
}

// By what the measurement says it was read from.
void put(PhotographFigures& of_photograph, const CaseSnapshot& snapshot, const Record& photograph,
         const Record& measurement, const std::string& read_from, bool alone) {
    const std::string unit = measurement.body.text_or("unit");
    if (read_from == "chart" && unit == "ΔE00") {
        of_photograph.colour = colour_of(measurement);
        of_photograph.colour_is_overtaken = !is_evened_alike(snapshot, measurement.body, photograph);
    } else if (read_from == "slanted edge") {
        of_photograph.sharpness = beside(figure_of(measurement), &imaging::CaptureFigures::sfr10_percent);
    } else if (unit == "px/mm") {
        of_photograph.scale = figure_of(measurement);
    } else if (alone && unit == "L*") {
        of_photograph.noise = beside(figure_of(measurement), &imaging::CaptureFigures::noise_l);
    } else if (alone) {
        of_photograph.others.push_back(figure_of(measurement));
    }
}

void put_evenness(PhotographFigures& of_photograph, const CaseSnapshot& snapshot, const Record& photograph) {
    const auto board = photograph.body.record("even_board");
    const Record* measured = board ? snapshot.find(*board) : nullptr;
    if (measured == nullptr || !measured->body.number("value")) return;
    of_photograph.evenness = beside(figure_of(*measured), &imaging::CaptureFigures::non_uniformity_percent);
}

// Where no chart lies in the photograph itself.
void put_session_chart(PhotographFigures& of_photograph, const CaseSnapshot& snapshot, const Record& photograph) {
    if (of_photograph.colour && !of_photograph.colour_is_overtaken) return;
    const Record* measured = chart_of_session(snapshot, photograph);
    if (measured == nullptr) return;
    of_photograph.colour = colour_of(*measured);
    of_photograph.colour_is_of_session = true;
    of_photograph.colour_is_overtaken = !is_evened_alike(snapshot, measured->body, photograph);
}

}  // namespace

std::map<Uuid, PhotographFigures> photograph_figures(const CaseSnapshot& snapshot) {
    std::map<Uuid, PhotographFigures> all;
    std::map<Uuid, const Record*> photographs;
    for (const Record* photograph : snapshot.of_kind("photograph")) {
        photographs[photograph->id] = photograph;
        put_evenness(all[photograph->id], snapshot, *photograph);
    }
    for (const Record* measurement : snapshot.of_kind("measurement")) {
        const auto from = measurement->body.as_json().find("from_photographs");
        if (from == measurement->body.as_json().end() || !from->is_object() || !measurement->body.number("value"))
            continue;
        for (const auto& [id, read_from] : from->items()) {
            const auto photograph = parse_uuid(id);
            const auto known = photograph ? photographs.find(*photograph) : photographs.end();
            if (known == photographs.end() || !read_from.is_string()) continue;
            put(all[known->first], snapshot, *known->second, *measurement, read_from.get<std::string>(),
                from->size() == 1);
        }
    }
    for (auto& [id, figures] : all) put_session_chart(figures, snapshot, *photographs.at(id));
    return all;
}

}  // namespace tedge::usecases
