#include "lattice.hpp"

#include <array>
#include <cmath>

namespace tedge {

namespace {

constexpr std::array<std::uint32_t, lattice_dimensions> generating_vector{
    1,      182667, 469891, 498753, 110745, 446247, 250185, 118627, 245333, 283199, 408519, 391023, 246327,
    126539, 399185, 461527, 300343, 69681,  516695, 436179, 106383, 238523, 413283, 70841,  47719,  300129,
    113029, 123925, 410745, 211325, 17489,  511893, 40767,  186077, 519471, 255369, 101819, 243573, 66189,
    152143, 503455, 113217, 132603, 463967, 297717, 157383, 224015, 502917, 36237,  94049,  170665, 79397,
    123963, 223451, 323871, 303633, 98567,  318855, 494245, 477137, 177975, 64483,  26695,  88779};

std::uint32_t reversed_bits(std::uint32_t index) {
    std::uint32_t result = 0;
    for (int bit = 0; bit < 20; ++bit) {
        result = (result << 1) | ((index >> bit) & 1U);
    }
    return result;
}

}  // namespace

double lattice_coordinate(std::uint32_t index, std::size_t dimension) {
    const std::uint32_t node = (reversed_bits(index) * generating_vector.at(dimension)) & (lattice_size - 1);
    // An offset of its own for each dimension (multiples of the golden ratio), so that no point lies on a face of the
    // cube.
    const double offset = std::fmod(0.6180339887498949 * static_cast<double>(dimension + 1), 1.0);
    const double x = std::fmod((static_cast<double>(node) + 0.25) / lattice_size + offset, 1.0);
    return 1.0 - std::abs(2.0 * x - 1.0);
}

}  // namespace tedge
