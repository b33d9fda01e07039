// Pictures made from originals and kept in derived/: disposable, made again on demand. Needs no open casebook, so that
// a worker thread can do it.
#pragma once

#include <filesystem>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"

namespace tedge::usecases {

[[nodiscard]] std::filesystem::path pyramid_path(const std::filesystem::path& book_folder, std::string_view sha256);

// The pyramid of an original, built when it is not there yet or cannot be read. Errors: those of read_picture,
// build_pyramid and files.hpp.
[[nodiscard]] Expected<std::filesystem::path> ensure_pyramid(const std::filesystem::path& book_folder,
                                                             std::string_view sha256, const Progress& progress = {});

}  // namespace tedge::usecases
