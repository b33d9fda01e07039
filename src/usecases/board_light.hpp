// How the light fell on a photograph, by the board that was named for it.
#pragma once

#include <optional>
#include <string>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/imaging/flat_field.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::usecases {

// The digest of the board's file, "" where none is named (or the measurement was removed).
[[nodiscard]] std::string board_sha256_of(casebook::Casebook& book, const casebook::Record& photograph);

// The board's file, or an empty path where none is named (or the measurement was removed).
[[nodiscard]] std::filesystem::path board_of(casebook::Casebook& book, const casebook::Record& photograph);

// Read as the photographs that it evens are. Errors: those of read_picture, chart_picture and flat_field_of.
[[nodiscard]] Expected<imaging::FlatField> flat_field_of_file(const std::filesystem::path& board,
                                                              imaging::RawRendering raw, const Progress& progress);

// "Evened by the board of its session: the light was 12.0 % uneven, 0.8 % are left."
[[nodiscard]] std::string evened_sentence(const imaging::FlatField& light);

}  // namespace tedge::usecases
