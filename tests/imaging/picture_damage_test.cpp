// Damaged, absurd and hostile files: a sentence each, never a crash (run under the sanitizers).
#include <catch2/catch.hpp>
#include <random>

#include "sample_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::imaging;

namespace {

struct Sample {
    std::string name;
    std::string bytes;
};

std::string tiff_sample(const samples::TiffMake& make) {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::noisy8(60, 50, 3);
    samples::write_tiff(folder / "t.tif", 60, 50, samples::rows_of(pixels), make);
    return read_file(folder / "t.tif").value();
}

std::string dng_sample() {
    const TemporaryFolder folder;
    samples::write_dng(folder / "d.dng", 96, 64, 1);
    return read_file(folder / "d.dng").value();
}

// In each of these the pixels come last, so every cut loses some.
std::vector<Sample> every_format() {
    const Raster8 pixels = samples::noisy8(60, 50, 3);
    return {{"jpeg", encode_picture(pixels, PictureFormat::jpeg).value()},
            {"progressive jpeg", samples::progressive_jpeg_bytes(pixels)},
            {"png", encode_picture(pixels, PictureFormat::png).value()},
            {"tiff", encode_picture(pixels, PictureFormat::tiff).value()},
            {"tiff lzw", tiff_sample({.compression = 5})},
            {"tiff jpeg", tiff_sample({.photometric = 6, .tile = 16, .compression = 7})},
            {"webp", samples::webp_bytes(pixels)},
            {"heic", samples::heic_bytes(pixels)},
            {"raw", dng_sample()}};
}

void check_is_a_sentence(const Error& error) {
    CHECK(error.code.starts_with("picture."));
    CHECK(error.message.ends_with('.'));
    CHECK_FALSE(error.next.empty());
}

}  // namespace

TEST_CASE("an empty file, a missing one and a folder") {
    const TemporaryFolder folder;
    samples::save(folder / "nothing.jpg", "");
    const auto empty = read_picture(folder / "nothing.jpg");
    REQUIRE_FALSE(empty);
    CHECK(empty.error().code == "picture.empty");
    CHECK(empty.error().message == "nothing.jpg is empty: it has no bytes at all.");
    CHECK(read_picture(folder / "none.jpg").error().code == "files.missing");
    CHECK_FALSE(read_picture(folder.path()));
    CHECK(probe_picture(folder / "none.jpg").error().code == "files.missing");
}

TEST_CASE("a PNG head of 60,000 by 60,000 pixels is refused before anything is allocated") {
    const TemporaryFolder folder;
    std::string png = encode_picture(samples::smooth8(4, 4, 3), PictureFormat::png).value();
    const unsigned char side[4] = {0x00, 0x00, 0xEA, 0x60};
    for (std::size_t i = 0; i < 4; ++i) png[16 + i] = png[20 + i] = static_cast<char>(side[i]);
    const unsigned char checksum[4] = {0x0F, 0xB0, 0xE2, 0x15};  // CRC-32 of the changed IHDR, computed apart
    for (std::size_t i = 0; i < 4; ++i) png[29 + i] = static_cast<char>(checksum[i]);
    samples::save(folder / "vast.png", png);
    const auto vast = read_picture(folder / "vast.png");
    REQUIRE_FALSE(vast);
    CHECK(vast.error().code == "picture.too-large");
    CHECK(vast.error().message ==
          "vast.png says that it has 60000 × 60000 pixels, more than the 300 megapixels that are read.");
    CHECK(probe_picture(folder / "vast.png").error().code == "picture.too-large");
    REQUIRE(write_picture(folder / "small.png", samples::smooth8(30, 20, 3), PictureFormat::png));
    CHECK(read_picture(folder / "small.png", {.max_pixels = 599}).error().code == "picture.too-large");
    CHECK(read_picture(folder / "small.png", {.max_pixels = 600}));
}

TEST_CASE("every format cut short anywhere is refused in a sentence") {
    const TemporaryFolder folder;
    std::mt19937 random(20260303);
    for (const Sample& sample : every_format()) {
        INFO(sample.name);
        samples::save(folder / "whole", sample.bytes);
        REQUIRE(read_picture(folder / "whole"));
        for (int i = 0; i < 50; ++i) {
            // Up to 16 bytes before the end: what follows there may be no pixel.
            const std::size_t kept = random() % (sample.bytes.size() - 16);
            INFO("kept " << kept << " of " << sample.bytes.size());
            samples::save(folder / "cut", sample.bytes.substr(0, kept));
            const auto cut = read_picture(folder / "cut");
            const bool refused = !cut;
            CHECK(refused);
            if (!cut) check_is_a_sentence(cut.error());
            static_cast<void>(probe_picture(folder / "cut"));
        }
    }
}

TEST_CASE("every format with bytes changed never crashes") {
    const TemporaryFolder folder;
    std::mt19937 random(19990418);
    for (const Sample& sample : every_format())
        for (int i = 0; i < 60; ++i) {
            std::string changed = sample.bytes;
            // Half of the changes go into the head, where sizes and offsets stand.
            const std::size_t reach = i % 2 == 0 ? std::min<std::size_t>(changed.size(), 200) : changed.size();
            for (unsigned n = 0; n <= random() % 4; ++n) changed[random() % reach] = static_cast<char>(random());
            samples::save(folder / "changed", changed);
            const auto picture = read_picture(folder / "changed", {.max_pixels = 4'000'000});
            if (!picture) check_is_a_sentence(picture.error());
            static_cast<void>(probe_picture(folder / "changed"));
        }
}

TEST_CASE("tails of other files glued on do not disturb") {
    const TemporaryFolder folder;
    const Raster8 pixels = samples::noisy8(60, 50, 3);
    // Telephones append films to their JPEGs.
    samples::save(folder / "motion.jpg", encode_picture(pixels, PictureFormat::jpeg).value() + std::string(5000, 'x'));
    CHECK(read_picture(folder / "motion.jpg"));
}

TEST_CASE("a colour profile that is not whole does not make sound pixels damaged") {
    const TemporaryFolder folder;
    const Raster8 colour = samples::smooth8(61, 47, 3);
    const std::string jpeg = encode_picture(colour, PictureFormat::jpeg, {.jpeg_quality = 100}).value();
    // ICC.1:2010, annex B.4: profiles in APP2 markers, each with its number and how many there are. Here 1 of 3 alone.
    using namespace std::string_literals;
    const std::string part = "ICC_PROFILE\0\x01\x03"s + std::string(200, 'x');
    const std::string marker = "\xff\xe2"s + static_cast<char>(0) + static_cast<char>(part.size() + 2) + part;
    samples::save(folder / "third.jpg", jpeg.substr(0, 2) + marker + jpeg.substr(2));
    const auto picture = read_picture(folder / "third.jpg");
    INFO((picture ? std::string() : picture.error().message));
    REQUIRE(picture);
    CHECK(picture->icc_profile.empty());
    CHECK(picture->notes.size() == 1);
    CHECK(samples::largest_difference(std::get<Raster8>(picture->pixels), colour) <= 3);
}

TEST_CASE("a picture with too long a side is refused for its side, not for its megapixels") {
    const TemporaryFolder folder;
    std::vector<std::vector<std::uint8_t>> row(1, std::vector<std::uint8_t>(70'000));
    samples::save(folder / "strip.png", samples::png_from_rows(70'000, 1, row, {.colour_type = 0}));
    const auto picture = read_picture(folder / "strip.png");
    REQUIRE_FALSE(picture);
    CHECK(picture.error().code == "picture.too-large");
    CHECK(picture.error().message.find("65535 on a side") != std::string::npos);
}
