#include "verso.hpp"

#include <algorithm>
#include <cmath>

#include "lettering.hpp"
#include "noise.hpp"
#include "parallel.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

constexpr auto bar = static_cast<float>(strainer_bar_mm);
constexpr float cross_bar_left = 286.0F;
constexpr float cross_bar_right = 324.0F;

Line rectangle(double left, double top, double width, double height) {
    return {{left, top}, {left + width, top}, {left + width, top + height}, {left, top + height}};
}

struct Writing {
    const char* text;
    PointMm start;
    Hand hand;
    double width_mm;
};

const Writing inscription[] = {
    {"The Mill at Otter Reach", {92.0, 196.0}, {11.0, 0.30, 0.012, 0.45, -2.0, 1201U}, 0.9},
    {"E. Quillfeather pinxt 1847", {88.0, 219.0}, {10.0, 0.32, 0.013, 0.45, -2.5, 1202U}, 0.85},
    {"No 3", {172.0, 240.0}, {9.0, 0.30, 0.012, 0.5, -2.0, 1203U}, 0.85}};
const Writing stamp[] = {{"PELLOW & SIDDICK", {388.0, 300.0}, {6.4, 0.0, 0.004, 1.0, 3.0, 1204U}, 0.9},
                         {"ARTISTS COLOURMEN", {391.0, 312.0}, {5.0, 0.0, 0.004, 1.0, 3.0, 1205U}, 0.75},
                         {"9 COPPER STAIR", {398.0, 322.0}, {5.0, 0.0, 0.004, 1.0, 3.0, 1206U}, 0.75}};
const Writing label_text[] = {{"Mrs A. Brindlemere", {128.0, 429.0}, {4.6, 0.28, 0.012, 0.5, 0.6, 1207U}, 0.5},
                              {"No 27  Landscape", {128.0, 438.5}, {4.4, 0.28, 0.012, 0.5, 0.6, 1208U}, 0.5}};
const Writing chalk[] = {{"412", {424.0, 33.0}, {19.0, 0.1, 0.02, 0.8, -4.0, 1209U}, 2.4}};

template <std::size_t n>
void write(Mask& mask, const Writing (&lines)[n], double strength) {
    for (const Writing& w : lines)
        for (const Line& stroke : written(w.text, w.start, w.hand)) draw_line(mask, stroke, w.width_mm, strength);
}

void add_stamp_border(Mask& mask) {
    Line oval;
    for (int i = 0; i <= 90; ++i) {
        const double a = 6.28318531 * i / 90.0;
        oval.push_back(
            {434.0 + 58.0 * std::cos(a) - 0.9 * std::sin(a), 312.5 + 22.0 * std::sin(a) + 3.0 * std::cos(a)});
    }
    draw_line(mask, oval, 1.0, 1.0);
}

// Which wood, if any, lies over the canvas at a place, and how deep into the bar it is.
struct Wood {
    float depth_mm = -1.0F;  // below 0: canvas; then the distance outside the nearest bar
    bool upright = false;
    float along = 0.0F, across = 0.0F;
    int piece = 0;
};

Wood wood_at(float x, float y) {
    const float right = face_width_mm - x;
    const float bottom = face_height_mm - y;
    const float side = std::min(x, right);
    const float end = std::min(y, bottom);
    Wood best;
    const auto offer = [&best](float depth, bool upright, float along, float across, int piece) {
        if (depth > best.depth_mm) best = {depth, upright, along, across, piece};
    };
    best.depth_mm = -1e9F;
    // The bars at the edges lie over the ends of the middle one.
    if (end > bar && x > cross_bar_left - 30.0F && x < cross_bar_right + 30.0F)
        offer(std::min(x - cross_bar_left, cross_bar_right - x), true, y, x - cross_bar_left, 5);
    // The corners are mitred: the nearer edge decides.
    if (side <= end)
        offer(bar - side, true, y, side, x < right ? 1 : 2);
    else
        offer(bar - end, false, x, end, y < bottom ? 3 : 4);
    return best;
}

Rgb wood_colour(const Wood& wood, float x, float y) {
    static const Rgb light = from_srgb(0x9a7d56);
    static const Rgb dark = from_srgb(0x75593a);
    const auto seed = 1301U + static_cast<std::uint32_t>(wood.piece);
    // Slow-grown deal, sawn along the grain: fine, nearly straight lines that part round a knot.
    const float knot_along = 120.0F + 60.0F * static_cast<float>(wood.piece);
    const float knot_across = 18.0F + 3.0F * static_cast<float>(wood.piece % 3);
    const float from_knot = std::hypot((wood.along - knot_along) / 3.2F, wood.across - knot_across);
    const float around = 6.0F * std::exp(-from_knot / 5.0F) * (wood.across > knot_across ? 1.0F : -1.0F);
    const float warp = 1.6F * fractal(wood.along / 190.0F, wood.across / 40.0F, 2, seed) + 0.2F * around;
    const float spacing = 1.7F + 0.9F * noise(wood.across / 14.0F, 3.0F, seed + 9U);
    const float rings = 0.5F + 0.5F * std::sin(6.2832F * (wood.across + 3.0F * warp) / (2.2F * spacing));
    const float fibres = fractal(wood.along / 22.0F, wood.across * 3.1F, 3, seed + 20U);
    Rgb c = mix(light, dark, clamp01(0.30F + 0.30F * rings * rings * rings + 0.30F * fibres));
    c = mix(c, from_srgb(0x4a3220), 0.75F * smooth_step(3.2F, 1.8F, from_knot));
    const float grime = smooth_step(-0.3F, 0.5F, fractal(x / 60.0F, y / 60.0F, 3, 1311U)) * 0.34F + 0.22F;
    c = mix(c, from_srgb(0x3b3128), grime);
    // A mitre is a dark line; the arris towards the canvas catches light above and is dark below.
    const float side = std::min(x, face_width_mm - x);
    const float end = std::min(y, face_height_mm - y);
    if (wood.piece < 5 && std::fabs(side - end) < 0.35F) c = c * 0.35F;
    if (wood.depth_mm < 1.6F)
        c = c *
            (wood.upright ? (x < face_width_mm / 2.0F ? 0.8F : 1.18F) : (y < face_height_mm / 2.0F ? 0.75F : 1.22F));
    return c;
}

Rgb canvas_colour(float x, float y, float tone) {
    static const Rgb linen = from_srgb(0x9c8158);
    static const Rgb aged = from_srgb(0x6d5438);
    const float age = smooth_step(-0.45F, 0.55F, fractal(x / 110.0F, y / 90.0F, 4, 1321U));
    Rgb c = mix(linen, aged, 0.25F + 0.5F * age) * (1.0F + 0.10F * tone);
    // A tideline where water once ran down behind the upper edge.
    const float tide = 92.0F + 38.0F * fractal(x / 70.0F, 3.0F, 3, 1322U) - 0.002F * (x - 450.0F) * (x - 450.0F);
    c = c * (1.0F - 0.22F * std::exp(-std::fabs(y - tide) / 2.2F) - 0.07F * smooth_step(tide + 4.0F, tide - 4.0F, y));
    return c;
}

struct Marks {
    Mask ink, stamp, label_ink, chalk, patch, glue, label;

    explicit Marks(const Grid& grid)
        : ink(grid), stamp(grid), label_ink(grid), chalk(grid), patch(grid), glue(grid), label(grid) {
        write(ink, inscription, 0.9);
        write(stamp, painter::stamp, 0.95);
        add_stamp_border(stamp);
        write(label_ink, label_text, 0.9);
        write(chalk, painter::chalk, 0.9);
        const VersoTruth truth = verso_truth();
        fill_shape(patch, truth.patch, 1.0);
        Line halo = truth.patch;
        const double cx = 0.5 * (halo[0].x_mm + halo[2].x_mm), cy = 0.5 * (halo[0].y_mm + halo[2].y_mm);
        for (PointMm& p : halo) p = {cx + 1.28 * (p.x_mm - cx), cy + 1.28 * (p.y_mm - cy)};
        fill_softly(glue, halo, 4.0, 0.8);
        fill_shape(label, rectangle(120.0, 420.0, 74.0, 26.0), 1.0);
    }
};

class Back {
public:
    Back(const Surface& surface, const Marks& marks) : s_(surface), m_(marks) {}

    [[nodiscard]] Rgb at(int x, int y) const {
        const float x_mm = s_.grid.mm(x);
        const float y_mm = s_.grid.mm(y);
        const Wood wood = wood_at(x_mm, y_mm);
        const Rgb below = wood.depth_mm >= 0.0F ? with_label(wood_colour(wood, x_mm, y_mm), x, y, x_mm, y_mm)
                                                : cloth(x, y, x_mm, y_mm, wood);
        return below;
    }

private:
    [[nodiscard]] float crown(int x, int y) const {
        // The same cloth as on the front, seen from behind.
        const int mirrored = s_.grid.width_px - 1 - std::clamp(x, 0, s_.grid.width_px - 1);
        return 1.0F / 255.0F *
               static_cast<float>(s_.weave_height.at(mirrored, std::clamp(y, 0, s_.grid.height_px - 1)));
    }

    [[nodiscard]] Rgb cloth(int x, int y, float x_mm, float y_mm, const Wood& wood) const {
        const int mirrored = s_.grid.width_px - 1 - x;
        const float tone = (static_cast<float>(s_.weave_tone.at(mirrored, y)) - 128.0F) / 60.0F;
        float height = crown(x, y);
        float relief = 0.55F * (height - crown(x - 1, y)) + 0.55F * (height - crown(x, y - 1));
        Rgb c = canvas_colour(x_mm, y_mm, tone);
        c = mix(c, from_srgb(0x4a3a22), 0.45F * m_.glue.at(x, y));
        const float patch = m_.patch.at(x, y);
        if (patch > 0.0F) {  // a finer, paler cloth
            const WeavePoint fine = weave_at({19.0, 18.0, 1401U}, x_mm, y_mm);
            c = mix(c, from_srgb(0xa08a63) * (1.0F + 0.08F * fine.thread_tone), patch);
            height = mix(height, fine.height, patch);
            relief *= 1.0F - 0.5F * patch;
        }
        c = c * ((0.42F + 0.62F * height) * std::clamp(1.0F + relief, 0.6F, 1.5F));
        // Ink sits on the crowns of the threads and has faded unevenly.
        const float faded = clamp01(0.55F + 0.55F * fractal(x_mm / 28.0F, y_mm / 20.0F, 3, 1331U));
        c = mix(c, from_srgb(0x2c2018), m_.ink.at(x, y) * (0.14F + 0.34F * faded) * smooth_step(0.2F, 0.7F, height));
        c = mix(c, from_srgb(0x232026), m_.stamp.at(x, y) * (0.20F + 0.45F * faded) * smooth_step(0.3F, 0.75F, height));
        const float shadow = smooth_step(-9.0F, 0.0F, wood.depth_mm);  // of the bars
        return c * (1.0F - 0.45F * shadow * shadow);
    }

    [[nodiscard]] Rgb with_label(Rgb c, int x, int y, float x_mm, float y_mm) const {
        const float torn = fractal(x_mm / 6.0F, y_mm / 6.0F, 3, 1341U);
        const float paper = m_.label.at(x, y) * (x_mm + 9.0F * torn < 186.0F ? 1.0F : 0.0F);
        const Rgb sheet = from_srgb(0xc9b78d) * (1.0F + 0.10F * fractal(x_mm / 9.0F, y_mm / 7.0F, 3, 1342U));
        c = mix(c, sheet, paper);
        c = mix(c, from_srgb(0x3f2a1c), paper * m_.label_ink.at(x, y) * 0.75F);
        const float dusty = clamp01(0.5F + 0.8F * fractal(x_mm * 0.9F, y_mm * 0.9F, 2, 1343U));
        return mix(c, from_srgb(0xd8d4cc), m_.chalk.at(x, y) * 0.6F * dusty);
    }

    const Surface& s_;
    const Marks& m_;
};

}  // namespace

VersoTruth verso_truth() {
    VersoTruth truth;
    truth.marks = {
        {"inscription", "The Mill at Otter Reach / E. Quillfeather pinxt 1847 / No 3",
         rectangle(84.0, 176.0, 154.0, 70.0)},
        {"stamp", "PELLOW & SIDDICK / ARTISTS COLOURMEN / 9 COPPER STAIR", rectangle(374.0, 289.0, 120.0, 48.0)},
        {"label", "Mrs A. Brindlemere / No 27 Landscape", rectangle(120.0, 420.0, 74.0, 26.0)},
        {"chalk", "412", rectangle(420.0, 10.0, 52.0, 28.0)}};
    truth.patch = rectangle(610.0 - 386.0, 70.0, 58.0, 54.0);
    truth.bars = {
        rectangle(0.0, 0.0, 610.0, strainer_bar_mm), rectangle(0.0, 460.0 - strainer_bar_mm, 610.0, strainer_bar_mm),
        rectangle(0.0, 0.0, strainer_bar_mm, 460.0), rectangle(610.0 - strainer_bar_mm, 0.0, strainer_bar_mm, 460.0),
        rectangle(cross_bar_left, strainer_bar_mm, cross_bar_right - cross_bar_left, 460.0 - 2.0 * strainer_bar_mm)};
    return truth;
}

imaging::Raster16 verso_appearance(const Surface& surface, int threads) {
    imaging::Raster16 out(surface.grid.width_px, surface.grid.height_px, 3);
    const Marks marks(surface.grid);
    const Back back(surface, marks);
    for_bands(surface.grid.height_px, 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < surface.grid.width_px; ++x) {
                const Rgb seen = back.at(x, y);
                std::uint16_t* c = &out.at(x, y);
                c[0] = to_share(seen.r);
                c[1] = to_share(seen.g);
                c[2] = to_share(seen.b);
            }
    });
    return out;
}

}  // namespace tedge::painter
