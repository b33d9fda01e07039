// Pictures whose cracks are known: made ones, and photographs with published skeletons, which are no part of the
// project.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "made_cracks.hpp"
#include "painted_pair.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"

namespace tedge::test_support {

struct CrackPicture {
    std::string name;
    imaging::Raster8 srgb;
    imaging::Raster8 truth;  // other than 0 on the cracks' middle lines
};

// Paint with strokes of some sizes, hairs on it that are none, noise, and cracks through it all.
inline CrackPicture made_crack_picture(std::uint64_t seed, SizePx size, int layers) {
    const PaintedScene scene{seed, 220.0, layers};
    Ageing camera;
    camera.noise = 2.0;
    CrackPicture out{"made " + std::to_string(seed), photograph(scene, size, KnownMove{}, camera, seed, 2), {}};
    draw_lines(out.srgb, made_hairs(seed, size, size.width_px * size.height_px / 66'000));
    CrackHabit habit;
    habit.seed = seed + 10;
    habit.branch_every_px = 110;
    habit.stems = size.width_px * size.height_px / 66'000;
    const auto cracks = made_cracks(habit, size);
    draw_lines(out.srgb, cracks);
    out.truth = middle_lines(cracks, size);
    return out;
}

inline constexpr std::array<std::string_view, 3> crack_photographs{"fl187", "ge230", "image_3"};

// Three photographs and their authors' skeletons (craquelure-graphs, MIT licence; Sidorov and Hardeberg,
// arXiv 1905.05010): half automatic, so the last few per cent are a matter of opinion.
inline CrackPicture crack_photograph(const std::filesystem::path& photographs, std::string_view name) {
    const auto read = [&](const std::string& file) {
        return imaging::to_srgb8(imaging::read_picture(photographs / "craquelure" / file).value()).value();
    };
    const std::string stem(name);
    CrackPicture out{stem, read(stem + ".jpg"), {}};
    const auto skeleton = read(stem + "_skeleton.tif");
    out.truth = imaging::Raster8(skeleton.width_px(), skeleton.height_px(), 1);
    for (int y = 0; y < skeleton.height_px(); ++y)
        for (int x = 0; x < skeleton.width_px(); ++x) out.truth.at(x, y) = skeleton.at(x, y) > 127 ? 255 : 0;
    return out;
}

}  // namespace tedge::test_support
