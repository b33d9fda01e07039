// A rank-1 lattice in the order of the reversed bits: any aligned block of 2^k points is a lattice by itself, so strata
// can take blocks of one sequence. Folded by the tent map, which suits integrands that are not periodic.
//
// Sources: Cools, Kuo & Nuyens, SIAM J. Sci. Comput. 28 (2006) 2162-2188 (extensible lattices); Hickernell, Proc. Monte
// Carlo and Quasi-Monte Carlo Methods 2000 (tent map); bibliography and generating vector from memory. Any vector of
// odd numbers gives right results; a good one gives them with fewer points, and a test measures that.
#pragma once

#include <cstddef>
#include <cstdint>

namespace tedge::money {

inline constexpr std::uint32_t lattice_size = 1U << 20;
inline constexpr std::size_t lattice_dimensions = 64;

// Coordinate in (0, 1) of a point; index < lattice_size, dimension < lattice_dimensions. No state, no seed: the same on
// every machine.
[[nodiscard]] double lattice_coordinate(std::uint32_t index, std::size_t dimension);

// The same coordinate as a whole number below 2^bits, for looking it up in a table: the cell it lies in. `node` is
// lattice_node(index), which all dimensions of a point share; bits from 1 to 31.
struct LatticeAxis {
    std::uint32_t multiplier;
    std::uint32_t offset;

    [[nodiscard]] std::uint32_t cell(std::uint32_t node, int bits) const { return folded(node) >> (31 - bits); }
    // In units of 2^-31. Wrapping around 2^32 is what a lattice asks for.
    [[nodiscard]] std::uint32_t folded(std::uint32_t node) const {
        const std::uint32_t x = ((node * multiplier) << 12) + offset;
        return x < 0x8000'0000U ? x : ~x;  // the tent map, halved
    }
};
[[nodiscard]] std::uint32_t lattice_node(std::uint32_t index);
[[nodiscard]] LatticeAxis lattice_axis(std::size_t dimension);

}  // namespace tedge::money
