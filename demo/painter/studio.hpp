// Takes the photographs: scene by scene, so that what several of them show is made once.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "tedge/base/error.hpp"

namespace tedge::painter {

struct StudioOptions {
    std::filesystem::path folder;
    double scale = 1.0;  // of photographs and layers, 0.05 to 1.5
    int threads = 2;
    std::string only;  // one file name; empty: all
    std::function<void(const std::string& line)> say;
};

// Writes the photographs and truth.json into the folder. Errors: painter.bad-scale, painter.unknown-photograph, those
// of files.hpp.
[[nodiscard]] Expected<void> take_photographs(const StudioOptions& options);

}  // namespace tedge::painter
