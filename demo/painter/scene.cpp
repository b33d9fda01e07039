#include "scene.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "noise.hpp"
#include "parallel.hpp"

namespace tedge::painter {
namespace {

imaging::Raster16 halved(const imaging::Raster16& full, int threads) {
    imaging::Raster16 half(full.width_px() / 2, full.height_px() / 2, 3);
    for_bands(half.height_px(), 16, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y) {
            const std::uint16_t* upper = full.row(2 * y);
            const std::uint16_t* lower = full.row(2 * y + 1);
            std::uint16_t* out = half.row(y);
            for (int i = 0; i < half.width_px() * 3; ++i) {
                const int from = (i / 3) * 6 + i % 3;
                out[i] =
                    static_cast<std::uint16_t>((upper[from] + upper[from + 3] + lower[from] + lower[from + 3] + 2) / 4);
            }
        }
    });
    return half;
}

// One photograph's worth of rows.
class Exposure {
public:
    Exposure(const Scene& scene, const Camera& camera, double softness)
        : s_(scene), camera_(camera), softness_(static_cast<float>(softness)) {
        const PointPx middle{0.5 * camera.size.width_px, 0.5 * camera.size.height_px};
        const PointMm a = camera.to_face(middle);
        const PointMm b = camera.to_face({middle.x_px + 1.0, middle.y_px});
        level_ = scene.face->level_for(std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm));
        for (const Card* card : scene.cards) laid_.push_back(box_of(*card));
    }

    void rows(imaging::Raster16& out, int first, int end) const {
        std::vector<PointMm> here;
        std::vector<PointMm> below;
        place_row(first, here);
        for (int y = first; y < end; ++y) {
            place_row(y + 1, below);
            std::uint16_t* row = out.row(y);
            for (int x = 0; x < camera_.size.width_px; ++x) {
                const auto i = static_cast<std::size_t>(x);
                const Rgb seen = pixel(here[i], here[i + 1], below[i]) * (vignette(x, y) * frame_unit);
                row[3 * x] = to_share(seen.r);
                row[3 * x + 1] = to_share(seen.g);
                row[3 * x + 2] = to_share(seen.b);
            }
            std::swap(here, below);
        }
    }

private:
    void place_row(int y, std::vector<PointMm>& row) const {
        row.resize(static_cast<std::size_t>(camera_.size.width_px) + 1);
        for (int x = 0; x <= camera_.size.width_px; ++x)
            row[static_cast<std::size_t>(x)] = camera_.to_face({static_cast<double>(x), static_cast<double>(y)});
    }

    // The mean of four places inside the pixel.
    [[nodiscard]] Rgb pixel(PointMm at, PointMm right, PointMm down) const {
        static constexpr float offsets[4][2] = {
            {-0.125F, -0.375F}, {0.375F, -0.125F}, {0.125F, 0.375F}, {-0.375F, 0.125F}};
        const auto x = static_cast<float>(at.x_mm), y = static_cast<float>(at.y_mm);
        const float rx = static_cast<float>(right.x_mm) - x, ry = static_cast<float>(right.y_mm) - y;
        const float dx = static_cast<float>(down.x_mm) - x, dy = static_cast<float>(down.y_mm) - y;
        float shift_x = 0.0F, shift_y = 0.0F;
        if (s_.old_from_new) {
            const PointMm moved = s_.old_from_new->at(at);
            shift_x = static_cast<float>(moved.x_mm);
            shift_y = static_cast<float>(moved.y_mm);
        }
        Rgb sum{};
        for (const auto& offset : offsets) {
            const float ox = offset[0] * softness_, oy = offset[1] * softness_;
            sum = sum + place(x + rx * ox + dx * oy, y + ry * ox + dy * oy, shift_x, shift_y);
        }
        return (sum * 0.25F + grey(glare(x, y))) * s_.cast * (s_.exposure * lamp(x, y));
    }

    [[nodiscard]] Rgb place(float x, float y, float shift_x, float shift_y) const {
        const bool on_face = x >= 0.0F && y >= 0.0F && x < face_width_mm && y < face_height_mm;
        Rgb seen = on_face ? s_.face->at(level_, x + shift_x, y + shift_y) : behind(x, y);
        for (const Laid& lying : laid_) {
            if (x < lying.left || x > lying.right || y < lying.top || y > lying.bottom) continue;
            const PointMm on_card = lying.card->from_face({static_cast<double>(x), static_cast<double>(y)});
            if (!lying.card->holds(on_card)) continue;
            const Card::Seen laid = lying.card->at(on_card);
            seen = mix(seen, in_this_light(laid.colour, x), laid.cover);
        }
        return seen;
    }

    [[nodiscard]] Rgb in_this_light(Rgb c, float x) const {
        switch (s_.light) {
            case Light::normal:
                return c;
            case Light::raking:
                return c * (0.80F * 470.0F / (240.0F + std::max(-120.0F, x)));
            case Light::ultraviolet:
                return Rgb{0.010F, 0.005F, 0.034F} * (0.15F + c.b) + Rgb{0.012F, 0.017F, 0.028F} * luminance(c);
            case Light::infrared:
                return grey(0.25F * c.g + 0.75F * c.r);
        }
        return c;
    }

    [[nodiscard]] Rgb behind(float x, float y) const {
        // The picture throws a shadow on what is behind it, deeper below and to the right.
        const float dx = std::max(std::max(-x, x - face_width_mm - 4.0F), 0.0F);
        const float dy = std::max(std::max(-y, y - face_height_mm - 7.0F), 0.0F);
        const float shadow = 1.0F - 0.55F * std::exp(-std::hypot(dx, dy) / 7.0F);
        float texture = 1.0F;
        if (s_.plastered_wall)
            texture += 0.03F * fractal(x / 40.0F, y / 40.0F, 2, 1601U) + 0.02F * noise(x / 1.7F, y / 1.7F, 1602U);
        else
            texture += 0.10F * fractal(x / 130.0F + y / 300.0F, y / 190.0F, 2, 1603U) +
                       0.05F * noise(x * 1.1F, y * 1.1F, 1604U);
        return in_this_light(s_.backdrop * (texture * shadow), x);
    }

    [[nodiscard]] float glare(float x, float y) const {
        float sum = 0.0F;
        for (const Glare& g : s_.glares) {
            const auto a = static_cast<float>(g.turn_deg * std::numbers::pi / 180.0);
            const float px = x - static_cast<float>(g.middle.x_mm), py = y - static_cast<float>(g.middle.y_mm);
            const float u = std::fabs(px * std::cos(a) + py * std::sin(a)) / static_cast<float>(g.half_width_mm);
            const float v = std::fabs(py * std::cos(a) - px * std::sin(a)) / static_cast<float>(g.half_height_mm);
            if (u > 1.7F || v > 1.7F) continue;
            if (x < 0.0F || y < 0.0F || x > face_width_mm || y > face_height_mm) continue;
            // The uneven surface breaks the patch up into flecks.
            const float rough =
                0.25F * fractal(x / 9.0F, y / 9.0F, 3, 1611U) + 0.16F * noise(x * 1.3F, y * 1.1F, 1612U);
            const float body = smooth_step(1.0F, 0.55F, u + rough) * smooth_step(1.0F, 0.55F, v + rough);
            const float halo = std::exp(-1.6F * (u * u + v * v));
            sum += g.strength * (0.75F * body * (1.0F + 0.8F * rough) + 0.30F * halo);
        }
        return sum;
    }

    [[nodiscard]] float lamp(float x, float y) const {
        const float dx = 0.001F * (x - 0.5F * face_width_mm);
        const float dy = 0.001F * (y - 0.5F * face_height_mm);
        return std::max(0.05F, 1.0F + s_.fall_x * dx + s_.fall_y * dy);
    }

    [[nodiscard]] float vignette(int x, int y) const {
        const auto dx = static_cast<float>((x - camera_.lens.centre_x_px) / camera_.lens.focal_px);
        const auto dy = static_cast<float>((y - camera_.lens.centre_y_px) / camera_.lens.focal_px);
        const float cosine2 = 1.0F / (1.0F + dx * dx + dy * dy);  // cos⁴ of the field angle
        return cosine2 * cosine2;
    }

    // A card and the upright box on the face that holds it.
    struct Laid {
        const Card* card;
        float left, top, right, bottom;
    };
    static Laid box_of(const Card& card) {
        Laid laid{&card, 1e9F, 1e9F, -1e9F, -1e9F};
        const SizeMm size = card.size();
        for (const PointMm corner : {PointMm{0, 0}, PointMm{size.width_mm, 0}, PointMm{size.width_mm, size.height_mm},
                                     PointMm{0, size.height_mm}}) {
            const PointMm on_face = card.to_face(corner);
            laid.left = std::min(laid.left, static_cast<float>(on_face.x_mm));
            laid.right = std::max(laid.right, static_cast<float>(on_face.x_mm));
            laid.top = std::min(laid.top, static_cast<float>(on_face.y_mm));
            laid.bottom = std::max(laid.bottom, static_cast<float>(on_face.y_mm));
        }
        return laid;
    }

    const Scene& s_;
    const Camera& camera_;
    std::vector<Laid> laid_;
    float softness_;
    int level_ = 0;
};

}  // namespace

Pyramid::Pyramid(imaging::Raster16 pixels, double px_per_mm, int levels, int threads) : px_per_mm_(px_per_mm) {
    levels_.push_back(std::move(pixels));
    for (int level = 1; level < levels; ++level) levels_.push_back(halved(levels_.back(), threads));
}

int Pyramid::level_for(double mm_per_px) const {
    int level = 0;
    for (double texels = mm_per_px * px_per_mm_; texels > 1.9 && level + 1 < static_cast<int>(levels_.size());
         texels *= 0.5)
        ++level;
    return level;
}

Rgb Pyramid::at(int level, float x_mm, float y_mm) const {
    const imaging::Raster16& pixels = levels_[static_cast<std::size_t>(level)];
    const float scale = static_cast<float>(px_per_mm_) / static_cast<float>(1 << level);
    const float px = std::clamp(x_mm * scale - 0.5F, 0.0F, static_cast<float>(pixels.width_px()) - 1.01F);
    const float py = std::clamp(y_mm * scale - 0.5F, 0.0F, static_cast<float>(pixels.height_px()) - 1.01F);
    const int x = static_cast<int>(px);
    const int y = static_cast<int>(py);
    const float tx = px - static_cast<float>(x);
    const float ty = py - static_cast<float>(y);
    const std::uint16_t* upper = pixels.row(y) + 3 * x;
    const std::uint16_t* lower = pixels.row(y + 1) + 3 * x;
    const float w00 = (1.0F - tx) * (1.0F - ty), w10 = tx * (1.0F - ty), w01 = (1.0F - tx) * ty, w11 = tx * ty;
    const auto channel = [&](int c) {
        return (w00 * static_cast<float>(upper[c]) + w10 * static_cast<float>(upper[c + 3]) +
                w01 * static_cast<float>(lower[c]) + w11 * static_cast<float>(lower[c + 3])) *
               (1.0F / 65535.0F);
    };
    return {channel(0), channel(1), channel(2)};
}

imaging::Raster16 expose(const Scene& scene, const Camera& camera, double softness, int threads) {
    imaging::Raster16 out(camera.size.width_px, camera.size.height_px, 3);
    const Exposure exposure(scene, camera, softness);
    for_bands(camera.size.height_px, 16, threads, [&](int first, int end) { exposure.rows(out, first, end); });
    return out;
}

}  // namespace tedge::painter
