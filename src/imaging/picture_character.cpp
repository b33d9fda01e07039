#include "tedge/imaging/picture_character.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {

namespace {

struct LabPicture {
    int width = 0;
    int height = 0;
    std::vector<Lab> pixels{};
    [[nodiscard]] const Lab& at(int x, int y) const {
        return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
};

LabPicture lab_of(const Raster8& srgb) {
    LabPicture lab{srgb.width_px(), srgb.height_px()};
    lab.pixels.reserve(static_cast<std::size_t>(lab.width) * static_cast<std::size_t>(lab.height));
    for (int y = 0; y < lab.height; ++y)
        for (int x = 0; x < lab.width; ++x)
            lab.pixels.push_back(lab_from_srgb8(srgb.at(x, y, 0), srgb.at(x, y, 1), srgb.at(x, y, 2)));
    return lab;
}

double chroma_of(const Lab& lab) {
    return std::hypot(lab.a, lab.b);
}

double hue_of(const Lab& lab) {
    const double hue = std::atan2(lab.b, lab.a) * 180.0 / std::numbers::pi;
    return hue < -20.0 ? hue + 360.0 : hue;
}

bool is_warm(const Lab& lab) {
    return chroma_of(lab) > 8.0 && hue_of(lab) <= 110.0;
}

bool is_cool(const Lab& lab) {
    return chroma_of(lab) > 3.0 && hue_of(lab) >= 140.0 && hue_of(lab) <= 325.0;
}

bool is_ochre(const Lab& lab) {
    const double chroma = chroma_of(lab);
    return chroma >= 8.0 && chroma <= 45.0 && hue_of(lab) >= 55.0 && hue_of(lab) <= 95.0;
}

bool is_colourless(const Lab& lab) {
    return chroma_of(lab) < 3.0;
}

bool is_black(const Lab& lab) {
    return lab.l < 10.0;
}

template <class Test>
double share(const LabPicture& lab, const Test& test) {
    return static_cast<double>(std::ranges::count_if(lab.pixels, test)) / static_cast<double>(lab.pixels.size());
}

void add_colour(const LabPicture& lab, PictureCharacter& out) {
    const auto count = static_cast<double>(lab.pixels.size());
    for (const Lab& pixel : lab.pixels) {
        out.mean_lightness += pixel.l / count;
        out.mean_chroma += chroma_of(pixel) / count;
        out.mean_a += pixel.a / count;
        out.mean_b += pixel.b / count;
    }
    double lightness = 0.0;
    double colour = 0.0;
    for (const Lab& pixel : lab.pixels) {
        lightness += std::pow(pixel.l - out.mean_lightness, 2) / count;
        colour += (std::pow(pixel.a - out.mean_a, 2) + std::pow(pixel.b - out.mean_b, 2)) / count;
    }
    out.lightness_spread = std::sqrt(lightness);
    out.colour_spread = std::sqrt(colour);
}

void add_ochre(const LabPicture& lab, PictureCharacter& out) {
    double count = 0.0, mean = 0.0, square = 0.0;
    for (const Lab& pixel : lab.pixels) {
        if (!is_ochre(pixel)) continue;
        count += 1.0;
        mean += pixel.l;
        square += pixel.l * pixel.l;
    }
    const double coloured = (1.0 - out.colourless_share) * static_cast<double>(lab.pixels.size());
    if (count < 1.0 || coloured < 1.0) return;
    out.ochre_share = count / coloured;
    out.ochre_lightness_spread = std::sqrt(std::max(0.0, square / count - (mean / count) * (mean / count)));
}

void add_shares(const LabPicture& lab, PictureCharacter& out) {
    out.colourless_share = share(lab, is_colourless);
    out.black_share = share(lab, is_black);
    out.bright_share = share(lab, [](const Lab& pixel) { return pixel.l > 70.0; });
    add_ochre(lab, out);
    const double seen = 1.0 - out.black_share;
    if (seen < 0.02) return;
    out.cool_share = share(lab, [](const Lab& pixel) { return !is_black(pixel) && is_cool(pixel); }) / seen;
    out.warm_share = share(lab, [](const Lab& pixel) { return !is_black(pixel) && is_warm(pixel); }) / seen;
}

// Coarse light: means of a grid of cells, so that what is painted counts less than how it is lit.
constexpr int cells = 12;

struct LitCell {
    double x = 0.0;  // from -0.5 to 0.5 across the picture
    double y = 0.0;
    double log_light = 0.0;
};

template <class Test>
std::vector<LitCell> lit_cells(const LabPicture& lab, const Test& counts) {
    std::vector<double> sum(cells * cells, 0.0);
    std::vector<int> counted(cells * cells, 0);
    for (int y = 0; y < lab.height; ++y)
        for (int x = 0; x < lab.width; ++x) {
            if (!counts(lab.at(x, y))) continue;
            const auto cell = static_cast<std::size_t>((y * cells / lab.height) * cells + x * cells / lab.width);
            sum[cell] += xyz_from_lab(lab.at(x, y)).y;
            ++counted[cell];
        }
    const int enough = std::max(1, lab.width * lab.height / (cells * cells * 3));
    std::vector<LitCell> lit;
    for (std::size_t i = 0; i < sum.size(); ++i) {
        if (counted[i] < enough) continue;
        const double x = static_cast<double>(i % cells) + 0.5;
        const double y = static_cast<double>(i / cells) + 0.5;
        lit.push_back({x / cells - 0.5, y / cells - 0.5, std::log(0.002 + sum[i] / counted[i])});
    }
    return lit;
}

struct Sums {
    double xx = 0.0, yy = 0.0, xy = 0.0, xz = 0.0, yz = 0.0, zz = 0.0;
};

Sums sums_about_mean(const std::vector<LitCell>& lit) {
    LitCell mean;
    const auto count = static_cast<double>(lit.size());
    for (const LitCell& cell : lit) {
        mean.x += cell.x / count;
        mean.y += cell.y / count;
        mean.log_light += cell.log_light / count;
    }
    Sums sums;
    for (const LitCell& cell : lit) {
        const double x = cell.x - mean.x, y = cell.y - mean.y, z = cell.log_light - mean.log_light;
        sums.xx += x * x, sums.yy += y * y, sums.xy += x * y;
        sums.xz += x * z, sums.yz += y * z, sums.zz += z * z;
    }
    return sums;
}

// The plane of least squares.
void add_falloff(const LabPicture& lab, PictureCharacter& out) {
    constexpr std::size_t enough_cells = 20;
    auto lit = lit_cells(lab, is_colourless);
    const bool has_colour = out.colourless_share < 0.9;
    out.falloff_is_of_surround = has_colour && lit.size() >= enough_cells;
    if (!out.falloff_is_of_surround) lit = lit_cells(lab, [](const Lab&) { return true; });
    const Sums s = sums_about_mean(lit);
    const double determinant = s.xx * s.yy - s.xy * s.xy;
    if (determinant < 1e-9 || s.zz < 1e-9) return;
    out.falloff_right = (s.xz * s.yy - s.yz * s.xy) / determinant;
    out.falloff_down = (s.yz * s.xx - s.xz * s.xy) / determinant;
    out.falloff_explains = (out.falloff_right * s.xz + out.falloff_down * s.yz) / s.zz;
}

// The side from which the light falls off: the brighter one.
std::string side_of(const PictureCharacter& c) {
    const double sideways = std::abs(c.falloff_right);
    const double upright = std::abs(c.falloff_down);
    const std::string side = c.falloff_right < 0.0 ? "left" : "right";
    const std::string end = c.falloff_down < 0.0 ? "top" : "bottom";
    if (sideways > 2.0 * upright) return side;
    return upright > 2.0 * sideways ? end : end + "-" + side;
}

std::string side_in_words(std::string side) {
    std::ranges::replace(side, '-', ' ');
    return side;
}

}  // namespace

PictureCharacter character_of(const Raster8& srgb) {
    PictureCharacter character;
    if (srgb.width_px() == 0 || srgb.height_px() == 0) return character;
    const LabPicture lab = lab_of(srgb);
    add_colour(lab, character);
    add_shares(lab, character);
    add_falloff(lab, character);
    return character;
}

LightGuess guess_light(const PictureCharacter& c) {
    const bool nothing_to_see = c.mean_lightness < 1.0 || c.lightness_spread < 1.0;
    if (nothing_to_see) return {};
    if (c.cool_share > 0.7 && c.warm_share < 0.03 && c.mean_lightness < 45.0)
        return {"ultraviolet", "", "the picture glows coldly in the dark, with no warm colour"};
    if (c.black_share > 0.6 && c.bright_share > 0.0005 && c.bright_share < 0.2)
        return {"transmitted", "", "the picture is dark with points of light"};
    if (c.colourless_share > 0.98) return {"infrared", "", "the picture has no colour"};
    const double falloff = std::hypot(c.falloff_right, c.falloff_down);
    // The ground around a picture is lit as the picture is; a sky is bright by itself.
    const bool falls_off = c.falloff_is_of_surround ? falloff > 0.9 && c.falloff_explains > 0.35
                                                    : falloff > 1.6 && c.falloff_explains > 0.75;
    if (falls_off) return {"raking", side_of(c), "light falls off strongly from the " + side_in_words(side_of(c))};
    return {};
}

std::string why_bare_back(const PictureCharacter& c) {
    const bool is_bare = c.ochre_share > 0.95 && c.ochre_lightness_spread < 11.0 && c.colourless_share < 0.6;
    const bool is_lit = c.mean_lightness > 20.0 && c.mean_lightness < 85.0;
    return is_bare && is_lit ? "the picture has the even brown of bare canvas and wood" : std::string();
}

}  // namespace tedge::imaging
