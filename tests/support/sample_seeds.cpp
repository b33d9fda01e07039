#include "sample_seeds.hpp"

#include <exiv2/exiv2.hpp>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

namespace tedge::imaging::samples {
namespace {

constexpr int wide = 20;
constexpr int high = 14;

using Seeds = std::vector<Seed>;

std::string encoded(const Picture& picture, PictureFormat format) {
    return encode_picture(picture, format).value();
}

Picture with_profile(std::variant<Raster8, Raster16> pixels, std::vector<std::uint8_t> icc) {
    return {.pixels = std::move(pixels), .icc_profile = std::move(icc)};
}

void add_jpegs(Seeds& seeds) {
    const Raster8 colour = smooth8(wide, high, 3);
    seeds.push_back({"jpeg", "colour", encode_picture(colour, PictureFormat::jpeg).value()});
    seeds.push_back(
        {"jpeg", "half-chroma", encode_picture(colour, PictureFormat::jpeg, {.jpeg_full_chroma = false}).value()});
    seeds.push_back({"jpeg", "grey", encode_picture(smooth8(wide, high, 1), PictureFormat::jpeg).value()});
    seeds.push_back({"jpeg", "progressive", progressive_jpeg_bytes(colour)});
    seeds.push_back({"jpeg", "turned", with_exif(progressive_jpeg_bytes(colour), exif_with_orientation(6))});
}

void add_pngs(Seeds& seeds) {
    const auto add = [&](const char* name, const auto& raster, const PngMake& make) {
        seeds.push_back({"png", name, png_from_rows(raster.width_px(), raster.height_px(), rows_of(raster), make)});
    };
    add("colour", smooth8(wide, high, 3), {});
    add("alpha", smooth8(wide, high, 4), {.colour_type = 6});
    add("deep", exact16(wide, high, 3), {.bits = 16});
    add("deep-grey-alpha-interlaced", exact16(wide, high, 2), {.colour_type = 4, .bits = 16, .interlaced = true});
    add("linear-grey", smooth8(wide, high, 1), {.colour_type = 0, .gamma = 1.0});
    add("interlaced", smooth8(wide, high, 3), {.interlaced = true, .exif = exif_with_orientation(8)});
    const PngMake palette{.colour_type = 3,
                          .bits = 2,
                          .palette = {255, 0, 0, 0, 255, 0, 0, 0, 255, 9, 9, 9},
                          .palette_alpha = {255, 0, 128}};
    seeds.push_back({"png", "palette", png_from_rows(4, 2, {{0b00'01'10'11}, {0b11'10'01'00}}, palette)});
    seeds.push_back({"png", "bits", png_from_rows(8, 1, {{0b10100001}}, {.colour_type = 0, .bits = 1})});
}

void add_webps_and_heifs(Seeds& seeds) {
    seeds.push_back({"webp", "lossless", webp_bytes(smooth8(wide, high, 3))});
    seeds.push_back({"webp", "lossless-alpha", webp_bytes(smooth8(wide, high, 4))});
    seeds.push_back({"webp", "lossy", webp_bytes(smooth8(wide, high, 3), 60.0F)});
    seeds.push_back({"webp", "lossy-alpha", webp_bytes(noisy8(wide, high, 4), 60.0F)});
    seeds.push_back({"heif", "hevc", heic_bytes(smooth8(64, 64, 3))});
    seeds.push_back({"heif", "hevc-noise", heic_bytes(noisy8(64, 64, 3))});
    seeds.push_back({"heif", "hevc-profile", heic_bytes(smooth8(64, 64, 3), wide_gamut_profile())});
}

void add_tiffs(Seeds& seeds) {
    const TemporaryFolder folder;
    const auto add = [&](const char* name, const auto& raster, const TiffMake& make) {
        write_tiff(folder / "t", raster.width_px(), raster.height_px(), rows_of(raster), make);
        seeds.push_back({"tiff", name, read_file(folder / "t").value()});
    };
    const Raster8 colour = smooth8(32, 24, 3);
    // Compression as TIFF numbers it: 5 LZW, 7 JPEG, 8 Deflate, 32773 PackBits, 34925 LZMA, 50000 Zstandard.
    for (const int compression : {1, 5, 7, 8, 32773, 34925, 50000})
        add(("packed-" + std::to_string(compression)).c_str(), colour, {.compression = compression});
    add("ycbcr-jpeg-tiles", colour, {.photometric = 6, .tile = 16, .compression = 7});
    add("planes", colour, {.planes_apart = true, .compression = 5, .predictor = 2});
    add("alpha", smooth8(wide, high, 4), {.samples = 4, .orientation = 5, .alpha = 1});
    add("inks", smooth8(wide, high, 4),
        {.samples = 4, .photometric = 5, .compression = 5, .icc = small_inks_profile()});
    add("deep-tiles", exact16(32, 24, 3), {.bits = 16, .tile = 16, .big = true});
    add("deep-big-endian", exact16(wide, high, 1), {.bits = 16, .samples = 1, .photometric = 0, .big_endian = true});
    add("pages", smooth8(wide, high, 1), {.samples = 1, .photometric = 1, .pages = 3});
    RasterF light(16, 16, 1);
    for (std::size_t i = 0; i < light.samples().size(); ++i) light.samples()[i] = static_cast<float>(i) / 200.0F;
    add("floating", light,
        {.bits = 32, .samples = 1, .photometric = 1, .tile = 16, .compression = 8, .sample_format = 3, .predictor = 3});
    std::vector<std::uint16_t> map(3 * 16, 0x8080);
    write_tiff(folder / "t", 2, 1, {{0x5A}}, {.bits = 4, .samples = 1, .photometric = 3, .colour_map = map});
    seeds.push_back({"tiff", "palette", read_file(folder / "t").value()});
    write_tiff(folder / "t", 16, 2, {{0x0F, 0x33}, {0xF0, 0x01}},
               {.bits = 1, .samples = 1, .photometric = 0, .compression = 4});
    seeds.push_back({"tiff", "fax", read_file(folder / "t").value()});
}

// Little more than the heads: what the decoder makes of a camera's name and of its first offsets.
void add_raws(Seeds& seeds) {
    using namespace std::string_literals;
    const TemporaryFolder folder;
    for (const int orientation : {1, 8}) {
        write_dng(folder / "d", 32, 24, orientation);
        seeds.push_back({"raw", "dng-" + std::to_string(orientation), read_file(folder / "d").value()});
    }
    const std::string dng = seeds.back().bytes;
    const std::string rest = dng.substr(4);
    // The same directory behind the first bytes of other makers: Olympus, Panasonic, and a Canon CR2's mark.
    seeds.push_back({"raw", "olympus", "IIRO" + rest});
    seeds.push_back({"raw", "panasonic", "IIU\0"s + rest});
    seeds.push_back({"raw", "fujifilm", "FUJIFILMCCD-RAW 0201FF389501FinePix"s + std::string(100, '\0') + rest});
    seeds.push_back({"raw", "minolta", "\0MRM\0\0\0\x40\0PRD\0\0\0\x18"s + std::string(80, '\x02') + rest});
    seeds.push_back({"raw", "sigma", "FOVb\0\0\2\0"s + std::string(100, '\0') + rest});
    seeds.push_back({"raw", "canon-crw", "II\x1a\0\0\0HEAPCCDR"s + rest});
    seeds.push_back({"raw", "canon-cr3",
                     "\0\0\0\x18"
                     "ftypcrx \0\0\0\1crx isom"s +
                         rest});
}

void write_everything(Exiv2::Image& image) {
    auto& exif = image.exifData();
    exif["Exif.Image.Make"] = "Invented";
    exif["Exif.Image.Artist"] = "Exif Person";
    exif["Exif.Image.XResolution"] = Exiv2::Rational(300, 1);
    exif["Exif.Photo.LensModel"] = "85 mm f/2.8";
    exif["Exif.Photo.ExposureTime"] = Exiv2::Rational(1, 60);
    exif["Exif.Photo.DateTimeOriginal"] = "2026:03:03 14:05:00";
    exif["Exif.Photo.UserComment"] = "charset=Ascii seen under the north window";
    exif["Exif.GPSInfo.GPSLatitude"] = "51/1 30/1 0/1";
    image.iptcData()["Iptc.Application2.Byline"] = "Iptc Person";
    image.iptcData()["Iptc.Application2.Keywords"] = "craquelure";
    auto& xmp = image.xmpData();
    xmp["Xmp.dc.creator"] = "Xmp Person";
    xmp["Xmp.dc.description"] = "lang=x-default After the first swab";
    xmp["Xmp.dc.subject"] = "tacking margin";
    xmp["Xmp.xmpRights.UsageTerms"] = "lang=x-default CC BY 4.0";
}

void add_metadata(Seeds& seeds) {
    const TemporaryFolder folder;
    const Raster8 small = smooth8(2, 2, 3);
    const std::vector<Seed> bare{{"metadata", "jpeg", encode_picture(small, PictureFormat::jpeg).value()},
                                 {"metadata", "png", encode_picture(small, PictureFormat::png).value()},
                                 {"metadata", "tiff", encode_picture(small, PictureFormat::tiff).value()},
                                 {"metadata", "webp", webp_bytes(small)}};
    for (const Seed& seed : bare) {
        save(folder / "m", seed.bytes);
        {
            const auto image = Exiv2::ImageFactory::open((folder / "m").string());
            image->readMetadata();
            write_everything(*image);
            image->writeMetadata();
        }
        seeds.push_back({seed.way, seed.name, read_file(folder / "m").value()});
    }
}

void add_profiles(Seeds& seeds) {
    const Raster8 small = smooth8(2, 2, 3);
    seeds.push_back({"icc", "jpeg-wide", encoded(with_profile(small, wide_gamut_profile()), PictureFormat::jpeg)});
    seeds.push_back({"icc", "tiff-srgb", encoded(with_profile(small, library_srgb_profile()), PictureFormat::tiff)});
    seeds.push_back({"icc", "tiff-table", encoded(with_profile(small, table_profile()), PictureFormat::tiff)});
    seeds.push_back({"icc", "jpeg-inks", cmyk_jpeg_bytes(smooth8(2, 2, 4), small_inks_profile())});
}

}  // namespace

std::vector<Seed> picture_seeds() {
    Seeds seeds;
    add_jpegs(seeds);
    add_pngs(seeds);
    add_webps_and_heifs(seeds);
    add_tiffs(seeds);
    add_raws(seeds);
    add_metadata(seeds);
    add_profiles(seeds);
    return seeds;
}

}  // namespace tedge::imaging::samples
