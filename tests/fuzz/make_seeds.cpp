// usage: make_seeds FOLDER    writes the seeds of the fuzzer, a folder for each way through the decoders.
#include <cstdio>

#include "sample_files.hpp"
#include "sample_seeds.hpp"

int main(int count, char** arguments) {
    if (count != 2) {
        std::fputs("usage: make_seeds FOLDER\n", stderr);
        return 2;
    }
    for (const auto& seed : tedge::imaging::samples::picture_seeds()) {
        const auto folder = std::filesystem::path(arguments[1]) / seed.way;
        std::filesystem::create_directories(folder);
        tedge::imaging::samples::save(folder / seed.name, seed.bytes);
    }
    return 0;
}
