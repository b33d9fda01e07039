#include "board_light.hpp"

#include <fmt/format.h>

#include "tedge/base/number_text.hpp"

namespace tedge::usecases {

std::string board_sha256_of(casebook::Casebook& book, const casebook::Record& photograph) {
    const auto board = photograph.body.record("even_board");
    if (!board) return {};
    const auto measured = book.record(*board);
    return measured && !measured->deleted ? measured->body.text_or("sha256") : "";
}

std::filesystem::path board_of(casebook::Casebook& book, const casebook::Record& photograph) {
    const std::string sha256 = board_sha256_of(book, photograph);
    return sha256.empty() ? std::filesystem::path() : book.original_path(sha256);
}

Expected<imaging::FlatField> flat_field_of_file(const std::filesystem::path& board, imaging::RawRendering raw,
                                                const Progress& progress) {
    const auto picture = imaging::read_picture(board, {.raw = raw}, progress.part(0.0, 0.7));
    if (!picture) return pass_on(picture);
    const auto linear = imaging::chart_picture(*picture, progress.part(0.7, 0.9));
    if (!linear) return pass_on(linear);
    return imaging::flat_field_of(*linear);
}

std::string evened_sentence(const imaging::FlatField& light) {
    return fmt::format("Evened by the board of its session: the light was {} % uneven, {} % are left.",
                       format_fixed(light.non_uniformity_percent(), 1), format_fixed(light.evened_percent(), 1));
}

}  // namespace tedge::usecases
