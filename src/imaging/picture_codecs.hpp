// One decoder per format. Each gives pixels as they lie in the file; picture.cpp turns them upright and adds metadata.
#pragma once

#include "picture_job.hpp"
#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

[[nodiscard]] Expected<Picture> decode_jpeg(const PictureJob& job);
[[nodiscard]] Expected<Picture> decode_png(const PictureJob& job);
[[nodiscard]] Expected<Picture> decode_webp(const PictureJob& job);
[[nodiscard]] Expected<Picture> decode_heif(const PictureJob& job);  // upright already
[[nodiscard]] Expected<Picture> decode_tiff(const PictureJob& job);
[[nodiscard]] Expected<Picture> decode_raw(const PictureJob& job);  // upright already

[[nodiscard]] Expected<PictureProbe> probe_jpeg(const PictureJob& job);
[[nodiscard]] Expected<PictureProbe> probe_png(const PictureJob& job);
[[nodiscard]] Expected<PictureProbe> probe_webp(const PictureJob& job);
[[nodiscard]] Expected<PictureProbe> probe_heif(const PictureJob& job);
[[nodiscard]] Expected<PictureProbe> probe_tiff(const PictureJob& job);
[[nodiscard]] Expected<PictureProbe> probe_raw(const PictureJob& job);

// What the tags of a TIFF container say: a plain picture, or sensor data with a preview.
[[nodiscard]] bool tiff_tags_say_camera_raw(const std::filesystem::path& file);
[[nodiscard]] bool opens_as_camera_raw(std::string_view bytes);

}  // namespace tedge::imaging
