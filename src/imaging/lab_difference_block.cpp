// Differences of the parts of CIELAB, eight pixels at once. Compiled as delta_e_block.cpp is.
#include "lab_block.hpp"

namespace tedge::imaging {
namespace {

struct Chroma {
    float c, x, y;  // C*ab and the hue as a unit vector
};

TEDGE_INLINE Chroma chroma_of(const LabF& lab) {
    const float c = std::sqrt(lab.a * lab.a + lab.b * lab.b);
    const float coloured = select(c < least_chroma, 0.0F, 1.0F);
    const float per_c = coloured / (c + 1e-12F);
    return {c * coloured, lab.a * per_c, lab.b * per_c};
}

// ΔH*ab = 2 √(C1 C2) sin(Δh/2): the distance of both unit vectors is 2 sin(Δh/2).
TEDGE_INLINE float hue_difference(const LabF& first, const LabF& second) {
    const Chroma p = chroma_of(first), q = chroma_of(second);
    const float apart = std::sqrt((p.x - q.x) * (p.x - q.x) + (p.y - q.y) * (p.y - q.y));
    return std::sqrt(p.c * q.c) * select(p.x * q.y - p.y * q.x < 0.0F, -apart, apart);
}

template <class Part>
TEDGE_INLINE void each_pixel(const LightBlock& first, const LightBlock& second, const LightToXyz& matrix, float* out,
                             const Part& part) {
    const LightToXyz m = matrix;
    for (std::size_t i = 0; i < delta_e_block_pixels; ++i)
        out[i] = part(lab_of(first.red[i], first.green[i], first.blue[i], m),
                      lab_of(second.red[i], second.green[i], second.blue[i], m));
}

}  // namespace

TEDGE_CLONES
void lab_difference_block(const LightBlock& first, const LightBlock& second, const LightToXyz& matrix, LabPart part,
                          float* out) {
    switch (part) {
        case LabPart::lightness:
            each_pixel(first, second, matrix, out, [](const LabF& p, const LabF& q) { return q.l - p.l; });
            break;
        case LabPart::a:
            each_pixel(first, second, matrix, out, [](const LabF& p, const LabF& q) { return q.a - p.a; });
            break;
        case LabPart::b:
            each_pixel(first, second, matrix, out, [](const LabF& p, const LabF& q) { return q.b - p.b; });
            break;
        case LabPart::chroma:
            each_pixel(first, second, matrix, out,
                       [](const LabF& p, const LabF& q) { return chroma_of(q).c - chroma_of(p).c; });
            break;
        case LabPart::hue:
            each_pixel(first, second, matrix, out, [](const LabF& p, const LabF& q) { return hue_difference(p, q); });
            break;
    }
}

}  // namespace tedge::imaging
