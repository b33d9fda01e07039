// The steps of registration, each against its definition.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>

#include "feature_nearest.hpp"
#include "painted_pair.hpp"
#include "registration_gray.hpp"
#include "residual_field.hpp"
#include "residual_field_banded.hpp"
#include "tile_match.hpp"
#include "tile_match_fourier.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;

TEST_CASE("The Fourier transform of a tile is that of its definition") {
    for (const int side : {16, 32, 64}) {
        const auto n = static_cast<std::size_t>(side);
        std::vector<float> real(n * n);
        std::vector<float> imaginary(n * n);
        for (std::size_t i = 0; i < n * n; ++i) {
            real[i] = static_cast<float>(counted(1, static_cast<std::int64_t>(i), 0) - 0.5);
            imaginary[i] = static_cast<float>(counted(2, static_cast<std::int64_t>(i), 0) - 0.5);
        }
        const auto given_real = real;
        const auto given_imaginary = imaginary;
        TileFourier fourier(side);
        fourier.forward(real.data(), imaginary.data());
        for (const auto& [u, v] : {std::pair{0, 0}, std::pair{1, 0}, std::pair{0, 1}, std::pair{3, side - 2}}) {
            std::complex<double> sum;
            for (int y = 0; y < side; ++y) {
                for (int x = 0; x < side; ++x) {
                    const auto i = static_cast<std::size_t>(y * side + x);
                    sum += std::complex<double>(given_real[i], given_imaginary[i]) *
                           std::polar(1.0, -2.0 * std::numbers::pi * (u * x + v * y) / side);
                }
            }
            const auto at = static_cast<std::size_t>(u * side + v);  // transposed
            CHECK(std::abs(sum - std::complex<double>(real[at], imaginary[at])) < 1e-3);
        }
        fourier.inverse(real.data(), imaginary.data());
        const float count = static_cast<float>(n * n);
        for (std::size_t i = 0; i < n * n; i += 7) {
            CHECK(real[i] / count == Approx(given_real[i]).margin(1e-5));
            CHECK(imaginary[i] / count == Approx(given_imaginary[i]).margin(1e-5));
        }
    }
    CHECK_THROWS(TileFourier(48));
}

TEST_CASE("A banded matrix is solved and inverted as the dense one is") {
    constexpr std::size_t size = 9;
    constexpr std::size_t bandwidth = 3;
    BandedMatrix matrix(size, bandwidth);
    for (std::size_t i = 0; i < size; ++i) {
        matrix.at(i, i) = 4.0 + static_cast<double>(i);
        for (std::size_t j = i > bandwidth ? i - bandwidth : 0; j < i; ++j)
            matrix.at(i, j) = 0.8 * counted(5, static_cast<std::int64_t>(i), static_cast<std::int64_t>(j)) - 0.4;
    }
    const BandedMatrix given = matrix;
    const auto dense = [&](std::size_t i, std::size_t j) {
        return (i > j ? i - j : j - i) <= bandwidth ? given.symmetric(i, j) : 0.0;
    };
    matrix.factorise();
    const BandedMatrix inverse = matrix.inverse_within_band();
    for (std::size_t column = 0; column < size; ++column) {
        std::vector<double> solution(size, 0.0);
        solution[column] = 1.0;
        matrix.solve(solution);
        for (std::size_t i = 0; i < size; ++i) {
            double product = 0.0;
            for (std::size_t k = 0; k < size; ++k) product += dense(i, k) * solution[k];
            CHECK(product == Approx(i == column ? 1.0 : 0.0).margin(1e-12));
            if ((i > column ? i - column : column - i) <= bandwidth)
                CHECK(inverse.symmetric(i, column) == Approx(solution[i]).margin(1e-12));
        }
    }
    BandedMatrix negative(2, 1);
    negative.at(0, 0) = -1.0;
    CHECK_THROWS(negative.factorise());
}

namespace {

std::vector<FieldObservation> bent_grid(double noise_px) {
    std::vector<FieldObservation> seen;
    for (int y = 10; y < 300; y += 20) {
        for (int x = 10; x < 400; x += 20) {
            const double dx =
                2.0 * std::sin(x / 90.0) * std::cos(y / 110.0) + noise_px * (2.0 * counted(7, x, y) - 1.0);
            const double dy = 1.5 * std::cos(x / 100.0 + y / 120.0) + noise_px * (2.0 * counted(8, x, y) - 1.0);
            seen.push_back(
                {{static_cast<double>(x), static_cast<double>(y)}, dx, dy, {400.0, 0.0, 400.0}, (x / 40 + y / 40) % 2});
        }
    }
    return seen;
}

double worst_distance(const BsplineDisplacement& field) {
    double worst = 0.0;
    for (int y = 20; y < 280; y += 13) {
        for (int x = 20; x < 380; x += 13) {
            const PointMm d = field.at({static_cast<double>(x), static_cast<double>(y)});
            worst = std::max(worst, std::hypot(d.x_mm - 2.0 * std::sin(x / 90.0) * std::cos(y / 110.0),
                                               d.y_mm - 1.5 * std::cos(x / 100.0 + y / 120.0)));
        }
    }
    return worst;
}

}  // namespace

// The mean of a sine under a normal window is the sine times exp(-(deviation / length)² / 2): the Fourier transform of
// the normal density, as any handbook of integrals has it.
TEST_CASE("What tiles have smoothed away of a bend is found again") {
    constexpr double deviation_px = 9.0;
    constexpr double length_px = 20.0;
    const double kept = std::exp(-0.5 * (deviation_px / length_px) * (deviation_px / length_px));
    std::vector<FieldObservation> seen;
    for (int y = 5; y < 300; y += 10) {
        for (int x = 5; x < 400; x += 10) {
            FieldObservation each{{static_cast<double>(x), static_cast<double>(y)},
                                  2.0 * kept * std::sin(x / length_px),
                                  0.0,
                                  {400.0, 0.0, 400.0},
                                  (x / 30 + y / 30) % 2};
            each.reach_px = {deviation_px, deviation_px};
            seen.push_back(each);
        }
    }
    const auto worst = [&](const BsplineDisplacement& field) {
        double largest = 0.0;
        for (int y = 40; y < 260; y += 11) {
            for (int x = 40; x < 360; x += 7) {
                const PointMm d = field.at({static_cast<double>(x), static_cast<double>(y)});
                largest = std::max(largest, std::hypot(d.x_mm - 2.0 * std::sin(x / length_px), d.y_mm));
            }
        }
        return largest;
    };
    const FieldLattice lattice = lattice_over({400, 300}, 24);
    auto fitted = fit_robust_field(lattice, seen, 2);
    REQUIRE(fitted);
    CHECK(worst(fitted->displacement) > 0.15);
    sharpen(lattice, seen, *fitted);
    CHECK(worst(fitted->displacement) < 0.05);
}

TEST_CASE("A smooth field comes back from its samples, and a fifth of wild ones does not move it") {
    const FieldLattice lattice = lattice_over({400, 300}, 10);
    auto seen = bent_grid(0.05);
    const auto clean = fit_robust_field(lattice, seen, 2);
    REQUIRE(clean);
    const double clean_worst = worst_distance(clean->displacement);
    CHECK(clean_worst < 0.06);
    int wild = 0;
    for (std::size_t i = 0; i < seen.size(); i += 5, ++wild) {
        seen[i].dx += 6.0 * counted(9, static_cast<std::int64_t>(i), 0) - 3.0;
        seen[i].dy += 4.0;
    }
    const auto dirty = fit_robust_field(lattice, seen, 2);
    REQUIRE(dirty);
    CHECK(worst_distance(dirty->displacement) < 0.12);
    int refused = 0;
    for (std::size_t i = 0; i < seen.size(); i += 5) refused += dirty->weights[i] == 0.0 ? 1 : 0;
    CHECK(refused == wild);
    CHECK_FALSE(fit_robust_field(lattice, std::vector<FieldObservation>(seen.begin(), seen.begin() + 7), 2));
}

TEST_CASE("The covariance of a field is that of its errors") {
    const FieldLattice lattice = lattice_over({400, 300}, 6);
    double squares = 0.0;
    double claimed = 0.0;
    for (int trial = 0; trial < 20; ++trial) {
        std::vector<FieldObservation> seen;
        for (int y = 10; y < 300; y += 20) {
            for (int x = 10; x < 400; x += 20) {
                // Sum of twelve uniform numbers less six: deviation one.
                double normal = -6.0;
                for (std::uint64_t i = 0; i < 12; ++i)
                    normal += counted(100 + static_cast<std::uint64_t>(trial), x, y, i);
                seen.push_back({{static_cast<double>(x), static_cast<double>(y)}, 0.1 * normal, 0.0, {100, 0, 100}, 0});
            }
        }
        SmoothingField field(lattice, seen, std::vector<double>(seen.size(), 1.0), 10.0);
        field.invert();
        const PointMm at = field.displacement().at({200, 150});
        squares += at.x_mm * at.x_mm / 20.0;
        claimed = field.covariance({200, 150})[0];
    }
    // Twenty trials give the variance to about a third.
    CHECK(squares / claimed > 0.4);
    CHECK(squares / claimed < 2.2);
}

TEST_CASE("Halving a picture keeps every point where it is") {
    // A bright Gaussian spot: its centre of gravity must not move from level to level.
    RasterF picture(600, 500, 1);
    for (int y = 0; y < 500; ++y) {
        for (int x = 0; x < 600; ++x)
            picture.at(x, y) = static_cast<float>(
                std::exp(-0.5 * (std::pow((x - 301.3) / 12.0, 2) + std::pow((y - 222.7) / 12.0, 2))));
    }
    const GrayPyramid pyramid(picture, 2, {});
    REQUIRE(pyramid.levels() == 3);
    for (int level = 0; level < pyramid.levels(); ++level) {
        const SizePx size = pyramid.size(level);
        std::vector<float> gray(static_cast<std::size_t>(size.width_px) * static_cast<std::size_t>(size.height_px));
        pyramid.read(level, 0, 0, size.width_px, size.height_px, gray.data());
        double sum = 0.0, sum_x = 0.0, sum_y = 0.0;
        for (int y = 0; y < size.height_px; ++y) {
            for (int x = 0; x < size.width_px; ++x) {
                const double value = static_cast<double>(gray[static_cast<std::size_t>(y * size.width_px + x)]);
                sum += value;
                sum_x += value * ((x + 0.5) * level_scale(level) - 0.5);
                sum_y += value * ((y + 0.5) * level_scale(level) - 0.5);
            }
        }
        CHECK(sum_x / sum == Approx(301.3).margin(0.01));
        CHECK(sum_y / sum == Approx(222.7).margin(0.01));
    }
}

TEST_CASE("Eight-bit colour is halved as any other picture") {
    const Raster8 picture = photograph({.seed = 9, .stroke_px = 50.0, .layers = 3}, {301, 263}, {}, {.noise = 2.0}, 1);
    RasterF same(301, 263, 3);
    for (std::size_t i = 0; i < picture.samples().size(); ++i)
        same.samples()[i] = static_cast<float>(picture.samples()[i]) / 255.0F;
    const GrayPyramid quick(picture, 2, {});
    const GrayPyramid plain(same, 2, {});
    REQUIRE(quick.levels() == 2);
    REQUIRE(plain.size(1) == quick.size(1));
    float worst = 0.0F;
    for (std::size_t i = 0; i < plain.half(1).samples().size(); ++i)
        worst = std::max(worst, std::abs(plain.half(1).samples()[i] - quick.half(1).samples()[i]));
    CHECK(worst < 1e-3F);
}

TEST_CASE("A tile finds a shift of part of a pixel") {
    const PaintedScene scene{.seed = 8, .stroke_px = 60.0, .layers = 3};
    const SizePx size{160, 140};
    const Raster8 reference = photograph(scene, size, {}, {.noise = 1.0}, 1);
    const KnownMove move{Homography::translation(1.37, -0.82)};
    const Raster8 moving = photograph(scene, size, move, old_varnish, 2);
    const GrayPyramid a(reference, 1, {});
    const GrayPyramid b(moving, 1, {});
    for (const TileSignal signal : {TileSignal::gray, TileSignal::edges}) {
        const TileSetup setup{64, 1.0, 6.0, signal};
        TileMatcher matcher(a, b, setup);
        const PointPx centre = aligned_centre(setup, {80, 70});
        const auto guess = local_map(PixelMap{}, centre, 8.0);
        REQUIRE(guess);
        const TileMatch match = matcher.match(centre, *guess);
        REQUIRE(match.found);
        CHECK(match.structured);
        CHECK(match.moving.x_px == Approx(centre.x_px - 1.37).margin(0.06));
        CHECK(match.moving.y_px == Approx(centre.y_px + 0.82).margin(0.06));
        // In the corner only a part of the tile lies inside: the answer belongs to the middle of that part.
        const PointPx corner = aligned_centre(setup, {10, 12});
        const auto corner_guess = local_map(PixelMap{}, corner, 8.0);
        REQUIRE(corner_guess);
        const TileMatch part = matcher.match(corner, *corner_guess);
        REQUIRE(part.found);
        CHECK(part.reference.x_px > corner.x_px + 5.0);
        CHECK(part.moving.x_px == Approx(part.reference.x_px - 1.37).margin(0.1));
        CHECK(part.moving.y_px == Approx(part.reference.y_px + 0.82).margin(0.1));
        const PointPx outside{-40.5, 20.5};
        CHECK_FALSE(matcher.match(outside, *local_map(PixelMap{}, outside, 8.0)).found);
    }
}

TEST_CASE("The nearest descriptors are those found one by one") {
    constexpr std::size_t first_count = 37;
    constexpr std::size_t second_count = 53;
    const auto unit_vectors = [](std::uint64_t seed, std::size_t count) {
        std::vector<float> all(count * descriptor_length);
        for (std::size_t i = 0; i < count; ++i) {
            double square = 0.0;
            for (std::size_t d = 0; d < descriptor_length; ++d) {
                const double value = counted(seed, static_cast<std::int64_t>(i), static_cast<std::int64_t>(d));
                all[i * descriptor_length + d] = static_cast<float>(value);
                square += value * value;
            }
            for (std::size_t d = 0; d < descriptor_length; ++d)
                all[i * descriptor_length + d] /= static_cast<float>(std::sqrt(square));
        }
        return all;
    };
    const auto first = unit_vectors(11, first_count);
    const auto second = unit_vectors(12, second_count);
    const auto distance2 = [&](std::size_t i, std::size_t j) {
        double sum = 0.0;
        for (std::size_t d = 0; d < descriptor_length; ++d)
            sum +=
                std::pow(static_cast<double>(first[i * descriptor_length + d] - second[j * descriptor_length + d]), 2);
        return sum;
    };
    const NearestNeighbours nearest = nearest_neighbours(first, second, 3);
    REQUIRE(nearest.of_first.size() == first_count);
    for (std::size_t i = 0; i < first_count; ++i) {
        std::vector<double> all;
        for (std::size_t j = 0; j < second_count; ++j) all.push_back(distance2(i, j));
        const auto best = std::min_element(all.begin(), all.end());
        CHECK(nearest.of_first[i].index == best - all.begin());
        std::sort(all.begin(), all.end());
        CHECK(static_cast<double>(nearest.of_first[i].distance2) == Approx(all[0]).margin(1e-5));
        CHECK(static_cast<double>(nearest.of_first[i].next_distance2) == Approx(all[1]).margin(1e-5));
    }
    for (std::size_t j = 0; j < second_count; ++j) {
        std::vector<double> all;
        for (std::size_t i = 0; i < first_count; ++i) all.push_back(distance2(i, j));
        CHECK(nearest.of_second[j] == std::min_element(all.begin(), all.end()) - all.begin());
    }
}
