// WebP by libwebp: stills, lossy and lossless, with or without alpha.
#include <webp/decode.h>
#include <webp/demux.h>

#include <memory>

#include "colour_profile.hpp"
#include "picture_alpha.hpp"
#include "picture_codecs.hpp"

namespace tedge::imaging {
namespace {

const std::uint8_t* data_of(const PictureJob& job) {
    return reinterpret_cast<const std::uint8_t*>(job.bytes.data());
}

std::unexpected<Error> refusal(const PictureJob& job, VP8StatusCode status) {
    switch (status) {
        case VP8_STATUS_NOT_ENOUGH_DATA:
            return job.damaged("it is cut short");
        case VP8_STATUS_OUT_OF_MEMORY:
            return out_of_memory(job.name);
        case VP8_STATUS_UNSUPPORTED_FEATURE:
            return job.unsupported("it uses a feature that the decoder does not know");
        default:
            return job.damaged("its compressed pixels are corrupt");
    }
}

Expected<WebPBitstreamFeatures> features_of(const PictureJob& job) {
    WebPBitstreamFeatures features{};
    const VP8StatusCode status = WebPGetFeatures(data_of(job), job.bytes.size(), &features);
    if (status != VP8_STATUS_OK) return refusal(job, status);
    const auto sized =
        job.check_size(static_cast<std::uint64_t>(features.width), static_cast<std::uint64_t>(features.height));
    if (!sized) return pass_on(sized);
    if (features.has_animation != 0) return job.unsupported("it is a film of several pictures");
    return features;
}

ProfileBytes profile_of(const PictureJob& job) {
    const WebPData data{data_of(job), job.bytes.size()};
    const std::unique_ptr<WebPDemuxer, void (*)(WebPDemuxer*)> demuxer(WebPDemux(&data), WebPDemuxDelete);
    if (!demuxer) return {};
    WebPChunkIterator chunk{};
    ProfileBytes profile;
    if (WebPDemuxGetChunk(demuxer.get(), "ICCP", 1, &chunk) != 0)
        profile.assign(chunk.chunk.bytes, chunk.chunk.bytes + chunk.chunk.size);
    WebPDemuxReleaseChunkIterator(&chunk);
    return profile;
}

Expected<Raster8> decoded(const PictureJob& job, const WebPBitstreamFeatures& features, int channels) {
    Raster8 pixels(features.width, features.height, channels);
    WebPDecoderConfig config{};
    if (WebPInitDecoderConfig(&config) == 0) return job.unsupported("the decoder is of another version");
    config.output.colorspace = channels == 4 ? MODE_RGBA : MODE_RGB;
    config.output.is_external_memory = 1;
    config.output.u.RGBA = {pixels.samples().data(), static_cast<int>(pixels.row_samples()), pixels.samples().size()};
    const VP8StatusCode status = WebPDecode(data_of(job), job.bytes.size(), &config);
    WebPFreeDecBuffer(&config.output);
    if (status != VP8_STATUS_OK) return refusal(job, status);
    return pixels;
}

}  // namespace

Expected<Picture> decode_webp(const PictureJob& job) {
    const auto features = features_of(job);
    if (!features) return pass_on(features);
    auto pixels = decoded(job, *features, features->has_alpha != 0 ? 4 : 3);
    if (!pixels) return pass_on(pixels);
    if (job.progress.stopped()) return cancelled();
    Picture picture{.kind = job.kind};
    picture.icc_profile = profile_of(job);
    if (pixels->channels() == 3) {
        picture.pixels = std::move(*pixels);
        return picture;
    }
    auto opaque = lay_on_white(*pixels, 3, false);
    picture.pixels = std::move(opaque.pixels);
    if (opaque.had_transparency) picture.notes.emplace_back(laid_on_white_note);
    return picture;
}

Expected<PictureProbe> probe_webp(const PictureJob& job) {
    const auto features = features_of(job);
    if (!features) return pass_on(features);
    PictureProbe probe{.kind = job.kind, .size = {features->width, features->height}};
    probe.has_icc_profile = !profile_of(job).empty();
    return probe;
}

}  // namespace tedge::imaging
