#include "picture_promises.hpp"

#include <cmath>

#include "tedge/base/text.hpp"
#include "tedge/imaging/picture_character.hpp"
#include "tedge/imaging/shrink.hpp"

namespace tedge::imaging::samples {
namespace {

constexpr int small_side_px = 256;

bool is_text(std::string_view text) {
    return is_valid_utf8(text);
}

std::string wrong_with(const Error& error) {
    if (!error.code.starts_with("picture.")) return "the error " + error.code + " is none of a picture";
    if (!error.message.ends_with('.') || error.next.empty()) return "no sentence, or nothing to do: " + error.message;
    if (!is_text(error.message)) return "the sentence of " + error.code + " is no text";
    return {};
}

bool is_sensible(const std::optional<double>& figure) {
    return !figure || (std::isfinite(*figure) && *figure > 0.0);
}

std::string wrong_with(const PictureMetadata& said) {
    for (const std::string* text :
         {&said.camera_make, &said.camera_model, &said.lens, &said.software, &said.description, &said.captured_at,
          &said.author, &said.copyright, &said.usage_terms, &said.caption, &said.words})
        if (!is_text(*text)) return "what the file says of itself is no text: " + *text;
    for (const auto& figure : {said.exposure_s, said.f_number, said.iso, said.focal_length_mm, said.pixels_per_inch})
        if (!is_sensible(figure)) return "a figure of the camera is none";
    if (said.orientation_in_file < 1 || said.orientation_in_file > 8) return "an orientation that there is not";
    if (said.words.size() > longest_words_bytes) return "too many words";
    if (!is_text(exposure_in_words(said))) return "the exposure is no text";
    return {};
}

std::string wrong_with(const Picture& picture, const PictureReadOptions& options) {
    const SizePx size = picture.size();
    if (size.width_px < 1 || size.height_px < 1) return "a picture without pixels";
    const auto pixels = static_cast<std::uint64_t>(size.width_px) * static_cast<std::uint64_t>(size.height_px);
    if (pixels > options.max_pixels) return "more pixels than are read";
    if (picture.channels() != 1 && picture.channels() != 3) return "neither grey nor colour";
    for (const std::string& note : picture.notes)
        if (!note.ends_with('.') || !is_text(note)) return "a note that is no sentence: " + note;
    return wrong_with(picture.metadata);
}

std::string wrong_with_view(const Picture& picture) {
    const auto small = preview_of(picture, small_side_px);
    if (!small) return wrong_with(small.error());
    if (small->size() != fitted_size(picture.size(), small_side_px)) return "a small view of another size";
    return std::isfinite(character_of(*small).mean_chroma) ? std::string() : "a character that is no number";
}

std::string wrong_with_probe(const std::filesystem::path& file, const PictureReadOptions& options,
                             const Expected<Picture>& picture) {
    const auto probe = probe_picture(file, options);
    if (!probe) return picture ? "read but not probed: " + probe.error().message : wrong_with(probe.error());
    if (picture && (probe->kind != picture->kind || probe->size != picture->size())) return "probed with another size";
    if (picture && (probe->channels != picture->channels() || probe->bits != picture->bits()))
        return "probed with other channels or bits";
    return wrong_with(probe->metadata);
}

std::string first_of(std::initializer_list<std::string> complaints) {
    for (const std::string& complaint : complaints)
        if (!complaint.empty()) return complaint;
    return {};
}

}  // namespace

std::string broken_promise(const std::filesystem::path& file, const PictureReadOptions& options) {
    const auto picture = read_picture(file, options);
    const std::string of_probe = wrong_with_probe(file, options, picture);
    if (!picture) return first_of({wrong_with(picture.error()), of_probe});
    return first_of({wrong_with(*picture, options), wrong_with_view(*picture), of_probe});
}

}  // namespace tedge::imaging::samples
