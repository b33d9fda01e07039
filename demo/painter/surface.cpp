#include "surface.hpp"

#include <algorithm>
#include <cmath>

#include "lettering.hpp"
#include "noise.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

float edge_distance(float x, float y) {
    return std::min(std::min(x, face_width_mm - x), std::min(y, face_height_mm - y));
}

// Brushed on in a few wide sweeps, fuller where it sagged towards the lower edge, thin under the frame's rebate.
float varnish_thickness(float x, float y) {
    const float clouds = fractal(x / 150.0F, y / 110.0F, 3, 911U);
    const float sweeps = noise(x / 160.0F, y / 17.0F, 912U);
    const float sag =
        5.0F * smooth_step(260.0F, face_height_mm, y) + 3.0F * std::max(0.0F, noise(x / 9.0F, y / 130.0F, 913U));
    const float rebate = smooth_step(3.0F, 8.0F, edge_distance(x, y));
    return std::max(6.0F, (31.0F + 9.0F * clouds + 3.0F * sweeps + sag) * mix(0.6F, 1.0F, rebate));
}

float dirt_thickness(float x, float y) {
    const float settled = 2.2F * smooth_step(330.0F, face_height_mm - 6.0F, y);
    const float patches = 1.5F * fractal(x / 85.0F, y / 120.0F, 4, 921U);
    const float wiped = 1.2F * smooth_step(0.1F, 0.5F, fractal(x / 60.0F + y / 90.0F, y / 140.0F, 2, 922U));
    const float rebate = smooth_step(4.0F, 9.0F, edge_distance(x, y));
    return std::max(0.4F, (4.6F + settled + patches - wiped) * mix(0.25F, 1.0F, rebate));
}

float soft_within(const Line& ring, float x, float y, float feather_mm) {
    if (!within(ring, static_cast<double>(x), static_cast<double>(y))) return 0.0F;
    float nearest = 1e9F;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const auto dx = static_cast<float>(0.5 * (ring[i].x_mm + ring[j].x_mm)) - x;
        const auto dy = static_cast<float>(0.5 * (ring[i].y_mm + ring[j].y_mm)) - y;
        nearest = std::min(nearest, std::hypot(dx, dy));
    }
    return smooth_step(0.0F, feather_mm, nearest);
}

// Slack canvas: shallow waves, draws fanning out from two corners, a step along the bars' inner edges.
float bulge(float x, float y) {
    float height = 1700.0F * fractal(x / 170.0F, y / 150.0F, 2, 931U);
    const float corner = std::hypot(x, y);
    height += 420.0F * std::sin(std::atan2(y, x + 1.0F) * 17.0F) * smooth_step(30.0F, 70.0F, corner) *
              smooth_step(210.0F, 90.0F, corner);
    const float other = std::hypot(face_width_mm - x, face_height_mm - y);
    height += 330.0F * std::sin(std::atan2(face_height_mm - y, face_width_mm - x + 1.0F) * 15.0F) *
              smooth_step(30.0F, 70.0F, other) * smooth_step(190.0F, 90.0F, other);
    const auto bar = static_cast<float>(strainer_bar_mm);
    return height + 190.0F * smooth_step(bar + 3.0F, bar - 3.0F, edge_distance(x, y));
}

// One channel of the paint, averaged over a square of 12 mm.
Field broad(const PaintLayers& paint, int channel, int threads) {
    const auto scale = static_cast<float>(paint.grid.px_per_mm);
    return Field(face_size, 0.5, threads, [&](float x, float y) {
        float sum = 0.0F;
        for (float dy = -6.0F; dy <= 6.0F; dy += 1.5F)
            for (float dx = -6.0F; dx <= 6.0F; dx += 1.5F) {
                const int column = std::clamp(static_cast<int>((x + dx) * scale), 0, paint.grid.width_px - 1);
                const int row = std::clamp(static_cast<int>((y + dy) * scale), 0, paint.grid.height_px - 1);
                sum += from_share(paint.reflectance.at(column, row, channel));
            }
        return sum / 81.0F;
    });
}

void add_drawing(Mask& drawing) {
    // A first thought: the mill stood further left with a higher roof, and a sailing boat lay in the river.
    const std::vector<Line> lines = {{{396, 316}, {396, 250}, {412, 222}, {430, 248}, {430, 318}},
                                     {{412, 222}, {478, 216}, {494, 240}, {494, 312}},
                                     {{430, 248}, {494, 240}},
                                     {{318, 392}, {326, 404}, {372, 404}, {386, 390}, {318, 392}},
                                     {{348, 390}, {348, 300}},
                                     {{348, 304}, {378, 372}, {348, 378}},
                                     {{346, 310}, {322, 370}, {346, 376}},
                                     {{0, 262}, {120, 259}, {250, 263}, {400, 260}, {610, 264}},
                                     {{92, 398}, {88, 340}, {94, 280}, {70, 220}},
                                     {{94, 280}, {126, 214}}};
    Dice dice(941U);
    for (const Line& line : lines)
        for (int again = 0; again < 2; ++again) {
            Line shaky;
            for (std::size_t i = 1; i < line.size(); ++i)
                for (double t = 0.0; t < 1.0; t += 0.12)
                    shaky.push_back({line[i - 1].x_mm + t * (line[i].x_mm - line[i - 1].x_mm) +
                                         0.5 * static_cast<double>(dice.normal()),
                                     line[i - 1].y_mm + t * (line[i].y_mm - line[i - 1].y_mm) +
                                         0.5 * static_cast<double>(dice.normal())});
            shaky.push_back(line.back());
            draw_line(drawing, shaky, 0.7, 0.85);
        }
}

void sign(PaintLayers& paint, const Damage& damage) {
    Mask mask(paint.grid);
    const Hand hand{4.6, 0.28, 0.012, 0.55, -1.0, 951U};
    const PointMm start{damage.signature_box[0].x_mm + 3.0, damage.signature_box[0].y_mm + 7.4};
    for (const Line& stroke : written("E. Quillfeather 1847", start, hand)) draw_line(mask, stroke, 0.55, 0.8);
    const Rgb ochre = from_srgb(0x8f7440);
    for (int y = 0; y < paint.grid.height_px; ++y)
        for (int x = 0; x < paint.grid.width_px; ++x) {
            const float cover = mask.at(x, y);
            if (cover <= 0.0F) continue;
            std::uint16_t* c = &paint.reflectance.at(x, y);
            c[0] = to_share(mix(from_share(c[0]), ochre.r, cover));
            c[1] = to_share(mix(from_share(c[1]), ochre.g, cover));
            c[2] = to_share(mix(from_share(c[2]), ochre.b, cover));
            paint.height_um.at(x, y) += 14.0F * cover;
        }
}

void add_losses(Surface& s) {
    for (const Loss& loss : s.damage.losses)
        fill_shape(loss.to_canvas ? s.canvas_shows : s.ground_shows, loss.outline, 1.0);
    // A loss to the canvas has a rim where the ground is left.
    for (const Loss& loss : s.damage.losses)
        if (loss.to_canvas) {
            Line closed = loss.outline;
            closed.push_back(closed.front());
            draw_line(s.ground_shows, closed, 0.5, 0.9);
        }
    draw_line(s.canvas_shows, s.damage.tear, 0.6, 1.0);
    fill_softly(s.overpaint, s.damage.overpaint, 4.5, 0.92);
    for (const Line& touch : s.damage.retouchings) fill_softly(s.overpaint, touch, 2.0, 0.8);
}

void keep_weave(Surface& s, int threads) {
    for_bands(s.grid.height_px, 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < s.grid.width_px; ++x) {
                const WeavePoint point = weave_at(canvas, s.grid.mm(x), s.grid.mm(y));
                s.weave_height.at(x, y) = static_cast<std::uint8_t>(point.height * 255.0F);
                s.weave_tone.at(x, y) =
                    static_cast<std::uint8_t>(std::clamp(128.0F + 60.0F * point.thread_tone, 0.0F, 255.0F));
            }
    });
}

// Old cleanings have rubbed the thin dark passages where a thread stands high; along the edges, where the canvas turns
// over the bar, the paint is worn to the ground.
void rub(Surface& s, int threads) {
    const Rgb ground = from_srgb(0x8f7656);
    for_bands(s.grid.height_px, 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < s.grid.width_px; ++x) {
                std::uint16_t* c = &s.paint.reflectance.at(x, y);
                const Rgb paint{from_share(c[0]), from_share(c[1]), from_share(c[2])};
                const float crown = smooth_step(0.78F, 0.97F, static_cast<float>(s.weave_height.at(x, y)) / 255.0F);
                const float thin =
                    smooth_step(52.0F, 18.0F, s.paint.height_um.at(x, y)) * smooth_step(0.16F, 0.05F, luminance(paint));
                const float ragged = 0.15F + 1.5F * fractal(s.grid.mm(x) / 16.0F, s.grid.mm(y) / 16.0F, 4, 962U);
                const float edge = 0.7F * smooth_step(0.9F, 0.0F, edge_distance(s.grid.mm(x), s.grid.mm(y)) - ragged);
                if (crown * thin < 0.01F && edge < 0.01F) continue;
                const float worn =
                    smooth_step(-0.05F, 0.45F, fractal(s.grid.mm(x) / 60.0F, s.grid.mm(y) / 45.0F, 3, 961U));
                const float wear = std::max(0.5F * crown * thin * worn, edge);
                const Rgb shown = mix(paint, ground, wear);
                c[0] = to_share(shown.r);
                c[1] = to_share(shown.g);
                c[2] = to_share(shown.b);
            }
    });
}

}  // namespace

Surface::Surface(const Grid& g, int threads)
    : grid(g),
      cracks(grow_cracks(face_size, strainer_bar_mm, 1001U)),
      damage(make_damage(cracks)),
      paint(paint_picture(g, threads)),
      crack_cover(g),
      ground_shows(g),
      canvas_shows(g),
      overpaint(g),
      drawing(g),
      weave_height(g.width_px, g.height_px, 1),
      weave_tone(g.width_px, g.height_px, 1),
      broad_red(broad(paint, 0, threads)),
      broad_green(broad(paint, 1, threads)),
      broad_blue(broad(paint, 2, threads)),
      lift_um(lift_of(cracks, face_size)),
      loose(face_size, 1.0, threads,
            [this](float x, float y) {
                float most = 0.0F;
                for (const Line& zone : damage.flaking_zones) most = std::max(most, soft_within(zone, x, y, 7.0F));
                return most;
            }),
      varnish_um(face_size, 1.0, threads, varnish_thickness),
      dirt_um(face_size, 1.0, threads, dirt_thickness),
      cloud(face_size, 1.0, threads,
            [this](float x, float y) {
                const float milky = soft_within(damage.blanching, x, y, 14.0F) *
                                    smooth_step(-0.3F, 0.4F, fractal(x / 14.0F, y / 11.0F, 3, 971U));
                return 0.012F + 0.17F * milky;
            }),
      bulge_um(face_size, 1.0, threads, bulge) {
    sign(paint, damage);
    for (const Crack& crack : cracks)
        draw_line(crack_cover, crack.line, crack.width_mm, crack.generation == 3 ? 0.75 : 0.95);
    add_losses(*this);
    add_drawing(drawing);
    keep_weave(*this, threads);
    rub(*this, threads);
}

}  // namespace tedge::painter
