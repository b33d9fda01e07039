// One small sound file for each way bytes can take through the decoders: what the fuzzer starts from.
#pragma once

#include <string>
#include <vector>

namespace tedge::imaging::samples {

struct Seed {
    std::string way;  // a folder's name: jpeg, png, webp, heif, tiff, raw, metadata, icc
    std::string name;
    std::string bytes;
};

[[nodiscard]] std::vector<Seed> picture_seeds();

}  // namespace tedge::imaging::samples
