// Any bytes at all, taken in as a photograph: the one door through which every decoder is reached.
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "picture_promises.hpp"
#include "sample_files.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

// Small, so that a picture costs little time and whoever asks for much more memory than it is told of is found out by
// the fuzzer's own limit.
constexpr PictureReadOptions small_pictures{.max_pixels = 500'000};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    static const TemporaryFolder folder(TemporaryFolder::quick_place());
    const auto file = folder / "fuzzed";
    samples::save(file, std::string(bytes, bytes + size));
    const std::string broken = samples::broken_promise(file, small_pictures);
    if (broken.empty()) return 0;
    std::fprintf(stderr, "A promise is broken: %s\n", broken.c_str());
    std::abort();
}
