#include "picture_cut.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tedge::dossier {

using casebook::Record;
using imaging::Raster8;

namespace {

constexpr double margin_share = 0.03;  // of the face's longer side
// A detail is not taken from more than this, for a photograph may have a hundred million pixels.
constexpr int most_px = 6000;
constexpr int least_px = 16;

struct SpanPx {
    double left = 1e9;
    double top = 1e9;
    double right = -1e9;
    double bottom = -1e9;
};

SizePx size_of(const Record& photograph) {
    return {static_cast<int>(photograph.body.integer("width_px").value_or(0)),
            static_cast<int>(photograph.body.integer("height_px").value_or(0))};
}

// The box of a face in the photograph; nothing where a corner of it has no pixel.
std::optional<SpanPx> span_of(const BoxMm& box, const Placement& placement) {
    SpanPx span;
    const std::array<PointMm, 4> corners{
        {box.min, {box.max.x_mm, box.min.y_mm}, box.max, {box.min.x_mm, box.max.y_mm}}};
    for (const PointMm& corner : corners) {
        const auto at = placement.to_photo(corner);
        if (!at) return std::nullopt;
        span.left = std::min(span.left, at->x_px);
        span.right = std::max(span.right, at->x_px);
        span.top = std::min(span.top, at->y_px);
        span.bottom = std::max(span.bottom, at->y_px);
    }
    return span;
}

std::optional<CutPx> within(const SpanPx& span, SizePx size) {
    const int left = std::max(0, static_cast<int>(std::floor(span.left)));
    const int top = std::max(0, static_cast<int>(std::floor(span.top)));
    const int right = std::min(size.width_px, static_cast<int>(std::ceil(span.right)) + 1);
    const int bottom = std::min(size.height_px, static_cast<int>(std::ceil(span.bottom)) + 1);
    if (right - left < least_px || bottom - top < least_px) return std::nullopt;
    return CutPx{left, top, right - left, bottom - top};
}

BoxMm widened(const BoxMm& box, double by_mm) {
    return {{box.min.x_mm - by_mm, box.min.y_mm - by_mm}, {box.max.x_mm + by_mm, box.max.y_mm + by_mm}};
}

// The cut's part of a picture that came reduced.
Raster8 part_of(const Raster8& pixels, SizePx whole, const CutPx& cut) {
    const double scale_x = static_cast<double>(pixels.width_px()) / whole.width_px;
    const double scale_y = static_cast<double>(pixels.height_px()) / whole.height_px;
    const int left = std::clamp(static_cast<int>(std::lround(cut.left * scale_x)), 0, pixels.width_px() - 1);
    const int top = std::clamp(static_cast<int>(std::lround(cut.top * scale_y)), 0, pixels.height_px() - 1);
    const int width = std::clamp(static_cast<int>(std::lround(cut.width * scale_x)), 1, pixels.width_px() - left);
    const int height = std::clamp(static_cast<int>(std::lround(cut.height * scale_y)), 1, pixels.height_px() - top);
    Raster8 part(width, height, pixels.channels());
    for (int y = 0; y < height; ++y) {
        const auto* from = pixels.row(top + y) + static_cast<std::ptrdiff_t>(left) * pixels.channels();
        std::copy_n(from, part.row_samples(), part.row(y));
    }
    return part;
}

void shift(std::vector<PointPx>& points, const CutPx& cut) {
    for (auto& point : points) point = {point.x_px - cut.left, point.y_px - cut.top};
}

}  // namespace

Picture cut_out(Picture whole, const CutPx& cut) {
    Picture part = std::move(whole);
    const SizePx full = part.size;
    part.size = {cut.width, cut.height};
    for (auto& mark : part.marks) {
        for (auto& ring : mark.rings) shift(ring, cut);
        for (auto& line : mark.lines) shift(line, cut);
        shift(mark.points, cut);
        if (mark.label_at) mark.label_at = {mark.label_at->x_px - cut.left, mark.label_at->y_px - cut.top};
    }
    part.pixels = [pixels = std::move(part.pixels), full, cut](int longest_side_px) -> Expected<Raster8> {
        const double share =
            static_cast<double>(std::max(full.width_px, full.height_px)) / std::max(cut.width, cut.height);
        const auto whole_px = pixels(static_cast<int>(std::min<double>(most_px, std::ceil(longest_side_px * share))));
        if (!whole_px || whole_px->empty()) return whole_px;
        return part_of(*whole_px, full, cut);
    };
    return part;
}

std::optional<CutPx> cut_to_face(const Extract& extract, const Record& photograph) {
    const auto id = photograph.body.record("face_frame");
    const auto placement = photograph.body.placement("face_from_photo");
    const Record* frame = id ? extract.find(*id) : nullptr;
    if (frame == nullptr || !placement) return std::nullopt;
    const auto width = frame->body.number("width_mm");
    const auto height = frame->body.number("height_mm");
    if (!width || !height) return std::nullopt;
    const BoxMm face{{0.0, 0.0}, {*width, *height}};
    const SizePx size = size_of(photograph);
    const auto bare = span_of(face, *placement);
    const double slack = 0.01 * std::max(size.width_px, size.height_px);
    if (!bare || bare->left < -slack || bare->top < -slack || bare->right > size.width_px + slack ||
        bare->bottom > size.height_px + slack)
        return std::nullopt;
    const auto span = span_of(widened(face, margin_share * std::max(*width, *height)), *placement);
    return span ? within(*span, size) : std::nullopt;
}

std::optional<CutPx> cut_to_place(const BoxMm& place, const Record& photograph, double least_mm) {
    const auto placement = photograph.body.placement("face_from_photo");
    if (!placement || place.empty()) return std::nullopt;
    // Square, so that one shape serves a long tear and a small loss.
    const double side =
        std::max({least_mm, 1.3 * (place.max.x_mm - place.min.x_mm), 1.3 * (place.max.y_mm - place.min.y_mm)});
    const PointMm middle{(place.min.x_mm + place.max.x_mm) / 2.0, (place.min.y_mm + place.max.y_mm) / 2.0};
    const auto span = span_of(widened({middle, middle}, side / 2.0), *placement);
    return span ? within(*span, size_of(photograph)) : std::nullopt;
}

}  // namespace tedge::dossier
