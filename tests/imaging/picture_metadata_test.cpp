// What people wrote into files: Exif 2.32, IPTC-IIM 4.2 and XMP, put in by the reference library (Exiv2).
#include <catch2/catch.hpp>
#include <exiv2/exiv2.hpp>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/srgb_view.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

std::filesystem::path plain_file(const TemporaryFolder& folder, PictureFormat format) {
    const auto file = folder / "plain.bin";
    samples::save(file, encode_picture(samples::smooth8(16, 12, 3), format).value());
    return file;
}

template <class Fill>
PictureMetadata with(const std::filesystem::path& file, const Fill& fill) {
    {
        const auto image = Exiv2::ImageFactory::open(file.string());
        image->readMetadata();
        fill(*image);
        image->writeMetadata();
    }
    const auto picture = read_picture(file);
    REQUIRE(picture);
    return picture->metadata;
}

bool says(const PictureMetadata& metadata, std::string_view words) {
    return metadata.words.find(words) != std::string::npos;
}

void write_everything(Exiv2::Image& image) {
    auto& exif = image.exifData();
    exif["Exif.Image.Make"] = "Invented";
    exif["Exif.Image.Model"] = "Plate One";
    exif["Exif.Image.Artist"] = "Exif Person";
    exif["Exif.Image.Copyright"] = "(c) Exif Person";
    exif["Exif.Photo.LensModel"] = "85 mm f/2.8";
    exif["Exif.Photo.ExposureTime"] = Exiv2::Rational(1, 60);
    exif["Exif.Photo.FNumber"] = Exiv2::Rational(8, 1);
    exif["Exif.Photo.ISOSpeedRatings"] = std::uint16_t{100};
    exif["Exif.Photo.FocalLength"] = Exiv2::Rational(85, 1);
    exif["Exif.Photo.DateTimeOriginal"] = "2026:03:03 14:05:00";
    exif["Exif.Photo.BodySerialNumber"] = "SN-4711-0815";
    exif["Exif.Photo.LensSerialNumber"] = "LN-999-123";
    exif["Exif.Photo.UserComment"] = "charset=Ascii seen under the north window";
    exif["Exif.GPSInfo.GPSLatitudeRef"] = "N";
    exif["Exif.GPSInfo.GPSLatitude"] = "51/1 30/1 0/1";
    exif["Exif.GPSInfo.GPSAreaInformation"] = "charset=Ascii the strong room";
    auto& iptc = image.iptcData();
    iptc["Iptc.Application2.Byline"] = "Iptc Person";
    iptc["Iptc.Application2.Keywords"] = "craquelure";
    iptc["Iptc.Application2.Headline"] = "Ferry at dusk";
    auto& xmp = image.xmpData();
    xmp["Xmp.dc.creator"] = "Xmp Person";
    xmp["Xmp.dc.description"] = "lang=x-default After the first swab";
    xmp["Xmp.dc.subject"] = "tacking margin";
    xmp["Xmp.xmpRights.UsageTerms"] = "lang=x-default CC BY 4.0";
    xmp["Xmp.aux.SerialNumber"] = "SN-4711-0815";
}

}  // namespace

// DCF 2.0 (JEITA CP-3461): a file in Adobe RGB carries no profile but ColorSpace 0xFFFF and the index R03.
TEST_CASE("A JPEG without a profile whose Exif says Adobe RGB is read as that") {
    const TemporaryFolder folder;
    Raster8 flat(16, 16, 3);
    for (int i = 0; i < 256; ++i) {
        const std::uint8_t colour[3] = {160, 120, 90};
        std::copy(std::begin(colour), std::end(colour), &flat.at(i % 16, i / 16));
    }
    const std::string bare = samples::progressive_jpeg_bytes(flat);
    const auto read_with = [&](const std::string& jpeg, std::uint16_t colour_space, const char* index) {
        const auto file = folder / "plain.bin";
        samples::save(file, jpeg);
        with(file, [&](Exiv2::Image& image) {
            image.exifData()["Exif.Photo.ColorSpace"] = colour_space;
            if (*index != 0) image.exifData()["Exif.Iop.InteroperabilityIndex"] = index;
        });
        auto picture = read_picture(file);
        REQUIRE(picture);
        CHECK(probe_picture(file)->has_icc_profile == !picture->icc_profile.empty());
        return std::move(*picture);
    };
    const Picture adobe = read_with(bare, 0xFFFF, "R03");
    REQUIRE(adobe.notes.size() == 1);
    CHECK(adobe.notes[0].find("Adobe RGB") != std::string::npos);
    // By the matrices of the Adobe RGB (1998) encoding and IEC 61966-2-1: 174.5, 120.8, 87.9.
    const Raster8 seen = to_srgb8(adobe).value();
    CHECK(std::abs(seen.at(8, 8, 0) - 174) <= 3);
    CHECK(std::abs(seen.at(8, 8, 1) - 121) <= 3);
    CHECK(std::abs(seen.at(8, 8, 2) - 88) <= 3);

    CHECK(read_with(bare, 1, "R98").notes.empty());
    const Picture unknown = read_with(bare, 0xFFFF, "");
    CHECK(unknown.icc_profile.empty());
    REQUIRE(unknown.notes.size() == 1);
    CHECK(unknown.notes[0].find("sRGB is assumed") != std::string::npos);
    // What a profile says goes before what Exif says.
    const Picture marked = read_with(encode_picture(flat, PictureFormat::jpeg).value(), 0xFFFF, "R03");
    CHECK(std::abs(to_srgb8(marked).value().at(8, 8, 0) - 160) <= 3);
    CHECK(marked.notes.empty());
}

TEST_CASE("Facts and words of Exif, IPTC and XMP are read from each format that carries them") {
    const TemporaryFolder folder;
    for (const auto format : {PictureFormat::jpeg, PictureFormat::png, PictureFormat::tiff}) {
        INFO("format " << static_cast<int>(format));
        const PictureMetadata metadata = with(plain_file(folder, format), write_everything);
        CHECK(metadata.author == "Xmp Person");  // XMP before IPTC before Exif
        CHECK(metadata.copyright == "(c) Exif Person");
        CHECK(metadata.usage_terms == "CC BY 4.0");
        CHECK(metadata.caption == "After the first swab");
        CHECK(metadata.lens == "85 mm f/2.8");
        CHECK(metadata.captured_at == "2026-03-03T14:05:00");
        CHECK(exposure_in_words(metadata) == "1/60 s, f/8, ISO 100, 85 mm");
        for (const char* word : {"craquelure", "Ferry at dusk", "tacking margin", "north window", "Iptc Person"})
            CHECK(says(metadata, word));
    }
}

TEST_CASE("Neither the place nor a serial number is among the words; only that there is a place") {
    const TemporaryFolder folder;
    const PictureMetadata metadata = with(plain_file(folder, PictureFormat::jpeg), write_everything);
    CHECK(metadata.has_location);
    for (const char* secret : {"4711", "999", "51", "strong room"}) CHECK_FALSE(says(metadata, secret));
}

// IPTC Photo Metadata Standard: City, Sublocation, Province or State, Country (in both notations), Location Created.
TEST_CASE("A place that a file names is told as little as one that it has in degrees") {
    const TemporaryFolder folder;
    const std::array<std::pair<const char*, const char*>, 6> xmp{{
        {"Xmp.photoshop.City", "Port Ambling"},
        {"Xmp.photoshop.State", "Westmarch"},
        {"Xmp.photoshop.Country", "Ruritania"},
        {"Xmp.iptc.Location", "Quillfeather's strong room"},
        {"Xmp.iptcExt.LocationCreated/iptcExt:City", "Otter Quay"},
        {"Xmp.iptcExt.LocationCreated/iptcExt:Sublocation", "Third floor"},
    }};
    for (const auto& [key, place] : xmp) {
        INFO(key);
        const PictureMetadata metadata =
            with(plain_file(folder, PictureFormat::jpeg), [&](Exiv2::Image& image) { image.xmpData()[key] = place; });
        CHECK(metadata.has_location);
        CHECK(metadata.words.empty());
    }
    const std::array<std::pair<const char*, const char*>, 6> iptc{{
        {"Iptc.Application2.City", "Port Ambling"},
        {"Iptc.Application2.SubLocation", "Quillfeather's strong room"},
        {"Iptc.Application2.ProvinceState", "Westmarch"},
        {"Iptc.Application2.CountryName", "Ruritania"},
        {"Iptc.Application2.CountryCode", "RUR"},
        {"Iptc.Application2.LocationName", "Otter Quay"},
    }};
    for (const auto& [key, place] : iptc) {
        INFO(key);
        const PictureMetadata metadata =
            with(plain_file(folder, PictureFormat::jpeg), [&](Exiv2::Image& image) { image.iptcData()[key] = place; });
        CHECK(metadata.has_location);
        CHECK(metadata.words.empty());
    }
    // What the picture shows may lie far away: no word of it either, and no place where it was taken.
    const PictureMetadata shown = with(plain_file(folder, PictureFormat::jpeg), [](Exiv2::Image& image) {
        Exiv2::XmpTextValue places;
        places.setXmpArrayType(Exiv2::XmpValue::xaBag);
        image.xmpData().add(Exiv2::XmpKey("Xmp.iptcExt.LocationShown"), &places);
        image.xmpData()["Xmp.iptcExt.LocationShown[1]/iptcExt:City"] = "Port Ambling";
        image.iptcData()["Iptc.Application2.Headline"] = "Ferry at dusk";
    });
    REQUIRE(read_file(folder / "plain.bin").value().find("Port Ambling") != std::string::npos);
    CHECK_FALSE(shown.has_location);
    CHECK_FALSE(says(shown, "Ambling"));
    CHECK(says(shown, "Ferry at dusk"));
}

TEST_CASE("Words are bounded, and words of an old program that are not UTF-8 are read as Latin-1") {
    const TemporaryFolder folder;
    const PictureMetadata metadata = with(plain_file(folder, PictureFormat::jpeg), [](Exiv2::Image& image) {
        image.iptcData()["Iptc.Application2.Byline"] = "Ren\xe9 Exemple";
        for (int i = 0; i < 300; ++i) {
            Exiv2::Iptcdatum keyword(Exiv2::IptcKey("Iptc.Application2.Keywords"));
            keyword.setValue("keyword with a number " + std::to_string(i));
            image.iptcData().add(keyword);
        }
        image.exifData()["Exif.Image.ImageDescription"] = std::string(5000, 'x') + "\n\x1b[2J";
    });
    CHECK(metadata.author == "René Exemple");
    CHECK(metadata.words.size() <= longest_words_bytes);
    CHECK(metadata.words.size() > longest_words_bytes - 40);
    CHECK(metadata.caption.size() == 500);
    CHECK(is_valid_utf8(metadata.words));
}

TEST_CASE("Long exposures are told in seconds, short ones as the dial has them") {
    PictureMetadata metadata;
    CHECK(exposure_in_words(metadata).empty());
    metadata.exposure_s = 2.5;
    CHECK(exposure_in_words(metadata) == "2.5 s");
    metadata.exposure_s = 0.0125;
    CHECK(exposure_in_words(metadata) == "1/80 s");
}
