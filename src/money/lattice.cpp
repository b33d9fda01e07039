#include "lattice.hpp"

#include <array>

namespace tedge::money {

namespace {

constexpr std::array<std::uint32_t, lattice_dimensions> generating_vector{
    1,      182667, 469891, 498753, 110745, 446247, 250185, 118627, 245333, 283199, 408519, 391023, 246327,
    126539, 399185, 461527, 300343, 69681,  516695, 436179, 106383, 238523, 413283, 70841,  47719,  300129,
    113029, 123925, 410745, 211325, 17489,  511893, 40767,  186077, 519471, 255369, 101819, 243573, 66189,
    152143, 503455, 113217, 132603, 463967, 297717, 157383, 224015, 502917, 36237,  94049,  170665, 79397,
    123963, 223451, 323871, 303633, 98567,  318855, 494245, 477137, 177975, 64483,  26695,  88779};

// The twenty low bits in reverse order, by swapping ever larger halves.
std::uint32_t reversed_bits(std::uint32_t index) {
    std::uint32_t bits = index;
    bits = ((bits >> 1) & 0x5555'5555U) | ((bits & 0x5555'5555U) << 1);
    bits = ((bits >> 2) & 0x3333'3333U) | ((bits & 0x3333'3333U) << 2);
    bits = ((bits >> 4) & 0x0F0F'0F0FU) | ((bits & 0x0F0F'0F0FU) << 4);
    bits = ((bits >> 8) & 0x00FF'00FFU) | ((bits & 0x00FF'00FFU) << 8);
    return ((bits >> 16) | (bits << 16)) >> 12;
}

}  // namespace

std::uint32_t lattice_node(std::uint32_t index) {
    return reversed_bits(index);
}

LatticeAxis lattice_axis(std::size_t dimension) {
    // An offset of its own for each dimension (multiples of the golden ratio), so that no point lies on a face of the
    // cube.
    return {generating_vector[dimension], 2'654'435'769U * static_cast<std::uint32_t>(dimension + 1)};
}

double lattice_coordinate(std::uint32_t index, std::size_t dimension) {
    return (static_cast<double>(lattice_axis(dimension).folded(reversed_bits(index))) + 0.5) * 0x1p-31;
}

}  // namespace tedge::money
