// A picture's rows in sRGB, one at a time, so that large pictures need no second copy. Safe from several threads.
#pragma once

#include <cstdint>
#include <optional>

#include "colour_profile.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

template <class T>  // std::uint8_t or std::uint16_t
class SrgbRows {
public:
    // The picture must outlive the rows. Errors: picture.colour-profile, picture.camera-space.
    [[nodiscard]] static Expected<SrgbRows> of(const Picture& picture);

    // width × 3 samples.
    void row(int y, T* rgb) const;
    // The same without a copy where the picture already is what is wanted; otherwise `room` is filled.
    [[nodiscard]] const T* row_or_copy(int y, T* room) const;

private:
    const Picture* picture_ = nullptr;
    std::optional<SrgbTransform> transform_;
};

extern template class SrgbRows<std::uint8_t>;
extern template class SrgbRows<std::uint16_t>;

}  // namespace tedge::imaging
