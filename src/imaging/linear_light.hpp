// Tables between 8-bit sRGB and 16-bit linear light. Every 8-bit value comes back from its linear one.
#pragma once

#include <array>
#include <cstdint>

namespace tedge::imaging {

struct LinearLight {
    std::array<std::uint16_t, 256> from_srgb8;
    std::array<std::uint8_t, 65536> to_srgb8;
};

[[nodiscard]] const LinearLight& linear_light();

}  // namespace tedge::imaging
