#include "linear_light.hpp"

#include <cmath>
#include <memory>

#include "tedge/imaging/colour.hpp"

namespace tedge::imaging {
namespace {

std::unique_ptr<const LinearLight> computed() {
    auto tables = std::make_unique<LinearLight>();
    for (std::size_t v = 0; v < tables->from_srgb8.size(); ++v)
        tables->from_srgb8[v] =
            static_cast<std::uint16_t>(std::lround(srgb_decoded(static_cast<double>(v) / 255.0) * 65535.0));
    for (std::size_t v = 0; v < tables->to_srgb8.size(); ++v)
        tables->to_srgb8[v] =
            static_cast<std::uint8_t>(std::lround(srgb_encoded(static_cast<double>(v) / 65535.0) * 255.0));
    return tables;
}

}  // namespace

const LinearLight& linear_light() {
    static const std::unique_ptr<const LinearLight> tables = computed();
    return *tables;
}

}  // namespace tedge::imaging
