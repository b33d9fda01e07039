#include "tedge/imaging/crack_change.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stop_token>

#include "made_cracks.hpp"
#include "must.hpp"
#include "painted_pair.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{640, 520};

// The same paint before and after: varnish off, a brighter lamp, and a map that is off by a pixel.
struct Pair {
    Raster8 before;
    Raster8 after;
    std::vector<MadeCrack> kept;
    std::vector<MadeCrack> added;
    std::vector<MadeCrack> lost;
};

PointPx a_pixel_off(PointPx at) {
    return {at.x_px + 0.8 * std::cos(at.y_px / 90.0), at.y_px + 0.8 * std::sin(at.x_px / 110.0) + 0.5};
}

std::vector<MadeCrack> cracks(std::uint64_t seed, int stems) {
    CrackHabit habit;
    habit.seed = seed;
    habit.stems = stems;
    habit.branch_every_px = 120;
    habit.longest_px = 260;
    habit.shallowest = 0.4;
    habit.narrowest_px = 1.8;
    return made_cracks(habit, size);
}

Pair made_pair() {
    Pair out;
    out.kept = cracks(31, 7);
    out.added = cracks(47, 2);
    out.lost = cracks(59, 1);
    const PaintedScene scene{8, 240.0, 2};
    Ageing varnished = old_varnish;
    varnished.haze = 0.02;
    Ageing cleaned;
    cleaned.noise = 2.0;
    out.before = photograph(scene, size, KnownMove{}, varnished, 1, 2);
    KnownMove move;
    out.after = photograph(scene, size, move, cleaned, 2, 2);
    draw_lines(out.before, out.kept);
    draw_lines(out.before, out.lost);
    draw_lines(out.after, out.kept, a_pixel_off);
    draw_lines(out.after, out.added, a_pixel_off);
    return out;
}

Raster8 of_fate(const CrackChange& change, CrackFate fate) {
    Raster8 out(change.size.width_px, change.size.height_px, 1);
    for (const CrackPiece& piece : change.pieces)
        if (piece.fate == fate)
            for (const PixelXY at : piece.pixels) out.at(at.x, at.y) = 255;
    return out;
}

}  // namespace

TEST_CASE("Added cracks are called new and kept ones are not, with varnish off and a map a pixel off") {
    const Pair pair = made_pair();
    CrackChangeOptions options;
    options.error_px = 1.0;
    const auto change = must(crack_change(pair.before, pair.after, options));
    const Raster8 added = middle_lines(pair.added, size, a_pixel_off);
    const Raster8 kept = middle_lines(pair.kept, size, a_pixel_off);
    const Raster8 lost = middle_lines(pair.lost, size);
    const Raster8 found_new = of_fate(change, CrackFate::appeared);
    const Raster8 found_gone = of_fate(change, CrackFate::gone);

    CHECK(share_within(added, found_new, 4) > 0.7);
    CHECK(share_within(found_new, added, 4) > 0.9);
    CHECK(share_within(kept, found_new, 2) < 0.06);  // where a new one crosses an old one
    CHECK(share_within(lost, found_gone, 4) > 0.6);
    CHECK(share_within(found_gone, lost, 4) > 0.7);
    CHECK(share_within(kept, of_fate(change, CrackFate::same), 4) > 0.7);
    CHECK(change.length_px(CrackFate::gone, true) == 0.0);

    // The longest of the added ones, asked for on a third of its way.
    const auto longest = std::ranges::max_element(pair.added, {}, [](const MadeCrack& one) { return one.line.size(); });
    const PointPx middle = a_pixel_off(longest->line[longest->line.size() / 3]);
    const auto* piece = crack_at(change, {static_cast<int>(middle.x_px), static_cast<int>(middle.y_px)});
    REQUIRE(piece != nullptr);
    CHECK(piece->fate == CrackFate::appeared);
}

TEST_CASE("The same surface twice has nothing new and nothing gone, even where the map is off") {
    const Pair pair = made_pair();
    Raster8 first = photograph(PaintedScene{8, 240.0, 2}, size, KnownMove{}, old_varnish, 1, 2);
    Ageing brighter;
    brighter.noise = 3.0;
    Raster8 second = photograph(PaintedScene{8, 240.0, 2}, size, KnownMove{}, brighter, 5, 2);
    draw_lines(first, pair.kept);
    draw_lines(second, pair.kept, a_pixel_off);
    const RegistrationErrorMap error{.cell_px = 4000.0, .columns = 1, .rows = 1, .error_px = {0.8F}};
    CrackChangeOptions options;
    options.error_px = 0.6;  // 1 px with the map's
    options.error_maps = {&error};
    const auto change = must(crack_change(first, second, options));
    double all = 0.0;
    for (const CrackPiece& piece : change.pieces) all += piece.of_after ? piece.length_px : 0.0;
    REQUIRE(all > 1000.0);
    CHECK(change.length_px(CrackFate::appeared, true) < 0.03 * all);
    CHECK(change.length_px(CrackFate::gone, false) < 0.03 * all);
    CHECK(change.length_px(CrackFate::same, true) > 0.8 * all);
}

TEST_CASE("Where the map is loose a crack that lies beside itself is none that is new, where it is tight it is") {
    const Pair pair = made_pair();
    Raster8 first = photograph(PaintedScene{8, 240.0, 2}, size, KnownMove{}, old_varnish, 1, 2);
    Raster8 second = photograph(PaintedScene{8, 240.0, 2}, size, KnownMove{}, old_varnish, 5, 2);
    const auto beside = [](PointPx at) { return PointPx{at.x_px + 5.0, at.y_px + 5.0}; };
    draw_lines(first, pair.kept);
    draw_lines(second, pair.kept, beside);
    const auto new_px = [&](float left, float right, bool of_left) {
        const RegistrationErrorMap error{
            .cell_px = size.width_px / 2.0, .columns = 2, .rows = 1, .error_px = {left, right}};
        CrackChangeOptions options;
        options.error_px = 0.0;
        options.error_maps = {&error};
        double sum = 0.0;
        for (const CrackPiece& piece : must(crack_change(first, second, options)).pieces) {
            const bool is_left = piece.pixels[piece.pixels.size() / 2].x < size.width_px / 2;
            if (piece.fate == CrackFate::appeared && is_left == of_left) sum += piece.length_px;
        }
        return sum;
    };
    const double tight = new_px(0.1F, 3.5F, true);
    REQUIRE(tight > 200.0);
    CHECK(new_px(0.1F, 3.5F, false) < 0.1 * new_px(0.1F, 0.1F, false));
    CHECK(new_px(9.0F, 0.1F, true) == 0.0);   // further off than is looked: undecided
    CHECK(new_px(-1.0F, 0.1F, true) == 0.0);  // nothing lies there
}

TEST_CASE("Pictures of two sizes are refused, and the comparison stops when asked") {
    const Raster8 one(60, 60, 3);
    CHECK(crack_change(one, Raster8(60, 50, 3)).error().code == "cracks.sizes-differ");
    std::stop_source stop;
    stop.request_stop();
    CHECK(crack_change(one, one, {}, Progress(stop.get_token(), {})).error().code == "cancelled");
    CHECK(crack_at(must(crack_change(one, one)), {5, 5}) == nullptr);
}
