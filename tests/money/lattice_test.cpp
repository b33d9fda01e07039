// The generating vector is from memory, so its quality is measured and not believed.
#include "lattice.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace tedge;
using namespace tedge::money;

namespace {

// The mean of ∏ (1 + (x_j − ½)·weight_j) over a block of points; it is 1 over the cube.
double mean_of_product(std::uint32_t first, std::uint32_t count, std::size_t dimensions) {
    double sum = 0.0;
    for (std::uint32_t i = first; i < first + count; ++i) {
        double product = 1.0;
        for (std::size_t j = 0; j < dimensions; ++j) {
            const double x = lattice_coordinate(i, j);
            product *= 1.0 + (std::exp(x) - (std::exp(1.0) - 1.0)) / static_cast<double>(j + 1);
        }
        sum += product;
    }
    return sum / count;
}

}  // namespace

TEST_CASE("coordinates lie within the cube and differ") {
    for (std::size_t dimension = 0; dimension < lattice_dimensions; ++dimension) {
        std::set<double> seen;
        for (std::uint32_t i = 0; i < 256; ++i) {
            const double x = lattice_coordinate(i, dimension);
            REQUIRE(x > 0.0);
            REQUIRE(x < 1.0);
            seen.insert(x);
        }
        CHECK(seen.size() == 256);
    }
    CHECK(lattice_coordinate(0, 0) != lattice_coordinate(lattice_size - 1, 0));
}

TEST_CASE("every aligned block covers each coordinate evenly") {
    for (const std::size_t dimension : {0, 1, 7, 63}) {
        for (const std::uint32_t first : {0U, 4096U, 12'288U}) {
            double mean = 0.0;
            double square = 0.0;
            for (std::uint32_t i = first; i < first + 4096; ++i) {
                const double x = lattice_coordinate(i, dimension);
                mean += x / 4096;
                square += x * x / 4096;
            }
            CHECK(mean == Approx(0.5).margin(1e-6));
            CHECK(square == Approx(1.0 / 3.0).margin(1e-5));
        }
    }
}

// Chance would miss by about sqrt(variance / 4096), 0.8 % to 1 % here.
TEST_CASE("a smooth mean over many dimensions comes out far closer than by chance") {
    for (const std::size_t dimensions : {2U, 5U, 12U, 40U, 63U}) {
        for (const std::uint32_t first : {0U, 4096U, 65'536U}) {
            INFO(dimensions << " dimensions from " << first);
            CHECK(mean_of_product(first, 4096, dimensions) == Approx(1.0).margin(5e-4));
        }
    }
}

TEST_CASE("points are the same on every machine") {
    CHECK(lattice_coordinate(1, 0) ==
          Approx(std::abs(1.0 - std::abs(2.0 * std::fmod(0.5 + 0.6180339887498949, 1.0) - 1.0))).epsilon(1e-9));
    CHECK(lattice_coordinate(12'345, 17) == lattice_coordinate(12'345, 17));
}
