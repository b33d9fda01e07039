#include "brush.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "noise.hpp"
#include "parallel.hpp"
#include "random.hpp"

namespace tedge::painter {
namespace {

constexpr int band_rows = 32;

// The print of a brush: across it the bristles, along it how they run dry. 256 × 256, used at any offset.
class BristlePattern {
public:
    BristlePattern() : values_(side * side) {
        for (std::size_t across = 0; across < side; ++across)
            for (std::size_t along = 0; along < side; ++along) {
                const float a = static_cast<float>(across);
                const float s = static_cast<float>(along);
                const float fine = noise(a * 0.31F, s * 0.035F, 11U);
                const float coarse = noise(a * 0.083F, s * 0.02F, 12U);
                values_[across * side + along] = clamp01(0.5F + 0.45F * fine + 0.4F * coarse);
            }
    }
    [[nodiscard]] float at(std::uint32_t across, std::uint32_t along) const {
        return values_[(across & 255U) * side + (along & 255U)];
    }

private:
    static constexpr std::size_t side = 256;
    std::vector<float> values_;
};

const BristlePattern& bristle_pattern() {
    static const BristlePattern pattern;
    return pattern;
}

struct Film {
    Rgb colour;
    float infrared;
    float fluorescence;
    float height_um;
};

struct StrokeFrame {
    const Stroke& stroke;
    float cosine, sine, half_length, half_width, reach_along, reach_across, bend_factor;

    explicit StrokeFrame(const Stroke& s)
        : stroke(s),
          cosine(std::cos(s.angle_rad)),
          sine(std::sin(s.angle_rad)),
          half_length(0.5F * s.length_mm),
          half_width(0.5F * s.width_mm),
          reach_along(half_length),
          reach_across(half_width + std::fabs(s.bend_mm)),
          bend_factor(s.bend_mm / std::max(half_length * half_length, 1e-6F)) {}

    [[nodiscard]] float half_height() const { return std::fabs(sine) * reach_along + std::fabs(cosine) * reach_across; }
};

// The stretch of x (from the stroke's middle) where |a x + b| <= reach, cut into [low, high].
void narrow(float a, float b, float reach, float& low, float& high) {
    if (std::fabs(a) < 1e-4F) return;
    const float first = (-reach - b) / a;
    const float last = (reach - b) / a;
    low = std::max(low, std::min(first, last));
    high = std::min(high, std::max(first, last));
}

void touch(Film& film, const StrokeFrame& f, float along, float across, const BristlePattern& pattern) {
    const Stroke& s = f.stroke;
    const float bent = across - f.bend_factor * along * along;
    const float run = 0.5F + 0.5F * along / f.half_length;  // 0 where the brush was set down, 1 where it was lifted
    const float end = std::min(1.0F, 4.0F * std::min(run + 0.06F, 1.0F - run));
    const float width = f.half_width * std::sqrt(std::max(end, 0.02F));
    const float aside = std::fabs(bent) / width;
    if (aside >= 1.2F) return;
    const auto row = static_cast<std::uint32_t>(static_cast<std::int32_t>(bent * 14.0F) + 512) + s.bristles;
    const auto column = static_cast<std::uint32_t>(static_cast<std::int32_t>(along * 4.0F) + 2048) + (s.bristles >> 8U);
    const float streak = pattern.at(row, column);
    const float edge = clamp01((1.0F - aside + 0.35F * (streak - 0.5F)) * 4.0F);
    const float wet = clamp01((streak - s.dryness * (0.25F + 0.75F * run)) * 4.0F + 0.6F);
    const float cover = s.load * edge * wet;
    if (cover <= 0.004F) return;
    const float other = clamp01(pattern.at(row + 97U, column + 31U) * 1.6F - 0.45F);
    film.colour = mix(film.colour, mix(s.paint.colour, s.second, other), cover);
    film.infrared = mix(film.infrared, s.paint.infrared, cover * 0.8F);
    film.fluorescence = mix(film.fluorescence, s.paint.fluorescence, cover);
    const float ridge = clamp01(1.0F - 6.0F * std::fabs(aside - 0.85F));
    const float left = film.height_um * 0.55F + s.body_um * (0.35F + 0.8F * streak + 0.35F * ridge);
    film.height_um = mix(film.height_um, left, cover);
}

class Band {
public:
    Band(PaintLayers& layers, int first, int end) : layers_(layers), grid_(layers.grid), first_(first), end_(end) {
        films_.resize(static_cast<std::size_t>(end - first) * static_cast<std::size_t>(grid_.width_px));
        for_samples([this](Film& film, int x, int y) {
            const std::uint16_t* c = &layers_.reflectance.at(x, y);
            film = {{from_share(c[0]), from_share(c[1]), from_share(c[2])},
                    from_share(layers_.infrared.at(x, y)),
                    from_share(layers_.fluorescence.at(x, y)),
                    layers_.height_um.at(x, y)};
        });
    }

    void lay(const Stroke& stroke) {
        const StrokeFrame f(stroke);
        const auto scale = static_cast<float>(grid_.px_per_mm);
        const float half_height = f.half_height();
        const int top = std::max(first_, static_cast<int>(std::floor((stroke.y_mm - half_height) * scale)));
        const int bottom = std::min(end_ - 1, static_cast<int>(std::ceil((stroke.y_mm + half_height) * scale)));
        for (int y = top; y <= bottom; ++y) lay_row(f, y, scale);
    }

    void keep() {
        for_samples([this](const Film& film, int x, int y) {
            std::uint16_t* c = &layers_.reflectance.at(x, y);
            c[0] = to_share(film.colour.r);
            c[1] = to_share(film.colour.g);
            c[2] = to_share(film.colour.b);
            layers_.infrared.at(x, y) = to_share(film.infrared);
            layers_.fluorescence.at(x, y) = to_share(film.fluorescence);
            layers_.height_um.at(x, y) = film.height_um;
        });
    }

private:
    template <class Visit>
    void for_samples(const Visit& visit) {
        std::size_t i = 0;
        for (int y = first_; y < end_; ++y)
            for (int x = 0; x < grid_.width_px; ++x) visit(films_[i++], x, y);
    }

    void lay_row(const StrokeFrame& f, int y, float scale) {
        const float dy = grid_.mm(y) - f.stroke.y_mm;
        float low = -1e9F;
        float high = 1e9F;
        narrow(f.cosine, f.sine * dy, f.reach_along, low, high);
        narrow(-f.sine, f.cosine * dy, f.reach_across, low, high);
        const int from = std::max(0, static_cast<int>(std::ceil((f.stroke.x_mm + low) * scale - 0.5F)));
        const int to =
            std::min(grid_.width_px - 1, static_cast<int>(std::floor((f.stroke.x_mm + high) * scale - 0.5F)));
        Film* row = films_.data() + static_cast<std::size_t>(y - first_) * static_cast<std::size_t>(grid_.width_px);
        const BristlePattern& pattern = bristle_pattern();
        for (int x = from; x <= to; ++x) {
            const float dx = grid_.mm(x) - f.stroke.x_mm;
            touch(row[x], f, dx * f.cosine + dy * f.sine, dy * f.cosine - dx * f.sine, pattern);
        }
    }

    PaintLayers& layers_;
    const Grid& grid_;
    int first_;
    int end_;
    std::vector<Film> films_;
};

// For each band of rows the strokes that reach into it, in order.
std::vector<std::vector<std::uint32_t>> sorted_into_bands(const Strokes& strokes, const Grid& grid) {
    const int bands = (grid.height_px + band_rows - 1) / band_rows;
    std::vector<std::vector<std::uint32_t>> reached(static_cast<std::size_t>(bands));
    const auto band_of = [&](float y_mm) {
        return static_cast<int>(std::floor(static_cast<double>(y_mm) * grid.px_per_mm / band_rows));
    };
    for (std::uint32_t i = 0; i < strokes.size(); ++i) {
        const float half = StrokeFrame(strokes[i]).half_height() + 1.0F;
        const int last = std::min(bands - 1, band_of(strokes[i].y_mm + half));
        for (int band = std::max(0, band_of(strokes[i].y_mm - half)); band <= last; ++band)
            reached[static_cast<std::size_t>(band)].push_back(i);
    }
    return reached;
}

}  // namespace

Paint mixed(Rgb colour, Body body) {
    const float light = luminance(colour);
    switch (body) {
        case Body::lead_white:
            return {colour, clamp01(0.25F + 0.7F * light), 0.06F + 0.22F * light};
        case Body::earth:
            return {colour, clamp01(0.16F + 0.85F * light), 0.03F};
        case Body::green:
            return {colour, clamp01(0.24F + 0.95F * light), 0.02F};
        case Body::carbon_black:
            return {colour, 0.05F, 0.01F};
        case Body::smalt:
            return {colour, clamp01(0.40F + 0.55F * light), 0.05F + 0.12F * light};
        case Body::red:
            return {colour, clamp01(0.45F + 0.5F * light), 0.06F};
    }
    return {colour, 0.5F, 0.05F};
}

std::vector<Spot> scatter(float left, float top, float right, float bottom, float spacing_mm, std::uint32_t seed) {
    const int columns = std::max(1, static_cast<int>((right - left) / spacing_mm));
    const int rows = std::max(1, static_cast<int>((bottom - top) / spacing_mm));
    struct Keyed {
        std::uint32_t key;
        Spot spot;
    };
    std::vector<Keyed> keyed;
    keyed.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            const Words words = pcg3d(static_cast<std::uint32_t>(column), static_cast<std::uint32_t>(row), seed);
            keyed.push_back({words[2],
                             {left + (static_cast<float>(column) + unit(words[0])) * spacing_mm,
                              top + (static_cast<float>(row) + unit(words[1])) * spacing_mm}});
        }
    std::stable_sort(keyed.begin(), keyed.end(), [](const Keyed& a, const Keyed& b) { return a.key < b.key; });
    std::vector<Spot> spots;
    spots.reserve(keyed.size());
    for (const Keyed& k : keyed) spots.push_back(k.spot);
    return spots;
}

void lay(const Strokes& strokes, PaintLayers& layers, int threads) {
    const auto reached = sorted_into_bands(strokes, layers.grid);
    for_bands(layers.grid.height_px, band_rows, threads, [&](int first, int end) {
        Band band(layers, first, end);
        for (const std::uint32_t i : reached[static_cast<std::size_t>(first / band_rows)]) band.lay(strokes[i]);
        band.keep();
    });
}

void prime(PaintLayers& layers, Rgb ground, int threads) {
    const Grid& grid = layers.grid;
    for_bands(grid.height_px, band_rows, threads, [&](int first, int end) {
        for (int y = first; y < end; ++y)
            for (int x = 0; x < grid.width_px; ++x) {
                const float sweep = noise(grid.mm(x) * 0.01F, grid.mm(y) * 0.25F, 21U);
                const Rgb c = ground * (1.0F + 0.05F * sweep);
                std::uint16_t* out = &layers.reflectance.at(x, y);
                out[0] = to_share(c.r);
                out[1] = to_share(c.g);
                out[2] = to_share(c.b);
                layers.infrared.at(x, y) = to_share(0.62F + 0.03F * sweep);
                layers.fluorescence.at(x, y) = to_share(0.08F);
                layers.height_um.at(x, y) = 4.0F * sweep;
            }
    });
}

}  // namespace tedge::painter
