#include "weave_cusping.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <optional>

namespace tedge::imaging {
namespace {

constexpr double shortest_mm = 30.0;
constexpr double longest_mm = 250.0;
constexpr double least_degrees = 1.0;
constexpr double least_over_middle = 2.0;
constexpr double least_explained = 0.4;  // of the variance along the edge
constexpr double least_waves = 1.5;      // a bend that does not come back is no cusping
constexpr int lines_at_edge = 3;
constexpr std::size_t least_squares = 8;
constexpr double degree = std::numbers::pi / 180.0;

// How the threads along an edge turn from place to place on the way along it.
struct Along {
    std::vector<double> at_mm;
    std::vector<double> degrees;
};

struct Wave {
    double length_mm = 0.0;
    double amplitude_deg = 0.0;
    double explained = 0.0;
};

bool level(Cusping::Edge edge) {
    return edge == Cusping::Edge::top || edge == Cusping::Edge::bottom;
}

// The line-th row (or column) of squares counted from the edge inwards. Along a level edge run the threads of set b.
void gather(const WeaveMap& map, Cusping::Edge edge, int line, Along& out) {
    const bool is_level = level(edge);
    const int lines = is_level ? map.rows : map.columns;
    const bool from_far = edge == Cusping::Edge::bottom || edge == Cusping::Edge::right;
    const int at = from_far ? lines - 1 - line : line;
    for (int i = 0; i < (is_level ? map.columns : map.rows); ++i) {
        const WeaveSquare& square = is_level ? map.at(i, at) : map.at(at, i);
        const ThreadsHere& here = is_level ? square.b : square.a;
        if (here.trust < trusted_from) continue;
        out.at_mm.push_back(is_level ? square.on_face.x_mm : square.on_face.y_mm);
        out.degrees.push_back(here.angle_deg);
    }
}

// A canvas laid askew turns all of it, a bend of the whole side turns it slowly: neither is cusping.
void take_off_line(Along& along) {
    const auto n = static_cast<double>(along.at_mm.size());
    double sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
    for (std::size_t i = 0; i < along.at_mm.size(); ++i) {
        sx += along.at_mm[i];
        sy += along.degrees[i];
        sxx += along.at_mm[i] * along.at_mm[i];
        sxy += along.at_mm[i] * along.degrees[i];
    }
    const double slope = (n * sxy - sx * sy) / std::max(1e-9, n * sxx - sx * sx);
    for (std::size_t i = 0; i < along.at_mm.size(); ++i) along.degrees[i] -= sy / n + slope * (along.at_mm[i] - sx / n);
}

Wave wave_of(const Along& along, double length_mm) {
    std::complex<double> sum = 0.0;
    double power = 0.0;
    for (std::size_t i = 0; i < along.at_mm.size(); ++i) {
        sum += along.degrees[i] * std::polar(1.0, -2.0 * std::numbers::pi * along.at_mm[i] / length_mm);
        power += along.degrees[i] * along.degrees[i];
    }
    const auto n = static_cast<double>(along.at_mm.size());
    const double amplitude = 2.0 * std::abs(sum) / n;
    return {length_mm, amplitude, power > 0.0 ? amplitude * amplitude * n / 2.0 / power : 0.0};
}

std::optional<Wave> strongest(const Along& along) {
    const auto [from, to] = std::ranges::minmax(along.at_mm);
    std::optional<Wave> best;
    for (double length = shortest_mm; length <= std::min(longest_mm, (to - from) / least_waves); length *= 1.02) {
        const Wave wave = wave_of(along, length);
        if (!best || wave.amplitude_deg > best->amplitude_deg) best = wave;
    }
    return best;
}

double amplitude_at_middle(const WeaveMap& map, Cusping::Edge edge, double length_mm) {
    Along along;
    const int lines = level(edge) ? map.rows : map.columns;
    const int first = std::max(0, lines / 2 - 1);
    double sum = 0.0;
    int counted = 0;
    for (int line = first; line < std::min(lines, first + lines_at_edge); ++line) {
        Along one;
        gather(map, edge, line, one);
        if (one.at_mm.size() < least_squares) continue;
        take_off_line(one);
        sum += wave_of(one, length_mm).amplitude_deg;
        ++counted;
    }
    return counted > 0 ? sum / counted : 0.0;
}

std::optional<Cusping> cusping_along(const WeaveMap& map, Cusping::Edge edge) {
    const int lines = level(edge) ? map.rows : map.columns;
    if (lines < 3 * lines_at_edge) return std::nullopt;  // no middle to compare with
    Along along;
    for (int line = 0; line < lines_at_edge; ++line) gather(map, edge, line, along);
    if (along.at_mm.size() < least_squares * lines_at_edge) return std::nullopt;
    take_off_line(along);
    const auto wave = strongest(along);
    if (!wave || wave->amplitude_deg < least_degrees || wave->explained < least_explained) return std::nullopt;
    if (wave->amplitude_deg < least_over_middle * amplitude_at_middle(map, edge, wave->length_mm)) return std::nullopt;
    // A wave y = A sin(2πx/L) is steepest at 2πA/L.
    const double steepest = std::tan(wave->amplitude_deg * degree);
    return Cusping{.edge = edge,
                   .amplitude_deg = wave->amplitude_deg,
                   .amplitude_mm = steepest * wave->length_mm / (2.0 * std::numbers::pi),
                   .wavelength_mm = wave->length_mm};
}

}  // namespace

std::vector<Cusping> cusping_of(const WeaveMap& map) {
    std::vector<Cusping> out;
    if (map.squares.empty()) return out;
    for (const Cusping::Edge edge :
         {Cusping::Edge::top, Cusping::Edge::right, Cusping::Edge::bottom, Cusping::Edge::left})
        if (const auto found = cusping_along(map, edge)) out.push_back(*found);
    return out;
}

}  // namespace tedge::imaging
