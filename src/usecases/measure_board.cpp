#include "tedge/usecases/measure_board.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "board_light.hpp"
#include "existing_photograph.hpp"
#include "measurement_of_file.hpp"
#include "tedge/base/number_text.hpp"

namespace tedge::usecases {

namespace {

using casebook::Record;

casebook::FieldValues values_of(const imaging::FlatField& light) {
    casebook::FieldValues values;
    values.text("what", "unevenness of the light")
        .number("value", light.non_uniformity_percent())
        .text("unit", "%")
        .text("note", fmt::format("An even board of {} × {} px, darkest place to brightest of a smooth surface through "
                                  "it. Evened by that surface {} % are left; it departs from it by {} % (root mean "
                                  "square).",
                                  light.size().width_px, light.size().height_px,
                                  format_fixed(light.evened_percent(), 1), format_fixed(light.misfit_percent(), 2)));
    return values;
}

bool is_of_a_board(const casebook::Body& measurement) {
    return measurement.has("sha256") && measurement.text_or("unit") == "%";
}

Expected<void> check_fits(const imaging::PictureProbe& board, const Record& measurement, const Record& photograph) {
    if (photograph.case_id != measurement.case_id)
        return fail("flat-field.other-case", "The photograph and the board belong to two pictures.",
                    "Measure the board for this picture as well.", {{"photograph", to_text(photograph.id)}});
    if (photograph.body.integer("width_px") == board.size.width_px &&
        photograph.body.integer("height_px") == board.size.height_px)
        return {};
    return fail("flat-field.size", "The photograph of the board has another size than one of the photographs.",
                "Name it for photographs by the same camera, held alike.", {{"photograph", to_text(photograph.id)}});
}

}  // namespace

Expected<MeasuredBoard> measure_board(const Acting& acting, const Uuid& case_id, const std::filesystem::path& board,
                                      const std::vector<Uuid>& photographs, const Progress& progress) {
    const auto light = flat_field_of_file(board, imaging::RawRendering::camera_linear, progress.part(0.0, 0.9));
    if (!light) return pass_on(light);
    if (progress.stopped()) return cancelled();
    const auto stored = acting.book.store_original(board);
    if (!stored) return pass_on(stored);
    MeasuredBoard measured;
    measured.sha256 = stored->sha256;
    measured.non_uniformity_percent = light->non_uniformity_percent();
    measured.evened_percent = light->evened_percent();
    measured.misfit_percent = light->misfit_percent();
    imaging::CaptureFigures figures;
    figures.non_uniformity_percent = light->non_uniformity_percent();
    measured.tolerances = imaging::beside_tolerances(figures);
    return acting.book.in_one_act([&]() -> Expected<MeasuredBoard> {
        auto recorded = record_measurement_of_file(acting, case_id, measured.sha256, values_of(*light), is_of_a_board);
        if (!recorded) return pass_on(recorded);
        measured.done = std::move(recorded->done);
        measured.already = recorded->already;
        auto named = name_board(acting, measured.done.record, photographs);
        if (!named) return pass_on(named);
        measured.named = *std::move(named);
        return measured;
    });
}

Expected<std::vector<Done>> name_board(const Acting& acting, const Uuid& measurement,
                                       const std::vector<Uuid>& photographs) {
    if (photographs.empty()) return std::vector<Done>{};
    return acting.book.in_one_act([&]() -> Expected<std::vector<Done>> {
        const auto board = acting.book.record(measurement);
        if (!board) return pass_on(board);
        if (board->kind != "measurement" || board->deleted || !is_of_a_board(board->body))
            return fail("flat-field.no-board", "This record is not the measurement of a board.",
                        "Measure the photograph of the board first.");
        const auto probe = imaging::probe_picture(acting.book.original_path(board->body.text_or("sha256")));
        if (!probe) return pass_on(probe);
        for (const Uuid& id : photographs) {
            const auto photograph = existing_photograph(acting.book, id);
            if (!photograph) return pass_on(photograph);
            if (auto fits = check_fits(*probe, *board, *photograph); !fits) return pass_on(fits);
        }
        std::vector<Done> done;
        for (const Uuid& id : photographs) {
            auto changed = change_record(acting, id, casebook::FieldValues().record("even_board", measurement));
            if (!changed) return pass_on(changed);
            done.push_back(*std::move(changed));
        }
        return done;
    });
}

}  // namespace tedge::usecases
