#include "thinning.hpp"

#include <array>
#include <bit>
#include <vector>

namespace tedge::imaging {
namespace {

struct Pixel {
    int x = 0;
    int y = 0;
};

// Neighbours clockwise from above, one bit each.
constexpr std::array<Pixel, 8> around{{{0, -1}, {1, -1}, {1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}}};

unsigned neighbours_inside(const std::uint8_t* here, std::ptrdiff_t row) {
    unsigned bits = 0;
    for (std::size_t i = 0; i < around.size(); ++i)
        if (here[around[i].y * row + around[i].x] != 0) bits |= 1U << i;
    return bits;
}

// Beyond the picture's edge nothing is set.
unsigned neighbours_at_edge(const Raster8& mask, Pixel at) {
    unsigned bits = 0;
    for (std::size_t i = 0; i < around.size(); ++i) {
        const int x = at.x + around[i].x;
        const int y = at.y + around[i].y;
        const bool inside = x >= 0 && y >= 0 && x < mask.width_px() && y < mask.height_px();
        if (inside && mask.at(x, y) != 0) bits |= 1U << i;
    }
    return bits;
}

unsigned neighbours(const Raster8& mask, Pixel at) {
    if (at.x > 0 && at.y > 0 && at.x + 1 < mask.width_px() && at.y + 1 < mask.height_px())
        return neighbours_inside(mask.row(at.y) + at.x, mask.width_px());
    return neighbours_at_edge(mask, at);
}

constexpr bool has(unsigned bits, int i) {
    return (bits >> i & 1U) != 0;
}

// Changes from empty to set, once around.
constexpr int arms(unsigned bits) {
    int out = 0;
    for (int i = 0; i < 8; ++i) out += !has(bits, i) && has(bits, (i + 1) % 8) ? 1 : 0;
    return out;
}

constexpr bool may_go(unsigned bits, bool first) {
    const int set = std::popcount(bits);
    if (set < 2 || set > 6 || arms(bits) != 1) return false;
    const bool up = has(bits, 0), right = has(bits, 2), down = has(bits, 4), left = has(bits, 6);
    return first ? !(up && right && down) && !(right && down && left) : !(up && right && left) && !(up && down && left);
}

// Set regions of the ring when diagonal neighbours hold together: what must stay one.
constexpr int pieces(unsigned bits) {
    int out = 0;
    for (int i = 0; i < 8; i += 2)
        if (!has(bits, i) && (has(bits, i + 1) || has(bits, (i + 2) % 8))) ++out;
    return out;
}

// A staircase's inner corner: two sides that meet in it hold together without it.
constexpr bool spare_corner(unsigned bits) {
    if (pieces(bits) != 1 || std::popcount(bits) < 2) return false;
    for (int i = 0; i < 8; i += 2)
        if (has(bits, i) && has(bits, (i + 2) % 8) && !has(bits, (i + 4) % 8) && !has(bits, (i + 6) % 8) &&
            !has(bits, (i + 5) % 8))
            return true;
    return false;
}

template <class Rule>
std::array<bool, 256> table(const Rule& rule) {
    std::array<bool, 256> out{};
    for (unsigned bits = 0; bits < 256; ++bits) out[bits] = rule(bits);
    return out;
}

// One sub-step over the pixels left: those to go are found first, then taken away together.
bool sub_step(Raster8& mask, std::vector<Pixel>& left, const std::array<bool, 256>& goes) {
    std::vector<Pixel> going;
    std::vector<Pixel> staying;
    for (const Pixel at : left) (goes[neighbours(mask, at)] ? going : staying).push_back(at);
    for (const Pixel at : going) mask.at(at.x, at.y) = 0;
    left.swap(staying);
    return !going.empty();
}

}  // namespace

void thin(Raster8& mask) {
    static const auto first = table([](unsigned bits) { return may_go(bits, true); });
    static const auto second = table([](unsigned bits) { return may_go(bits, false); });
    static const auto corner = table(spare_corner);
    std::vector<Pixel> left;
    for (int y = 0; y < mask.height_px(); ++y)
        for (int x = 0; x < mask.width_px(); ++x)
            if (mask.at(x, y) != 0) left.push_back({x, y});
    for (bool changed = true; changed;) {
        changed = sub_step(mask, left, first);
        changed = sub_step(mask, left, second) || changed;
    }
    // One by one: neighbours must see what is gone.
    for (const Pixel at : left)
        if (corner[neighbours(mask, at)]) mask.at(at.x, at.y) = 0;
}

}  // namespace tedge::imaging
