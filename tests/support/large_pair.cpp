#include "large_pair.hpp"

#include <cstdio>

#include "tedge/imaging/write_picture.hpp"

namespace tedge::test_support {
namespace {

constexpr PaintedScene scene{.seed = 40, .stroke_px = 1500.0, .layers = 7};
constexpr PaintedScene other_scene{.seed = 41, .stroke_px = 1500.0, .layers = 7};

struct Sitting {
    const char* name;
    PaintedScene scene;
    KnownMove move;
    Ageing ageing;
    std::uint64_t seed;
};

bool make(const std::filesystem::path& folder, const Sitting& sitting) {
    const auto file = folder / sitting.name;
    if (std::filesystem::exists(file)) return true;
    std::printf("making %s\n", file.c_str());
    std::fflush(stdout);
    const imaging::Raster8 picture =
        photograph(sitting.scene, large_size, sitting.move, sitting.ageing, sitting.seed, 2);
    return imaging::write_picture(file, picture, imaging::PictureFormat::jpeg, {.jpeg_quality = 95}).has_value();
}

}  // namespace

KnownMove large_move() {
    const Viewpoint viewpoint{.degrees = 1.7, .scale = 0.97, .perspective = 0.05, .shift = {40, -25}};
    return {seen_from(viewpoint, large_size, large_size), 7.0, 4000.0};
}

bool make_large_pictures(const std::filesystem::path& folder, bool other_too) {
    std::filesystem::create_directories(folder);
    return make(folder, {"after.jpg", scene, {}, {.noise = 1.5}, 1}) &&
           make(folder, {"before.jpg", scene, large_move(), old_varnish, 2}) &&
           (!other_too || make(folder, {"other.jpg", other_scene, large_move(), old_varnish, 3}));
}

}  // namespace tedge::test_support
