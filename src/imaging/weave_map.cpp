#include "weave_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr double doubtful_contrast = 8.0;  // chance peaks of one square reach it now and then
constexpr double full_contrast = 200.0;    // beyond that a peak is placed no better
constexpr double least_in_mean = 4.0;
constexpr double first_share = 0.12;   // of the count: how far squares may differ from the mean
constexpr double second_share = 0.06;  // how far from its neighbours: strong cusping bends that much
constexpr double least_radius_per_cm = 1.0;

// A peak that both sets share: (k a + l b) / 2.
struct Carrier {
    int k = 0;
    int l = 0;

    [[nodiscard]] Frequency at(const LocalWeave& weave) const { return (0.5 * k) * weave.a + (0.5 * l) * weave.b; }
};

constexpr std::array all_carriers{Carrier{2, 0},  Carrier{0, 2}, Carrier{1, 1},
                                  Carrier{1, -1}, Carrier{4, 0}, Carrier{0, 4}};

std::vector<Carrier> carriers_of(const PowerSpectrum& mean, const WeaveLattice& lattice) {
    const LocalWeave middle{.a = lattice.a, .b = lattice.b};
    std::vector<Carrier> out;
    for (const Carrier& carrier : all_carriers) {
        const Frequency at = carrier.at(middle);
        if (std::max(std::abs(at.x), std::abs(at.y)) > 0.97 * mean.limit_per_cm()) continue;
        const auto peak = peak_near(mean, at, 1.0);
        const bool threads = carrier.k == 0 || carrier.l == 0;
        if (!threads && lattice.kind != WeaveKind::plain) continue;
        const bool first_order = std::abs(carrier.k) + std::abs(carrier.l) == 2;
        if ((threads && first_order) || (peak && peak->contrast >= least_in_mean)) out.push_back(carrier);
    }
    return out;
}

// Least squares for a and b from the carriers found, each weighted by how far it stands out.
class Fit {
public:
    void add(const Carrier& carrier, const Peak& peak) {
        const double weight = std::min(peak.contrast, full_contrast);
        const double k = 0.5 * carrier.k, l = 0.5 * carrier.l;
        aa_ += weight * k * k;
        ab_ += weight * k * l;
        bb_ += weight * l * l;
        a_ = a_ + (weight * k) * peak.at;
        b_ = b_ + (weight * l) * peak.at;
    }
    // Trust from what of each set the other one does not explain away.
    void solve(LocalWeave& weave) const {
        const double det = aa_ * bb_ - ab_ * ab_;
        if (det > 1e-6 * (aa_ + bb_) * (aa_ + bb_)) {
            weave.a = (1.0 / det) * (bb_ * a_ - ab_ * b_);
            weave.b = (1.0 / det) * (aa_ * b_ - ab_ * a_);
            weave.trust_a = trust(det / bb_);
            weave.trust_b = trust(det / aa_);
        } else if (aa_ > 0.0 && bb_ == 0.0) {
            weave.a = (1.0 / aa_) * a_;
            weave.trust_a = trust(aa_);
        } else if (bb_ > 0.0 && aa_ == 0.0) {
            weave.b = (1.0 / bb_) * b_;
            weave.trust_b = trust(bb_);
        }
    }

private:
    static double trust(double contrast) { return contrast / (contrast + doubtful_contrast); }
    double aa_ = 0.0, ab_ = 0.0, bb_ = 0.0;
    Frequency a_{}, b_{};
};

LocalWeave found_near(const PowerSpectrum& spectrum, const std::vector<Carrier>& carriers, const LocalWeave& expected,
                      double share) {
    LocalWeave out{.a = expected.a, .b = expected.b};
    Fit fit;
    for (const Carrier& carrier : carriers) {
        const Frequency at = carrier.at(expected);
        const double radius = std::clamp(share * at.length(), least_radius_per_cm, 2.5);
        const auto peak = peak_near(spectrum, at, std::max(radius, 1.5 * spectrum.bin_per_cm()));
        if (peak && peak->contrast > 0.5 * doubtful_contrast) fit.add(carrier, *peak);
    }
    fit.solve(out);
    return out;
}

using Expectation = std::function<LocalWeave(int square)>;

std::vector<LocalWeave> search_all(const WeaveSignal& signal, const SquareGrid& grid,
                                   const std::vector<Carrier>& carriers, const Expectation& expected, double share,
                                   int workers, const Progress& progress) {
    std::vector<LocalWeave> out(static_cast<std::size_t>(grid.count()));
    constexpr int pairs_at_once = 16;
    const int pairs = (grid.count() + 1) / 2;
    for_each_index(
        (pairs + pairs_at_once - 1) / pairs_at_once, workers, [&] { return progress.stopped(); },
        [&](int batch, int) {
            SquareTransform transform(grid.side_px, signal.px_per_cm);
            for (int pair = batch * pairs_at_once; pair < std::min(pairs, (batch + 1) * pairs_at_once); ++pair) {
                const int one = 2 * pair, other = std::min(one + 1, grid.count() - 1);
                transform.transform(signal, grid.corner(one), grid.corner(other));
                out[static_cast<std::size_t>(one)] = found_near(transform.first(), carriers, expected(one), share);
                if (other > one)
                    out[static_cast<std::size_t>(other)] =
                        found_near(transform.second(), carriers, expected(other), share);
            }
        });
    return out;
}

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, middle);
    return *middle;
}

// The median of the squares around that are trusted (two steps each way), or nothing where there are too few.
std::optional<Frequency> around(const std::vector<LocalWeave>& weave, const SquareGrid& grid, int square,
                                Frequency LocalWeave::* set, double LocalWeave::* trust) {
    std::vector<double> xs, ys;
    const int column = square % grid.columns, row = square / grid.columns;
    for (int r = std::max(0, row - 2); r <= std::min(grid.rows - 1, row + 2); ++r)
        for (int c = std::max(0, column - 2); c <= std::min(grid.columns - 1, column + 2); ++c) {
            const LocalWeave& there = weave[static_cast<std::size_t>(r * grid.columns + c)];
            if ((r == row && c == column) || there.*trust < trusted_from) continue;
            xs.push_back((there.*set).x);
            ys.push_back((there.*set).y);
        }
    if (xs.size() < 3) return std::nullopt;
    return Frequency{median(xs), median(ys)};
}

}  // namespace

std::vector<LocalWeave> follow_lattice(const WeaveSignal& signal, const SquareGrid& grid, const PowerSpectrum& mean,
                                       const WeaveLattice& lattice, const LocalTurn& turn, int workers,
                                       const Progress& progress) {
    const std::vector<Carrier> carriers = carriers_of(mean, lattice);
    const auto from_mean = [&](int square) {
        const PointPx corner = grid.corner(square);
        const auto t = turn({corner.x_px + 0.5 * (grid.side_px - 1), corner.y_px + 0.5 * (grid.side_px - 1)});
        const auto turned = [&](Frequency f) { return Frequency{t[0] * f.x + t[1] * f.y, t[2] * f.x + t[3] * f.y}; };
        return LocalWeave{.a = turned(lattice.a), .b = turned(lattice.b)};
    };
    const auto first = search_all(signal, grid, carriers, from_mean, first_share, workers, progress);
    if (progress.stopped()) return first;
    const auto from_neighbours = [&](int square) {
        LocalWeave expected = from_mean(square);
        if (const auto a = around(first, grid, square, &LocalWeave::a, &LocalWeave::trust_a)) expected.a = *a;
        if (const auto b = around(first, grid, square, &LocalWeave::b, &LocalWeave::trust_b)) expected.b = *b;
        return expected;
    };
    auto second = search_all(signal, grid, carriers, from_neighbours, second_share, workers, progress);
    for (int square = 0; square < grid.count(); ++square) {
        LocalWeave& here = second[static_cast<std::size_t>(square)];
        const auto a = around(second, grid, square, &LocalWeave::a, &LocalWeave::trust_a);
        const auto b = around(second, grid, square, &LocalWeave::b, &LocalWeave::trust_b);
        // Alone among squares without a weave: chance.
        const bool many = grid.count() > 8;
        const auto agree = [](Frequency f, Frequency neighbours) {
            return (f - neighbours).length() <= std::max(least_radius_per_cm, second_share * neighbours.length());
        };
        if (a ? !agree(here.a, *a) : many) here.trust_a *= 0.3;
        if (b ? !agree(here.b, *b) : many) here.trust_b *= 0.3;
    }
    return second;
}

}  // namespace tedge::imaging
