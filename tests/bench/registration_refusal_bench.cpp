// Two hundred pairs of photographs that do not show one painting, and how many of them would have been taken for one:
// none may be. Ends with 1 when one was.
//
// bench_registration_refusal
#include <cstdio>
#include <cstdlib>
#include <string>

#include "painted_pair.hpp"
#include "tedge/imaging/registration.hpp"
#include "wrong_pairs.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{480, 384};

struct Tally {
    int pairs = 0;
    int accepted = 0;
};

PaintedScene scene(std::uint64_t seed) {
    return {.seed = seed, .stroke_px = 90.0, .layers = 4};
}

// Each pair from another viewpoint and through other varnish.
Raster8 seen(const PaintedScene& what, int pair) {
    const double turn = 9.0 * counted(41, pair, 0) - 4.5;
    const KnownMove move{seen_from({.degrees = turn, .scale = 0.9 + 0.2 * counted(41, pair, 1)}, size, size)};
    Ageing ageing = pair % 2 == 0 ? Ageing{.noise = 1.5} : old_varnish;
    ageing.inverted = pair % 5 == 4;
    return photograph(what, size, move, ageing, static_cast<std::uint64_t>(pair) + 7U, 2);
}

Raster8 still(const PaintedScene& what) {
    return photograph(what, size, {}, {.noise = 1.5}, what.seed, 2);
}

void count(Tally& tally, const char* kind, const Raster8& reference, const Raster8& moving) {
    const auto report = register_pictures(reference, moving, {.accept_mirrored = true});
    if (!report) {
        std::printf("%s: %s\n", kind, report.error().code.c_str());
        std::exit(2);
    }
    ++tally.pairs;
    if (!report->usable) return;
    ++tally.accepted;
    std::printf("accepted: %s %d, tiles %d / %d\n", kind, tally.pairs, report->tiles_agreeing, report->tiles);
}

// A hand that strays by two to eight thousandths of the longer side and paints the finer layers anew.
PaintedScene copy_of(PaintedScene original, int pair) {
    original.copyist = static_cast<std::uint64_t>(pair) + 3U;
    original.own_layers_from = 2 + pair % 2;
    original.strays_px = size.width_px * (0.004 + 0.012 * counted(43, pair, 2));
    return original;
}

Raster8 part_of(const PaintedScene& what, double left, double top) {
    KnownMove move;
    move.homography = Homography::translation(left, top);
    return photograph(what, size, move, {.noise = 1.5}, what.seed + 1U, 2);
}

template <class Pair>
Tally tally_of(const char* kind, int pairs, const Pair& pair) {
    Tally tally;
    for (int i = 0; i < pairs; ++i) pair(tally, i);
    std::printf("%-42s %3d pairs, %d accepted\n", kind, tally.pairs, tally.accepted);
    std::fflush(stdout);
    return tally;
}

}  // namespace

int main() {
    const auto seed = [](int from, int pair) { return static_cast<std::uint64_t>(from + pair); };
    int pairs = 0;
    int accepted = 0;
    const auto add = [&](const Tally& tally) {
        pairs += tally.pairs;
        accepted += tally.accepted;
    };
    add(tally_of("different paintings", 60, [&](Tally& tally, int i) {
        count(tally, "different paintings", still(scene(seed(1000, i))), seen(scene(seed(3000, i)), i));
    }));
    add(tally_of("a painting and its copy", 60, [&](Tally& tally, int i) {
        const PaintedScene original = scene(seed(5000, 40 * i));
        count(tally, "a painting and its copy", still(original), seen(copy_of(original, i), i));
    }));
    add(tally_of("two paintings in one frame", 20, [&](Tally& tally, int i) {
        const Raster8 frame = still(scene(seed(9000, i)));
        count(tally, "two paintings in one frame", framed(still(scene(seed(9100, i))), frame),
              framed(still(scene(seed(9200, i))), frame));
    }));
    add(tally_of("machine cloth, some threads further on", 20, [&](Tally& tally, int i) {
        const Cloth cloth{9.0 + i, 8.0 + 0.9 * i, 0.0, 0};
        Cloth further = cloth;
        further.repeats_on = i % 3;
        count(tally, "machine cloth", weave(seed(20, i), cloth, size), weave(seed(60, i), further, size));
    }));
    add(tally_of("two parts of one painting", 40, [&](Tally& tally, int i) {
        const PaintedScene whole = scene(seed(7000, i));
        count(tally, "two parts of one painting", part_of(whole, 0.0, 0.0),
              part_of(whole, size.width_px * 1.05, size.height_px * (0.3 * (i % 3))));
    }));
    std::printf("%d wrong pairs, %d accepted\n", pairs, accepted);
    return accepted == 0 ? 0 : 1;
}
