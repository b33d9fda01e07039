#include "tedge/usecases/session_chart.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "board_light.hpp"
#include "chart_values.hpp"
#include "colour_light.hpp"
#include "existing_photograph.hpp"
#include "measurement_of_file.hpp"
#include "photograph_chart.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::Record;
using imaging::PictureMetadata;

std::unexpected<Error> no_chart_measured() {
    return fail("session-chart.no-chart",
                "This is no measurement of a colour chart, or one that kept nothing by which colours are corrected.",
                "Measure the chart first.");
}

// Where both files say it; a camera's figures are rounded.
bool differ(const std::optional<double>& one, const std::optional<double>& other) {
    constexpr double rounded = 0.02;
    return one && other && std::abs(*one - *other) > rounded * std::max(std::abs(*one), std::abs(*other));
}

std::string camera_of(const PictureMetadata& facts) {
    return facts.camera_make.empty() && facts.camera_model.empty() ? "" : facts.camera_make + " " + facts.camera_model;
}

Expected<void> check_taken_alike(const PictureMetadata& chart, const PictureMetadata& photograph, const Uuid& id) {
    const std::string one = camera_of(chart), other = camera_of(photograph);
    if (!one.empty() && !other.empty() && one != other)
        return fail(
            "session-chart.other-camera",
            "The chart and one of the photographs were taken by two cameras: what is true of the colours of the "
            "one is not true of the other.",
            "Name a chart that was taken by the same camera.", {{"photograph", to_text(id)}});
    if (!differ(chart.exposure_s, photograph.exposure_s) && !differ(chart.f_number, photograph.f_number) &&
        !differ(chart.iso, photograph.iso))
        return {};
    return fail("session-chart.other-exposure",
                fmt::format("The chart was taken with another exposure ({}) than one of the photographs ({}).",
                            imaging::exposure_in_words(chart), imaging::exposure_in_words(photograph)),
                "Name a chart that was taken with the same exposure, camera and lamps untouched.",
                {{"photograph", to_text(id)}});
}

// The file in which the chart was seen: its own, or the photograph of the case in which it lies.
Expected<std::string> file_of(casebook::Casebook& book, const Record& measurement) {
    if (measurement.body.has("sha256")) return measurement.body.text_or("sha256");
    for (const std::string& key : measurement.body.keys("from_photographs")) {
        const auto id = parse_uuid(key);
        const auto photograph = id ? existing_photograph(book, *id) : Expected<Record>(no_chart_measured());
        if (photograph) return photograph->body.text_or("sha256");
    }
    return no_chart_measured();
}

Expected<void> check_chart_fits(casebook::Casebook& book, const Record& measurement, const imaging::PictureProbe& chart,
                                const Record& photograph) {
    const auto values = [&] { return std::map<std::string, std::string>{{"photograph", to_text(photograph.id)}}; };
    if (photograph.case_id != measurement.case_id)
        return fail("session-chart.other-case", "The photograph and the chart belong to two pictures.",
                    "Measure the chart for this picture as well.", values());
    if (const auto fine = check_shows_colour(photograph); !fine) return fine;
    const std::string board = board_sha256_of(book, photograph).empty() ? "" : photograph.body.text_or("even_board");
    if (measurement.body.text_or("chart_fit/board") != board)
        return fail("session-chart.other-board",
                    "The chart and one of the photographs are not evened by the same board of their session.",
                    "Name the board for the photographs first, then measure the chart for them.", values());
    const auto probe = imaging::probe_picture(book.original_path(photograph.body.text_or("sha256")));
    if (!probe) return pass_on(probe);
    const bool chart_is_raw = chart.kind == imaging::PictureKind::camera_raw;
    if (chart_is_raw != (probe->kind == imaging::PictureKind::camera_raw))
        return fail(
            "session-chart.other-developing",
            "The chart and one of the photographs are not of one sort: one is a raw file, the other was developed "
            "by a camera or a program.",
            "Take the chart in the same sort of file as the photographs.", values());
    return check_taken_alike(chart.metadata, probe->metadata, photograph.id);
}

// The board in force for all of them, "" for none.
Expected<std::string> common_board(casebook::Casebook& book, const std::vector<Uuid>& photographs) {
    std::optional<std::string> common;
    for (const Uuid& id : photographs) {
        const auto record = existing_photograph(book, id);
        if (!record) return pass_on(record);
        const std::string board = board_sha256_of(book, *record).empty() ? "" : record->body.text_or("even_board");
        if (common && *common != board)
            return fail("session-chart.other-board", "The photographs are not evened by one and the same board.",
                        "Name one board for all of them first, or the chart for each set apart.");
        common = board;
    }
    return common.value_or("");
}

}  // namespace

Expected<MeasuredSessionChart> measure_session_chart(const Acting& acting, const Uuid& case_id,
                                                     const std::filesystem::path& chart,
                                                     const std::vector<Uuid>& photographs, const ChartWanted& asked,
                                                     const Progress& progress) {
    const auto board = common_board(acting.book, photographs);
    if (!board) return pass_on(board);
    ChartWanted wanted = asked;
    wanted.board.clear();
    if (!board->empty()) {
        const auto first = existing_photograph(acting.book, photographs.front());
        if (!first) return pass_on(first);
        wanted.board = board_of(acting.book, *first);
    }
    auto figures = chart_figures(chart, wanted, progress.part(0.0, 0.95));
    if (!figures) return pass_on(figures);
    if (progress.stopped()) return cancelled();
    const auto stored = acting.book.store_original(chart);
    if (!stored) return pass_on(stored);
    MeasuredSessionChart out{
        .done = {}, .already = false, .sha256 = stored->sha256, .figures = *std::move(figures), .named = {}};
    const auto values = chart_values("colour error by the chart of a session", out.figures, *board);
    const Body as_it_will_be(values.set_values());
    const auto is_same = [&](const Body& kept) {
        return kept.has("chart_fit") && kept.as_json().at("chart_fit") == as_it_will_be.as_json().at("chart_fit");
    };
    return acting.book.in_one_act([&]() -> Expected<MeasuredSessionChart> {
        auto recorded = record_measurement_of_file(acting, case_id, out.sha256, values, is_same);
        if (!recorded) return pass_on(recorded);
        out.done = std::move(recorded->done);
        out.already = recorded->already;
        auto named = name_chart(acting, out.done.record, photographs);
        if (!named) return pass_on(named);
        out.named = *std::move(named);
        return out;
    });
}

Expected<std::vector<Done>> name_chart(const Acting& acting, const Uuid& measurement,
                                       const std::vector<Uuid>& photographs) {
    if (photographs.empty()) return std::vector<Done>{};
    return acting.book.in_one_act([&]() -> Expected<std::vector<Done>> {
        const auto chart = acting.book.record(measurement);
        if (!chart) return pass_on(chart);
        if (chart->kind != "measurement" || chart->deleted || !corrects_colours(chart->body))
            return no_chart_measured();
        const auto file = file_of(acting.book, *chart);
        if (!file) return pass_on(file);
        const auto probe = imaging::probe_picture(acting.book.original_path(*file));
        if (!probe) return pass_on(probe);
        for (const Uuid& id : photographs) {
            const auto photograph = existing_photograph(acting.book, id);
            if (!photograph) return pass_on(photograph);
            if (auto fits = check_chart_fits(acting.book, *chart, *probe, *photograph); !fits) return pass_on(fits);
        }
        std::vector<Done> done;
        for (const Uuid& id : photographs) {
            auto changed = change_record(acting, id, casebook::FieldValues().record("session_chart", measurement));
            if (!changed) return pass_on(changed);
            done.push_back(*std::move(changed));
        }
        return done;
    });
}

Expected<Uuid> measured_chart_of(casebook::Casebook& book, const Uuid& photograph) {
    const auto record = existing_photograph(book, photograph);
    if (!record) return pass_on(record);
    const auto snapshot = book.snapshot(record->case_id);
    if (!snapshot) return pass_on(snapshot);
    const Record* measured = newest_of_chart(*snapshot, *record);
    if (measured == nullptr) return no_chart_measured();
    return measured->id;
}

}  // namespace tedge::usecases
