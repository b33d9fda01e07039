#include "tedge/imaging/srgb_view.hpp"

#include "row_progress.hpp"
#include "srgb_rows.hpp"

namespace tedge::imaging {
namespace {

template <class To, class From>
To converted(From sample) {
    if constexpr (sizeof(To) == sizeof(From))
        return sample;
    else if constexpr (sizeof(To) == 2)
        return static_cast<To>(sample * 257);
    else
        return static_cast<To>((sample * 255U + 32767U) / 65535U);
}

template <class To, class From>
void copy_row(const Raster<From>& from, int y, To* rgb) {
    const From* row = from.row(y);
    if (from.channels() == 3) {
        for (std::size_t i = 0; i < from.row_samples(); ++i) rgb[i] = converted<To>(row[i]);
        return;
    }
    for (int x = 0; x < from.width_px(); ++x, rgb += 3) rgb[0] = rgb[1] = rgb[2] = converted<To>(row[x]);
}

SampleLayout layout_of(const Picture& picture) {
    if (picture.is_grey()) return picture.bits() == 8 ? SampleLayout::grey8 : SampleLayout::grey16;
    return picture.bits() == 8 ? SampleLayout::rgb8 : SampleLayout::rgb16;
}

template <class T>
Expected<Raster<T>> to_srgb(const Picture& picture, const Progress& progress) {
    const auto rows = SrgbRows<T>::of(picture);
    if (!rows) return pass_on(rows);
    const SizePx size = picture.size();
    Raster<T> out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y) {
        if (stopped_at_row(progress, y, size.height_px, "converting colours")) return cancelled();
        rows->row(y, out.row(y));
    }
    return out;
}

}  // namespace

template <class T>
Expected<SrgbRows<T>> SrgbRows<T>::of(const Picture& picture) {
    if (picture.camera_space)
        return fail("picture.camera-space", "Linear camera values have no colour before they are calibrated.",
                    "Read the raw file for viewing, or calibrate it with a chart first.");
    SrgbRows rows;
    rows.picture_ = &picture;
    if (picture.icc_profile.empty() || profile_is_srgb(picture.icc_profile)) return rows;
    auto transform = SrgbTransform::make(picture.icc_profile, layout_of(picture),
                                         sizeof(T) == 1 ? SampleLayout::rgb8 : SampleLayout::rgb16);
    if (!transform) return pass_on(transform);
    rows.transform_ = std::move(*transform);
    return rows;
}

template <class T>
void SrgbRows<T>::row(int y, T* rgb) const {
    std::visit(
        [&](const auto& raster) {
            if (transform_)
                transform_->apply(raster.row(y), rgb, static_cast<std::size_t>(raster.width_px()));
            else
                copy_row(raster, y, rgb);
        },
        picture_->pixels);
}

template <class T>
const T* SrgbRows<T>::row_or_copy(int y, T* room) const {
    const auto* same = std::get_if<Raster<T>>(&picture_->pixels);
    if (same != nullptr && !transform_ && same->channels() == 3) return same->row(y);
    row(y, room);
    return room;
}

template class SrgbRows<std::uint8_t>;
template class SrgbRows<std::uint16_t>;

Expected<Raster8> to_srgb8(const Picture& picture, const Progress& progress) {
    return to_srgb<std::uint8_t>(picture, progress);
}

Expected<Raster16> to_srgb16(const Picture& picture, const Progress& progress) {
    return to_srgb<std::uint16_t>(picture, progress);
}

}  // namespace tedge::imaging
