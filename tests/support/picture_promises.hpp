// What picture.hpp promises of any file whatever stands in it: asked by the tests of hostile files and by the fuzzer.
#pragma once

#include <filesystem>
#include <string>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging::samples {

// Takes the file in as the program does: reads it, probes it, makes its small view and looks at that. Empty, or the
// promise that was broken: an error that is no sentence, words that are no text, a size beyond max_pixels, a probe that
// says other than the picture.
[[nodiscard]] std::string broken_promise(const std::filesystem::path& file, const PictureReadOptions& options = {});

}  // namespace tedge::imaging::samples
