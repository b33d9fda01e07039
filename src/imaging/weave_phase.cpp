#include "weave_phase.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

using Complex = std::complex<double>;
constexpr double turn = 2.0 * std::numbers::pi;

// The four waves that may tell: both sets on their axes, and both checks.
enum Wave { on_a, on_b, check_plus, check_minus, wave_count };
using Frequencies = std::array<Frequency, wave_count>;
using Phasors = std::array<Complex, wave_count>;

Frequencies waves_of(const LocalWeave& weave) {
    return {weave.a, weave.b, 0.5 * (weave.a + weave.b), 0.5 * (weave.a - weave.b)};
}

// Sum over the windowed square of value · exp(-2πi f·(x − centre)).
Complex phasor(const WeaveSignal& signal, const SquareGrid& grid, PointPx corner, Frequency per_cm) {
    const double middle = 0.5 * (grid.side_px - 1);
    const auto side = static_cast<std::size_t>(grid.side_px);
    const auto x0 = static_cast<int>(corner.x_px), y0 = static_cast<int>(corner.y_px);
    std::vector<std::complex<float>> along(side), down(side);
    for (int i = 0; i < grid.side_px; ++i) {
        const double window = 0.5 - 0.5 * std::cos(turn * (i + 0.5) / grid.side_px);
        const double angle = -turn * (i - middle) / signal.px_per_cm;
        along[static_cast<std::size_t>(i)] = std::polar(window, angle * per_cm.x);
        down[static_cast<std::size_t>(i)] = std::polar(window, angle * per_cm.y);
    }
    Complex sum = 0.0;
    for (std::size_t y = 0; y < side; ++y) {
        const std::int8_t* row = signal.values.row(y0 + static_cast<int>(y)) + x0;
        float real = 0.0F, imaginary = 0.0F;
        for (std::size_t x = 0; x < side; ++x) {
            real += along[x].real() * row[x];
            imaginary += along[x].imag() * row[x];
        }
        sum += Complex(real, imaginary) * Complex(down[y]);
    }
    return sum;
}

// What neighbouring squares miss, one wave, one direction: a mean on the circle of whole threads.
class Missed {
public:
    void add(const Complex& from, const Complex& to, double expected_turns, double weight) {
        const double size = std::abs(from) * std::abs(to);
        if (size > 0.0) sum_ += weight * to * std::conj(from) / size * std::polar(1.0, -turn * expected_turns);
        weights_ += weight;
    }
    // Turns for each step; nothing where neighbours do not agree.
    [[nodiscard]] double turns() const {
        return weights_ > 0.0 && std::abs(sum_) > 0.3 * weights_ ? std::arg(sum_) / turn : 0.0;
    }

private:
    Complex sum_ = 0.0;
    double weights_ = 0.0;
};

struct Neighbours {
    const SquareGrid& grid;
    const std::vector<LocalWeave>& weave;
    const std::vector<Phasors>& phasors;
    double px_per_cm;
};

double trust_of(const LocalWeave& weave, Wave wave) {
    if (wave == on_a) return weave.trust_a;
    if (wave == on_b) return weave.trust_b;
    return std::min(weave.trust_a, weave.trust_b);
}

// Cycles per centimetre along x (dx = 1) or y (dy = 1).
double missed_along(const Neighbours& all, Wave wave, int dx, int dy) {
    Missed missed;
    double step_cm = 0.0;
    for (int square = 0; square < all.grid.count(); ++square) {
        if (square % all.grid.columns + dx >= all.grid.columns || square / all.grid.columns + dy >= all.grid.rows)
            continue;
        const int next = square + dx + dy * all.grid.columns;
        const auto i = static_cast<std::size_t>(square), j = static_cast<std::size_t>(next);
        const double weight = std::min(trust_of(all.weave[i], wave), trust_of(all.weave[j], wave));
        if (weight < trusted_from) continue;
        const PointPx from = all.grid.corner(square), to = all.grid.corner(next);
        const Frequency mean = 0.5 * (waves_of(all.weave[i])[wave] + waves_of(all.weave[j])[wave]);
        const double x_cm = (to.x_px - from.x_px) / all.px_per_cm, y_cm = (to.y_px - from.y_px) / all.px_per_cm;
        missed.add(all.phasors[i][wave], all.phasors[j][wave], mean.x * x_cm + mean.y * y_cm, weight);
        step_cm = x_cm + y_cm;
    }
    return step_cm > 0.0 ? missed.turns() / step_cm : 0.0;
}

Frequency missed_by(const Neighbours& all, Wave wave) {
    return {missed_along(all, wave, 1, 0), missed_along(all, wave, 0, 1)};
}

}  // namespace

void correct_by_phase(const WeaveSignal& signal, const SquareGrid& grid, bool a_by_checks, bool b_by_checks,
                      std::vector<LocalWeave>& weave, int workers, const Progress& progress) {
    std::vector<Phasors> phasors(weave.size());
    for_each_index(
        grid.count(), workers, [&] { return progress.stopped(); },
        [&](int square, int) {
            const auto i = static_cast<std::size_t>(square);
            const Frequencies waves = waves_of(weave[i]);
            for (std::size_t wave = 0; wave < wave_count; ++wave)
                phasors[i][wave] = phasor(signal, grid, grid.corner(square), waves[wave]);
        });
    const Neighbours all{grid, weave, phasors, signal.px_per_cm};
    const Frequency plus = missed_by(all, check_plus), minus = missed_by(all, check_minus);
    const Frequency a = a_by_checks ? plus + minus : missed_by(all, on_a);
    const Frequency b = b_by_checks ? plus - minus : missed_by(all, on_b);
    for (LocalWeave& here : weave) {
        here.a = here.a + a;
        here.b = here.b + b;
    }
}

}  // namespace tedge::imaging
