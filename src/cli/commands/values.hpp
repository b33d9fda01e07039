// What several commands take and give: fields of a record, corners, the record an act was done on.
#pragma once

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "answer.hpp"
#include "arguments.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/usecases/derived_pictures.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::cli {

// {"agent": "acetone 30, isooctane 70", "seconds": 30}: fields as they stand in records; null takes a field away.
// Errors: usage.not-values.
[[nodiscard]] Expected<casebook::FieldValues> parse_values(std::string_view text);

// "x,y,x,y,x,y,x,y" from the top-left corner clockwise. Errors: usage.not-corners.
[[nodiscard]] Expected<std::array<PointPx, 4>> parse_corners(std::string_view text);

// "x,y;x,y" in mm of a face; `option` names it in what is said. Errors: usage.not-points.
[[nodiscard]] Expected<std::vector<PointMm>> parse_points(std::string_view option, std::string_view text);

// "x,y" or "x,y,width,height" in pixels of a photograph: N numbers. Errors: usage.not-pixels.
[[nodiscard]] Expected<std::vector<double>> parse_pixel_numbers(std::string_view option, std::string_view text,
                                                                std::size_t count);
template <std::size_t N>
[[nodiscard]] Expected<std::array<double, N>> parse_pixels(std::string_view option, std::string_view text) {
    const auto numbers = parse_pixel_numbers(option, text, N);
    if (!numbers) return pass_on(numbers);
    std::array<double, N> out{};
    std::ranges::copy(*numbers, out.begin());
    return out;
}

// The id that stands at a place of the command ("PHOTOGRAPH") or after an option that is there ("reference"). Errors:
// uuid.not-an-id, as wrong use.
[[nodiscard]] Expected<Uuid> id_at(const Arguments& arguments, std::string_view name);

// "id,id,id" at a place of the command or after an option; none where the option is not there. Errors: the same.
[[nodiscard]] Expected<std::vector<Uuid>> ids_at(const Arguments& arguments, std::string_view name);

// A picture that was kept: fields id, sha256 and already, and a line.
void tell_kept(const usecases::KeptPicture& kept, Answer& answer);

// The record an act was done on, and what was done.
[[nodiscard]] Answer done_answer(const usecases::Done& done, std::string_view what);

}  // namespace tedge::cli
