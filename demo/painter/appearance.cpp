#include "appearance.hpp"

#include <algorithm>
#include <cmath>

#include "noise.hpp"
#include "parallel.hpp"

namespace tedge::painter {
namespace {

constexpr float raking_angle_rad = 0.16F;  // 9 degrees above the face

struct Palette {
    Rgb ground = from_srgb(0xa68c66);
    Rgb canvas = from_srgb(0x77633f);
    Rgb filler = from_srgb(0xe2dac8);
    Rgb crack_dirt = from_srgb(0x1c1611);
    Rgb tissue = from_srgb(0xe9e4d8);
};

bool has_facing(Stage stage) {
    return stage == Stage::faced;
}
bool is_lined(Stage stage) {
    return stage >= Stage::lined;
}
bool is_filled(Stage stage) {
    return stage >= Stage::filled;
}
bool is_retouched(Stage stage) {
    return stage == Stage::varnished;
}

// Everything about one sample that the stage decides, gathered before the light falls on it.
struct Sample {
    Rgb paint;
    float infrared, glow;
    float crack, ground, bare, overpaint;
    float drawing;
    float varnish_um, dirt_um, cloud, fresh_um;
    float tissue;
    float x, y;
};

class View {
public:
    View(const Surface& surface, Stage stage, Light light) : s_(surface), stage_(stage), light_(light) {}

    void rows(imaging::Raster16& out, int first, int end) const {
        const auto width = static_cast<std::size_t>(s_.grid.width_px);
        std::vector<float> above(width);
        std::vector<float> here(width);
        heights(std::max(0, first - 1), above);
        for (int y = first; y < end; ++y) {
            heights(y, here);
            for (int x = 0; x < s_.grid.width_px; ++x) {
                const auto i = static_cast<std::size_t>(x);
                const auto scale = static_cast<float>(s_.grid.px_per_mm) * 0.001F;  // µm per sample to mm per mm
                const float slope_x = (here[i] - here[i > 0 ? i - 1 : 0]) * scale;
                const float slope_y = (here[i] - above[i]) * scale;
                const Rgb seen = lit(sample(x, y), slope_x, slope_y);
                std::uint16_t* c = &out.at(x, y);
                c[0] = to_share(seen.r);
                c[1] = to_share(seen.g);
                c[2] = to_share(seen.b);
            }
            std::swap(above, here);
        }
    }

private:
    // Height of the outermost surface in µm along a row.
    void heights(int y, std::vector<float>& row) const {
        const float y_mm = s_.grid.mm(y);
        const float flat = is_lined(stage_) ? 0.12F : 1.0F;
        const float laid = is_lined(stage_) ? 0.35F : 1.0F;
        const float weave = is_lined(stage_) ? 20.0F : 16.0F;
        for (int x = 0; x < s_.grid.width_px; ++x) {
            const float x_mm = s_.grid.mm(x);
            const float ground = s_.ground_shows.at(x, y);
            const float bare = s_.canvas_shows.at(x, y);
            const float open = is_filled(stage_) ? 0.0F : std::max(ground, bare);
            const float crown = static_cast<float>(s_.weave_height.at(x, y)) * (1.0F / 255.0F);
            float h = s_.paint.height_um.at(x, y) * (1.0F - std::max(ground, bare));
            h += weave * (1.0F + (is_filled(stage_) ? 0.0F : 3.0F * bare)) * crown;
            h += laid * s_.lift_um.at(x_mm, y_mm) * (1.0F + 2.6F * s_.loose.at(x_mm, y_mm)) * (1.0F - open);
            h -= 26.0F * s_.crack_cover.at(x, y) * laid + 45.0F * open + (is_filled(stage_) ? 0.0F : 60.0F * bare);
            row[static_cast<std::size_t>(x)] = h + flat * s_.bulge_um.at(x_mm, y_mm);
        }
    }

    [[nodiscard]] Sample sample(int x, int y) const {
        Sample p{};
        p.x = s_.grid.mm(x);
        p.y = s_.grid.mm(y);
        const Cover cover = cover_at(s_.damage, stage_, p.x, p.y);
        const std::uint16_t* c = &s_.paint.reflectance.at(x, y);
        p.paint = {from_share(c[0]), from_share(c[1]), from_share(c[2])};
        p.infrared = from_share(s_.paint.infrared.at(x, y));
        p.glow = from_share(s_.paint.fluorescence.at(x, y));
        p.crack = s_.crack_cover.at(x, y) * (cover.dirt_left > 0.5F ? 0.92F : 0.70F);
        p.ground = s_.ground_shows.at(x, y);
        p.bare = s_.canvas_shows.at(x, y);
        p.overpaint = s_.overpaint.at(x, y) * cover.overpaint_left;
        p.drawing = s_.drawing.at(x, y) * std::exp(-std::max(0.0F, s_.paint.height_um.at(x, y)) * (1.0F / 55.0F));
        p.varnish_um = s_.varnish_um.at(p.x, p.y) * cover.varnish_left;
        p.dirt_um = s_.dirt_um.at(p.x, p.y) * cover.dirt_left;
        p.cloud = s_.cloud.at(p.x, p.y) * cover.varnish_left;
        p.fresh_um = stage_ == Stage::varnished ? 14.0F : 0.0F;
        p.tissue = has_facing(stage_) ? tissue_at(p.x, p.y) : 0.0F;
        mend(p, static_cast<float>(s_.weave_height.at(x, y)) * (1.0F / 255.0F));
        return p;
    }

    // Losses as they stand at this stage: open, filled, or retouched to match.
    void mend(Sample& p, float crown) const {
        const float open = std::max(p.ground, p.bare) * (1.0F - p.overpaint);
        if (is_retouched(stage_)) {
            const float dots = open > 0.0F ? 1.0F + 0.035F * noise(p.x * 2.1F, p.y * 2.1F, 1101U) : 1.0F;
            p.paint = mix(p.paint, p.paint * dots, open);
            p.glow *= 1.0F - 0.85F * open;
            p.crack *= 1.0F - 0.6F * open;
        } else if (is_filled(stage_)) {
            p.paint = mix(p.paint, palette_.filler * (0.97F + 0.03F * crown), open);
            p.infrared = mix(p.infrared, 0.82F, open);
            p.glow = mix(p.glow, 0.22F, open);
            p.crack *= 1.0F - open;
        } else {
            const float grime = stage_ < Stage::cleaned ? 0.62F : 0.85F;  // dirt lies deep in an open loss
            p.paint = mix(p.paint, palette_.ground * (grime * (0.88F + 0.16F * crown)), p.ground);
            p.paint = mix(p.paint, palette_.canvas * (grime * (0.55F + 0.5F * crown)), p.bare);
            p.infrared = mix(mix(p.infrared, 0.62F, p.ground), 0.4F, p.bare);
            p.glow = mix(p.glow, 0.1F, open);
            p.crack *= 1.0F - 0.8F * open;
        }
        p.paint = mix(p.paint, palette_.crack_dirt, p.crack);
        if (p.overpaint > 0.0F) {
            // Matched once, since gone grey and dark.
            const float brushed = 1.0F + 0.10F * noise(p.x * 0.9F, p.y * 0.16F, 1102U);
            const Rgb matched{s_.broad_red.at(p.x, p.y), s_.broad_green.at(p.x, p.y), s_.broad_blue.at(p.x, p.y)};
            p.paint = mix(p.paint, mix(matched, grey(luminance(matched)), 0.35F) * (0.64F * brushed), p.overpaint);
            p.infrared = mix(p.infrared, 0.30F * brushed, p.overpaint);
        }
        if (is_retouched(stage_)) return;
        // Bare dry paint scatters a little at its surface; a coating wets it and deepens the darks.
        const float dry = std::max(0.0F, 1.0F - p.varnish_um * 0.12F);
        p.paint = p.paint * (1.0F - 0.02F * dry) + grey(0.011F * dry);
    }

    // A tissue with torn edges and long fibres, wet through with its adhesive and dried.
    [[nodiscard]] float tissue_at(float x, float y) const {
        float most = 0.0F;
        for (const Line& paper : s_.damage.facing_papers) {
            const auto left = static_cast<float>(paper[0].x_mm), top = static_cast<float>(paper[0].y_mm);
            const auto right = static_cast<float>(paper[2].x_mm), bottom = static_cast<float>(paper[2].y_mm);
            if (x < left - 2.0F || x > right + 2.0F || y < top - 2.0F || y > bottom + 2.0F) continue;
            const float torn = 0.9F * fractal(x / 2.3F, y / 2.3F, 3, 1111U);
            const float depth = std::min(std::min(x - left, right - x), std::min(y - top, bottom - y)) + torn;
            if (depth < 0.0F) continue;
            const float fibre = fractal(x * 0.35F + y * 1.9F, y * 0.35F - x * 0.6F, 3, 1112U) +
                                0.6F * fractal(x * 1.7F, y * 0.4F, 2, 1113U);
            most = std::max(most * 1.15F, clamp01(0.42F + 0.16F * fibre) * smooth_step(0.0F, 0.5F, depth));
        }
        return clamp01(most);
    }

    [[nodiscard]] Rgb lit(const Sample& p, float slope_x, float slope_y) const {
        switch (light_) {
            case Light::normal: {
                // Two lamps at 45 degrees, the left one nearer, both a little above.
                const float shade = 1.0F + 0.20F * slope_x + 0.16F * slope_y;
                return through_coatings(p, std::clamp(shade, 0.75F, 1.25F));
            }
            case Light::raking: {
                const float sine = std::sin(raking_angle_rad);
                const float cosine = std::cos(raking_angle_rad);
                const float norm = 1.0F / std::sqrt(1.0F + slope_x * slope_x + slope_y * slope_y);
                const float facing = std::max(0.0F, (sine + cosine * (slope_x + 0.12F * slope_y)) * norm) / sine;
                const float fall = 470.0F / (240.0F + p.x);
                return through_coatings(p, 0.80F * fall * (0.05F + std::min(facing, 2.8F)));
            }
            case Light::ultraviolet:
                return under_the_lamp(p);
            case Light::infrared: {
                float value = p.infrared * (1.0F - 0.72F * p.drawing * (1.0F - p.overpaint)) * (1.0F - 0.45F * p.crack);
                value *= std::exp(-0.014F * p.dirt_um);
                value = mix(value, 0.8F, 0.7F * p.tissue);
                return grey(value * value * 1.25F * std::clamp(1.0F + 0.16F * slope_x, 0.75F, 1.25F));
            }
        }
        return {};
    }

    [[nodiscard]] Rgb through_coatings(const Sample& p, float shade) const {
        Rgb seen = seen_through(p.paint * shade, aged_, p.varnish_um, p.cloud);
        if (p.fresh_um > 0.0F) seen = seen_through(seen, fresh_, p.fresh_um, 0.0F);
        seen = seen_through(seen, dirt_, p.dirt_um, std::min(0.10F, 0.006F * p.dirt_um));
        if (p.tissue > 0.0F) seen = mix(seen, palette_.tissue * (shade * 0.92F), p.tissue);
        return seen;
    }

    // Aged resin glows greenish, more the thicker it lies; later paint on it stays dark; a little of the lamp's own
    // violet is thrown back.
    [[nodiscard]] Rgb under_the_lamp(const Sample& p) const {
        const float sweep = noise((p.x + 0.35F * p.y) / 120.0F, (p.y - 0.2F * p.x) / 11.0F, 1121U);
        const float brushed = 1.0F + 0.10F * sweep + 0.30F * fractal(p.x / 48.0F, p.y / 36.0F, 4, 1122U);
        const float resin = 1.0F - std::exp(-p.varnish_um / 34.0F);
        const Rgb varnish = Rgb{0.070F, 0.150F, 0.098F} * (resin * brushed);
        const float reached = std::exp(-0.045F * p.varnish_um);
        const Rgb paint = Rgb{0.92F, 0.98F, 1.0F} * (p.glow * 1.9F * reached * (1.0F - 0.8F * p.crack));
        const Rgb leak = Rgb{0.012F, 0.006F, 0.040F} * (0.25F + p.paint.b);
        const float milky = 6.0F * p.cloud;
        Rgb glow = (varnish * (1.0F - 0.5F * p.crack) + paint) * (1.0F - 0.84F * p.overpaint) +
                   Rgb{0.02F, 0.035F, 0.04F} * milky + leak;
        glow = glow * std::exp(-0.05F * p.dirt_um);
        return mix(glow, {0.17F, 0.19F, 0.25F}, 0.8F * p.tissue);
    }

    const Surface& s_;
    Stage stage_;
    Light light_;
    Palette palette_;
    DoublePassage aged_{aged_varnish};
    DoublePassage fresh_{fresh_varnish};
    DoublePassage dirt_{surface_dirt};
};

bool in_box(const Line& box, float x, float y) {
    return x >= static_cast<float>(box[0].x_mm) && x <= static_cast<float>(box[2].x_mm) &&
           y >= static_cast<float>(box[0].y_mm) && y <= static_cast<float>(box[2].y_mm);
}

// Swabs leave an edge that is not ruled: the boundary wanders a little and is soft over a millimetre.
float swabbed(float signed_distance_mm, float x, float y) {
    return smooth_step(-0.6F, 0.8F, signed_distance_mm + 0.5F * fractal(x / 1.8F, y / 1.8F, 2, 1131U));
}

float depth_in_box(const Line& box, float x, float y) {
    return std::min(std::min(x - static_cast<float>(box[0].x_mm), static_cast<float>(box[2].x_mm) - x),
                    std::min(y - static_cast<float>(box[0].y_mm), static_cast<float>(box[2].y_mm) - y));
}

Cover half_cleaned(const Damage& damage, float x, float y) {
    const auto at = static_cast<std::size_t>(
        std::clamp((y + 1.0F) / 4.0F, 0.0F, static_cast<float>(damage.cleaned_half.size() - 4)));
    const PointMm& upper = damage.cleaned_half[at];
    const PointMm& lower = damage.cleaned_half[at + 1];
    const float t = clamp01((y - static_cast<float>(upper.y_mm)) / 4.0F);
    float cleaned = swabbed(x - mix(static_cast<float>(upper.x_mm), static_cast<float>(lower.x_mm), t), x, y);
    cleaned *= 1.0F - swabbed(depth_in_box(damage.witness, x, y), x, y);
    const float residue = 0.03F + 0.05F * clamp01(fractal(x / 20.0F, y / 14.0F, 3, 1141U));
    return {1.0F - cleaned * (1.0F - residue), 1.0F - cleaned, 1.0F - cleaned};
}

}  // namespace

Cover cover_at(const Damage& damage, Stage stage, float x, float y) {
    switch (stage) {
        case Stage::received:
        case Stage::faced:
            return {};
        case Stage::trials:
            for (const TrialWindow& trial : damage.trials)
                if (in_box(trial.outline, x, y)) {
                    const float done = swabbed(depth_in_box(trial.outline, x, y), x, y);
                    return {mix(1.0F, static_cast<float>(trial.varnish_left), done),
                            mix(1.0F, static_cast<float>(trial.dirt_left), done), 1.0F};
                }
            return {};
        case Stage::half_cleaned:
            return half_cleaned(damage, x, y);
        default:
            return {0.025F, 0.0F, 0.0F};
    }
}

imaging::Raster16 appearance(const Surface& surface, Stage stage, Light light, int threads) {
    imaging::Raster16 out(surface.grid.width_px, surface.grid.height_px, 3);
    const View view(surface, stage, light);
    for_bands(surface.grid.height_px, 16, threads, [&](int first, int end) { view.rows(out, first, end); });
    return out;
}

}  // namespace tedge::painter
