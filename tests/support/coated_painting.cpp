#include "coated_painting.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "painted_pair.hpp"
#include "registration_photos.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

namespace tedge::test_support {
namespace {

using imaging::Raster8;
using imaging::RasterF;

constexpr std::size_t bands = 16;  // 400 to 700 nm
using Spectrum = std::array<double, bands>;

double wavelength_nm(std::size_t band) {
    return 400.0 + 20.0 * static_cast<double>(band);
}

double lobe(double nm, double middle, double below, double above) {
    const double t = (nm - middle) / (nm < middle ? below : above);
    return std::exp(-0.5 * t * t);
}

// What a band of unit reflectance adds to linear red, green and blue; all of them together give (1, 1, 1).
std::array<Spectrum, 3> made_observer() {
    std::array<Spectrum, 3> xyz{};
    for (std::size_t i = 0; i < bands; ++i) {
        const double nm = wavelength_nm(i);
        xyz[0][i] = 1.056 * lobe(nm, 599.8, 37.9, 31.0) + 0.362 * lobe(nm, 442.0, 16.0, 26.7) -
                    0.065 * lobe(nm, 501.1, 20.4, 26.2);
        xyz[1][i] = 0.821 * lobe(nm, 568.8, 46.9, 40.5) + 0.286 * lobe(nm, 530.9, 16.3, 31.1);
        xyz[2][i] = 1.217 * lobe(nm, 437.0, 11.8, 36.0) + 0.681 * lobe(nm, 459.0, 26.0, 13.8);
    }
    const auto& matrix = imaging::linear_srgb_from_xyz_d50();
    const std::array<double, 3> white{imaging::d50_white.x, imaging::d50_white.y, imaging::d50_white.z};
    std::array<Spectrum, 3> rgb{};
    for (std::size_t k = 0; k < 3; ++k) {
        double sum = 0.0;
        for (const double each : xyz[k]) sum += each;
        for (std::size_t c = 0; c < 3; ++c)
            for (std::size_t i = 0; i < bands; ++i) rgb[c][i] += matrix[c][k] * white[k] / sum * xyz[k][i];
    }
    return rgb;
}

const std::array<Spectrum, 3>& observer() {
    static const std::array<Spectrum, 3> made = made_observer();
    return made;
}

// How much of each band red, green and blue paint reflects; together all of it.
std::array<double, 3> paint_in_band(std::size_t band) {
    const double nm = wavelength_nm(band);
    const double red = 1.0 / (1.0 + std::exp((590.0 - nm) / 12.0));
    const double blue = 1.0 / (1.0 + std::exp((nm - 490.0) / 12.0));
    return {red, 1.0 - red - blue, blue};
}

struct Coat {
    Spectrum absorbs{};   // K·X at mean thickness
    Spectrum scatters{};  // S·X
};

Coat coat_of(CoatSort sort) {
    struct Shape {
        double absorbs_at_450;
        double falls_over_nm;
        double scatters_at_550;
    };
    constexpr std::array<Shape, 3> shapes{{{0.40, 60.0, 0.03}, {0.80, 120.0, 0.05}, {0.26, 500.0, 0.11}}};
    const Shape& shape = shapes[static_cast<std::size_t>(sort)];
    Coat coat;
    for (std::size_t i = 0; i < bands; ++i) {
        const double nm = wavelength_nm(i);
        coat.absorbs[i] = shape.absorbs_at_450 * std::exp((450.0 - nm) / shape.falls_over_nm);
        coat.scatters[i] = shape.scatters_at_550 * 550.0 / nm;
    }
    return coat;
}

// R = (1 - Rg·(a - b·coth bSX)) / (a - Rg + b·coth bSX), a = 1 + K/S, b = √(a² - 1).
double seen_through(double paint, double absorbs, double scatters) {
    const double a = 1.0 + absorbs / scatters;
    const double b = std::sqrt(a * a - 1.0);
    const double e = std::exp(-2.0 * b * scatters);
    const double bc = b * (1.0 + e) / (1.0 - e);
    return (1.0 - paint * (a - bc)) / (a - paint + bc);
}

// Linear red, green and blue of paint under so many times the coat.
std::array<double, 3> seen(const std::array<double, 3>& paint, const Coat& coat, double times) {
    static const auto reflects = [] {
        std::array<std::array<double, 3>, bands> each{};
        for (std::size_t i = 0; i < bands; ++i) each[i] = paint_in_band(i);
        return each;
    }();
    std::array<double, 3> rgb{};
    for (std::size_t i = 0; i < bands; ++i) {
        double r = 0.0;
        for (std::size_t c = 0; c < 3; ++c) r += reflects[i][c] * paint[c];
        r = std::clamp(r, 0.012, 0.95);
        if (times > 0.0) r = seen_through(r, times * coat.absorbs[i], times * coat.scatters[i]);
        for (std::size_t c = 0; c < 3; ++c) rgb[c] += observer()[c][i] * r;
    }
    return rgb;
}

// 1 ± variation, over lengths of about the picture's side.
double thickness_at(const CleaningRecipe& recipe, double u, double v) {
    const auto draw = [&](std::uint64_t c) { return counted(recipe.seed, 17, 4, c); };
    const double turn = 2.0 * std::numbers::pi;
    const double angle = turn * draw(0);
    const double per_side = 0.7 + 0.5 * draw(1);
    const double wave = std::sin(turn * per_side * (u * std::cos(angle) + v * std::sin(angle)) + turn * draw(2)) +
                        std::sin(turn * 0.8 * (v * std::cos(angle) - u * std::sin(angle)) + turn * draw(3));
    return 1.0 + recipe.variation * 0.5 * wave;
}

struct Box {
    int left = 0, top = 0, right = 0, bottom = 0;
};

bool meets(const Box& a, const Box& b, int margin) {
    return a.left < b.right + margin && b.left < a.right + margin && a.top < b.bottom + margin &&
           b.top < a.bottom + margin;
}

std::vector<Box> boxes_of(const CleaningRecipe& recipe, SizePx size) {
    std::vector<Box> boxes;
    for (std::uint64_t attempt = 0; boxes.size() < static_cast<std::size_t>(recipe.windows); ++attempt) {
        const auto draw = [&](std::uint64_t c) {
            return counted(recipe.seed, 99, static_cast<std::int64_t>(attempt), c);
        };
        const auto side = [&](std::uint64_t c, int of) {
            const double share = recipe.smallest_window + (recipe.largest_window - recipe.smallest_window) * draw(c);
            return static_cast<int>(std::lround(share * of));
        };
        const int width = side(0, size.width_px);
        const int height = side(1, size.height_px);
        Box box;
        box.left = 4 + static_cast<int>(draw(2) * (size.width_px - width - 8));
        box.top = 4 + static_cast<int>(draw(3) * (size.height_px - height - 8));
        box.right = box.left + width;
        box.bottom = box.top + height;
        if (std::ranges::none_of(boxes, [&](const Box& each) { return meets(each, box, 6); })) boxes.push_back(box);
    }
    return boxes;
}

Raster8 labels_of(const std::vector<Box>& boxes, SizePx size) {
    Raster8 labels(size.width_px, size.height_px, 1);
    for (std::size_t i = 0; i < boxes.size(); ++i)
        for (int y = boxes[i].top; y < boxes[i].bottom; ++y)
            for (int x = boxes[i].left; x < boxes[i].right; ++x) labels.at(x, y) = static_cast<std::uint8_t>(i + 1);
    return labels;
}

double normal(std::uint64_t seed, int x, int y, int c) {
    const auto channel = static_cast<std::uint64_t>(2 * c);
    const double radius = std::sqrt(-2.0 * std::log(1.0 - counted(seed, x, y, channel)));
    return radius * std::cos(2.0 * std::numbers::pi * counted(seed, x, y, channel + 1));
}

Raster8 rounded(const RasterF& light) {
    Raster8 picture(light.width_px(), light.height_px(), 3);
    for (std::size_t i = 0; i < light.samples().size(); ++i) {
        const double encoded = imaging::srgb_encoded(static_cast<double>(light.samples()[i]));
        picture.samples()[i] = static_cast<std::uint8_t>(std::lround(255.0 * std::clamp(encoded, 0.0, 1.0)));
    }
    return picture;
}

// Photons counted one by one, six electrons of the amplifier, then a JPEG file of quality 92.
Raster8 taken(RasterF light, double at_white, std::uint64_t seed) {
    for (int y = 0; y < light.height_px(); ++y)
        for (int x = 0; x < light.width_px(); ++x)
            for (int c = 0; c < 3; ++c) {
                const double electrons = at_white * std::max(0.0, static_cast<double>(light.at(x, y, c)));
                const double noise = std::sqrt(electrons + 36.0) * normal(seed, x, y, c);
                light.at(x, y, c) = static_cast<float>(std::max(0.0, electrons + noise) / at_white);
            }
    const TemporaryFolder folder;
    const auto file = folder.path() / "taken.jpg";
    imaging::write_picture(file, rounded(light), imaging::PictureFormat::jpeg, {.jpeg_quality = 92}).value();
    return photo(file);
}

Raster8 shifted(const Raster8& picture, double by_px, std::uint64_t seed) {
    if (by_px == 0.0) return picture;
    const double angle = 2.0 * std::numbers::pi * counted(seed, 3, 3);
    imaging::PixelMap map;
    map.homography =
        Homography::from_row_major({1, 0, by_px * std::cos(angle), 0, 1, by_px * std::sin(angle), 0, 0, 1}).value();
    return imaging::resample(picture, map, picture.size()).value();
}

// The light that comes from the painting where it is coated, and where it is not.
class Easel {
public:
    Easel(const CleaningRecipe& recipe, SizePx size) : recipe_(recipe), size_(size), coat_(coat_of(recipe.sort)) {}

    template <class Bare>
    [[nodiscard]] RasterF light(const Raster8& painting, const Bare& is_bare) const {
        RasterF out(size_.width_px, size_.height_px, 3);
        for (int y = 0; y < size_.height_px; ++y)
            for (int x = 0; x < size_.width_px; ++x) {
                std::array<double, 3> paint{};
                for (int c = 0; c < 3; ++c)
                    paint[static_cast<std::size_t>(c)] = imaging::srgb_decoded(painting.at(x, y, c) / 255.0);
                const double times = is_bare(x, y) ? 0.0
                                                   : thickness_at(recipe_, static_cast<double>(x) / size_.width_px,
                                                                  static_cast<double>(y) / size_.height_px);
                const auto rgb = seen(paint, coat_, times);
                for (int c = 0; c < 3; ++c) out.at(x, y, c) = static_cast<float>(rgb[static_cast<std::size_t>(c)]);
            }
        return out;
    }

private:
    CleaningRecipe recipe_;
    SizePx size_;
    Coat coat_;
};

}  // namespace

CleaningPair cleaning_pair(const Raster8& painting, const CleaningRecipe& recipe) {
    const SizePx size = painting.size();
    const Easel easel(recipe, size);
    CleaningPair pair;
    pair.windows = labels_of(boxes_of(recipe, size), size);
    const auto never = [](int, int) { return false; };
    const auto always = [](int, int) { return true; };
    // One in about fifty squares of three pixels keeps its dirt.
    const auto in_window = [&](int x, int y) {
        return pair.windows.at(x, y) != 0 && counted(recipe.seed, x / 3, y / 3, 50) > 0.02;
    };
    const auto photographed = [&](RasterF light, std::uint64_t seed) {
        return recipe.electrons > 0.0 ? taken(std::move(light), recipe.electrons, seed) : rounded(light);
    };
    pair.cleaned = rounded(easel.light(painting, always));
    pair.uncleaned = photographed(easel.light(painting, never), 5);
    pair.with_windows = photographed(easel.light(shifted(painting, recipe.registration_px, recipe.seed), in_window), 6);
    return pair;
}

Raster8 invented_painting(int width_px, int height_px, std::uint64_t seed) {
    // The finest are six pixels broad or more: photographs show strokes of the brush so, and finer ones are threads.
    const double stroke = std::max(50.0, (0.06 + 0.12 * counted(seed, 1, 1)) * width_px);
    const double tone = 0.7 + 1.0 * counted(seed, 1, 2);    // above 1 is a dark painting
    const double colour = 0.8 + 1.2 * counted(seed, 1, 3);  // how strong its colours are
    const PaintedScene scene{seed, stroke, 3};
    Raster8 picture(width_px, height_px, 3);
    for (int y = 0; y < height_px; ++y)
        for (int x = 0; x < width_px; ++x) {
            const auto rgb = scene.colour({static_cast<double>(x), static_cast<double>(y)});
            const double gray = (rgb[0] + rgb[1] + rgb[2]) / 3.0;
            for (int c = 0; c < 3; ++c) {
                const double strong = gray + colour * (rgb[static_cast<std::size_t>(c)] - gray);
                const double toned = std::pow(std::clamp(strong, 0.01, 0.98), tone);
                picture.at(x, y, c) = static_cast<std::uint8_t>(std::lround(255.0 * toned));
            }
        }
    return picture;
}

}  // namespace tedge::test_support
