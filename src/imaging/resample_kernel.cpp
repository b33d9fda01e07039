#include "resample_kernel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>
#include <type_traits>

#include "registration_clones.hpp"

namespace tedge::imaging {
namespace {

// Four floats at once (the vector extension of GCC and Clang): the channels of a pixel, or the weights of four
// neighbours.
using Four = float __attribute__((vector_size(16)));
using FourWhole = std::int32_t __attribute__((vector_size(16)));

constexpr Four all(float value) {
    return Four{value, value, value, value};
}

// Weights of the neighbours at -1, 0, 1, 2 of a point at t in [0, 1).
inline Four keys_weights(float t) {
    constexpr Four cubic{-0.5F, 1.5F, -1.5F, 0.5F};
    constexpr Four square{1.0F, -2.5F, 2.0F, -0.5F};
    constexpr Four linear{-0.5F, 0.0F, 0.5F, 0.0F};
    constexpr Four constant{0.0F, 1.0F, 0.0F, 0.0F};
    return ((cubic * all(t) + square) * all(t) + linear) * all(t) + constant;
}

// Three channels and whatever follows them; the fourth lane is not used.
inline Four load(const std::uint8_t* pixel) {
    using Bytes = std::uint8_t __attribute__((vector_size(4)));
    Bytes bytes;
    std::memcpy(&bytes, pixel, sizeof bytes);
    return __builtin_convertvector(__builtin_convertvector(bytes, FourWhole), Four);
}
inline Four load(const std::uint16_t* pixel) {
    using Words = std::uint16_t __attribute__((vector_size(8)));
    Words words;
    std::memcpy(&words, pixel, sizeof words);
    return __builtin_convertvector(__builtin_convertvector(words, FourWhole), Four);
}
inline Four load(const float* pixel) {
    Four values;
    std::memcpy(&values, pixel, sizeof values);
    return values;
}

template <class T>
inline void store(Four value, T* out) {
    if constexpr (!std::is_floating_point_v<T>) {
        constexpr float most = static_cast<float>(std::numeric_limits<T>::max());
        value = value < all(0.0F) ? all(0.0F) : value;
        value = value > all(most) ? all(most) : value;
        const FourWhole whole = __builtin_convertvector(value + all(0.5F), FourWhole);
        for (int c = 0; c < 3; ++c) out[c] = static_cast<T>(whole[c]);
    } else {
        for (int c = 0; c < 3; ++c) out[c] = value[c];
    }
}

template <class T>
struct Source {
    const T* samples;
    std::size_t row_samples;
};

template <class T>
inline Four along_row(const T* pixel, Four u) {
    return all(u[0]) * load(pixel) + all(u[1]) * load(pixel + 3) + all(u[2]) * load(pixel + 6) +
           all(u[3]) * load(pixel + 9);
}

template <class T>
inline void span_of_three(const Source<T>& source, const ResampleSpan& span, T* out) {
    for (int i = 0; i < span.count; ++i, out += 3) {
        const float x = span.x + static_cast<float>(i) * span.step_x;
        const float y = span.y + static_cast<float>(i) * span.step_y;
        const int ix = static_cast<int>(x);
        const int iy = static_cast<int>(y);
        const Four u = keys_weights(x - static_cast<float>(ix));
        const Four v = keys_weights(y - static_cast<float>(iy));
        const T* pixel = source.samples + static_cast<std::size_t>(iy - 1) * source.row_samples +
                         static_cast<std::size_t>(ix - 1) * 3;
        Four sum = all(v[0]) * along_row(pixel, u);
        sum += all(v[1]) * along_row(pixel + source.row_samples, u);
        sum += all(v[2]) * along_row(pixel + 2 * source.row_samples, u);
        sum += all(v[3]) * along_row(pixel + 3 * source.row_samples, u);
        store(sum, out);
    }
}

// One function for each depth, because a template cannot be compiled for two kinds of processor.
TEDGE_CLONES void span_of_three_8(const Source<std::uint8_t>& source, const ResampleSpan& span, std::uint8_t* out) {
    span_of_three(source, span, out);
}
TEDGE_CLONES void span_of_three_16(const Source<std::uint16_t>& source, const ResampleSpan& span, std::uint16_t* out) {
    span_of_three(source, span, out);
}
TEDGE_CLONES void span_of_three_float(const Source<float>& source, const ResampleSpan& span, float* out) {
    span_of_three(source, span, out);
}

void span_of_any(const Source<std::uint8_t>& source, const ResampleSpan& span, std::uint8_t* out) {
    span_of_three_8(source, span, out);
}
void span_of_any(const Source<std::uint16_t>& source, const ResampleSpan& span, std::uint16_t* out) {
    span_of_three_16(source, span, out);
}
void span_of_any(const Source<float>& source, const ResampleSpan& span, float* out) {
    span_of_three_float(source, span, out);
}

template <class T>
T to_sample(float value) {
    if constexpr (std::is_floating_point_v<T>) {
        return value;
    } else {
        constexpr float most = static_cast<float>(std::numeric_limits<T>::max());
        return static_cast<T>(std::clamp(value, 0.0F, most) + 0.5F);
    }
}

}  // namespace

bool lies_inside(const ResampleSpan& span, SizePx source) {
    const float last_x = span.x + static_cast<float>(span.count - 1) * span.step_x;
    const float last_y = span.y + static_cast<float>(span.count - 1) * span.step_y;
    // One more pixel to the right and below: a pixel is loaded with the sample that follows it.
    const auto right = static_cast<float>(source.width_px - 4);
    const auto bottom = static_cast<float>(source.height_px - 4);
    const auto good = [](float value, float most) { return value >= 1.0F && value < most; };
    return good(span.x, right) && good(last_x, right) && good(span.y, bottom) && good(last_y, bottom);
}

template <class T>
void resample_span_inside(const Raster<T>& source, const ResampleSpan& span, T* out) {
    if (source.channels() == 3) return span_of_any({source.row(0), source.row_samples()}, span, out);
    for (int i = 0; i < span.count; ++i)
        resample_pixel(source, span.x + static_cast<float>(i) * span.step_x,
                       span.y + static_cast<float>(i) * span.step_y, out + i * source.channels());
}

template <class T>
void resample_pixel(const Raster<T>& source, float x, float y, T* out) {
    const auto right = static_cast<float>(source.width_px() - 1);
    const auto bottom = static_cast<float>(source.height_px() - 1);
    // NaN fails the test as well.
    if (!(x >= -0.5F && y >= -0.5F && x <= right + 0.5F && y <= bottom + 0.5F)) return;
    const int ix = static_cast<int>(std::floor(x));
    const int iy = static_cast<int>(std::floor(y));
    const Four u = keys_weights(x - static_cast<float>(ix));
    const Four v = keys_weights(y - static_cast<float>(iy));
    for (int c = 0; c < source.channels(); ++c) {
        float sum = 0.0F;
        for (int j = 0; j < 4; ++j) {
            const int row = std::clamp(iy - 1 + j, 0, source.height_px() - 1);
            float line = 0.0F;
            for (int i = 0; i < 4; ++i)
                line += u[i] * static_cast<float>(source.at(std::clamp(ix - 1 + i, 0, source.width_px() - 1), row, c));
            sum += v[j] * line;
        }
        out[c] = to_sample<T>(sum);
    }
}

template void resample_span_inside(const Raster8&, const ResampleSpan&, std::uint8_t*);
template void resample_span_inside(const Raster16&, const ResampleSpan&, std::uint16_t*);
template void resample_span_inside(const RasterF&, const ResampleSpan&, float*);
template void resample_pixel(const Raster8&, float, float, std::uint8_t*);
template void resample_pixel(const Raster16&, float, float, std::uint16_t*);
template void resample_pixel(const RasterF&, float, float, float*);

}  // namespace tedge::imaging
