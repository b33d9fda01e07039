// Files made to do harm, and those that the fuzzer found: a sentence each, and no more memory than their pixels take.
#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <stop_token>

#include "picture_promises.hpp"
#include "sample_files.hpp"
#include "sample_seeds.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

// Whoever asks for half a gigabyte at once here has believed a file's word: the sanitizer ends the program.
extern "C" const char* __asan_default_options();
extern "C" const char* __asan_default_options() {
    return "max_allocation_size_mb=512";
}

using namespace tedge;
using namespace tedge::imaging;
using namespace std::string_literals;

namespace {

// The most memory that this program ever held, in MB (getrusage, POSIX; Linux counts in kB).
long peak_mb() {
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    return used.ru_maxrss / 1024;
}

constexpr long a_little_mb = 100;  // a tenth of what the pixels would take that the heads below claim

std::string big_endian(unsigned number, unsigned bytes) {
    std::string out;
    while (bytes-- > 0) out += static_cast<char>(number >> (8 * bytes));
    return out;
}

// A chunk of a PNG (ISO/IEC 15948): the checksum is computed bit by bit, as annex D has it.
std::string png_chunk(const std::string& type_and_data) {
    std::uint32_t crc = 0xFFFFFFFFU;
    for (const char c : type_and_data) {
        crc ^= static_cast<std::uint8_t>(c);
        for (int bit = 0; bit < 8; ++bit) crc = (crc & 1U) != 0 ? (crc >> 1U) ^ 0xEDB88320U : crc >> 1U;
    }
    return big_endian(static_cast<unsigned>(type_and_data.size() - 4), 4) + type_and_data + big_endian(~crc, 4);
}

// The last long or short value of a directory entry of a little-endian TIFF with a single page.
void set_tag(std::string& tiff, unsigned tag, std::uint32_t value) {
    const auto byte = [&](std::size_t at) { return static_cast<std::uint8_t>(tiff.at(at)); };
    std::size_t at = byte(4) | static_cast<unsigned>(byte(5)) << 8U | static_cast<unsigned>(byte(6)) << 16U;
    const unsigned entries = byte(at) | static_cast<unsigned>(byte(at + 1)) << 8U;
    at += 2;
    for (unsigned i = 0; i < entries; ++i, at += 12) {
        if ((byte(at) | static_cast<unsigned>(byte(at + 1)) << 8U) != tag) continue;
        tiff.at(at + 2) = 4;  // LONG
        for (unsigned n = 0; n < 4; ++n) tiff.at(at + 8 + n) = static_cast<char>(value >> (8 * n));
        return;
    }
    FAIL("the tag " << tag << " is not in the file");
}

std::string tiff_bytes(const samples::TiffMake& make, const std::vector<std::vector<std::uint8_t>>& rows, int width) {
    const TemporaryFolder folder;
    samples::write_tiff(folder / "t.tif", width, static_cast<int>(rows.size()), rows, make);
    return read_file(folder / "t.tif").value();
}

Error refused(const std::string& bytes, const PictureReadOptions& options = {}) {
    const TemporaryFolder folder;
    samples::save(folder / "hostile", bytes);
    CHECK(samples::broken_promise(folder / "hostile", options).empty());
    const auto picture = read_picture(folder / "hostile", options);
    REQUIRE_FALSE(picture);
    return picture.error();
}

}  // namespace

TEST_CASE("A head that claims 16,000 by 16,000 pixels and has none takes no memory for them") {
    const long before = peak_mb();
    // ITU-T T.81: the size stands five bytes behind the marker of the frame (SOF0), the pixels behind SOS.
    std::string jpeg = encode_picture(samples::smooth8(8, 8, 3), PictureFormat::jpeg).value();
    const std::size_t frame = jpeg.find("\xFF\xC0");
    jpeg.replace(frame + 5, 4, big_endian(16'000, 2) + big_endian(16'000, 2));
    CHECK(refused(jpeg.substr(0, jpeg.size() - 30)).code == "picture.damaged");

    const std::string png = "\x89PNG\r\n\x1a\n"s +
                            png_chunk("IHDR" + big_endian(16'000, 4) + big_endian(16'000, 4) + "\x10\x02\0\0\0"s) +
                            png_chunk("IDAT\x78\x9c\x03\0"s) + png_chunk("IEND");
    CHECK(refused(png).code == "picture.damaged");

    std::string tiff = tiff_bytes({.photometric = 2}, {std::vector<std::uint8_t>(48, 7)}, 16);
    for (const unsigned tag : {256U, 257U, 278U}) set_tag(tiff, tag, 16'000);  // width, height, rows of a strip
    set_tag(tiff, 279, 768'000'000);                                           // bytes of the strip
    const Error cut = refused(tiff);
    CHECK(cut.code == "picture.damaged");
    CHECK(cut.message.find("end in row 0 of 16000") != std::string::npos);
    CHECK(peak_mb() - before < a_little_mb);
}

TEST_CASE("Eight channels of floating-point numbers may not take more than the largest picture does") {
    std::string tiff = tiff_bytes({.bits = 32, .samples = 8, .photometric = 1, .sample_format = 3},
                                  {std::vector<std::uint8_t>(256)}, 8);
    for (const unsigned tag : {256U, 257U}) set_tag(tiff, tag, 17'000);  // 289 megapixels of 32 bytes
    const Error error = refused(tiff);
    CHECK(error.code == "picture.too-large");
    CHECK(error.message == "hostile says that its pixels take 9248 MB, more than the 2400 MB that are read.");
}

TEST_CASE("Texts of a PNG that swell a thousandfold are not kept") {
    const long before = peak_mb();
    // RFC 1951 and 1950: a stored zlib stream of zeros swells as far as Deflate goes when PNG compresses it.
    const Raster8 zeros(8000, 4000, 1);
    const std::string swollen = encode_picture(zeros, PictureFormat::png, {.png_compression = 9}).value();
    const std::size_t data = swollen.find("IDAT");
    std::string deflated;
    for (std::size_t at = data; swollen.compare(at, 4, "IDAT") == 0;) {
        const auto byte = [&](std::size_t i) {
            return static_cast<std::size_t>(static_cast<std::uint8_t>(swollen[i]));
        };
        const std::size_t size = byte(at - 4) << 24U | byte(at - 3) << 16U | byte(at - 2) << 8U | byte(at - 1);
        deflated += swollen.substr(at + 4, size);
        at += size + 12;
    }
    CHECK(deflated.size() < 64'000);
    std::string png = encode_picture(samples::smooth8(8, 8, 3), PictureFormat::png).value();
    const std::string text = png_chunk("zTXtComment\0\0"s + deflated);
    std::string texts;
    for (int i = 0; i < 20; ++i) texts += text;
    const TemporaryFolder folder;
    samples::save(folder / "texts.png", png.insert(33, texts));  // behind the signature and IHDR
    REQUIRE(read_picture(folder / "texts.png"));
    CHECK(peak_mb() - before < 3 * a_little_mb);  // the zeros above and their rows count too; the texts are 640 MB
}

TEST_CASE("A file larger than any picture is refused by its size before it is read") {
    const TemporaryFolder folder;
    samples::save(folder / "vast.jpg", "\xFF\xD8\xFF\xE0");
    std::filesystem::resize_file(folder / "vast.jpg", std::uintmax_t{5} << 30U);  // a hole: it takes no room
    const long before = peak_mb();
    const auto picture = read_picture(folder / "vast.jpg");
    REQUIRE_FALSE(picture);
    CHECK(picture.error().code == "picture.too-large");
    CHECK(picture.error().message == "vast.jpg has 5368709120 bytes, more than any JPEG file that is read.");
    CHECK(peak_mb() - before < a_little_mb);
}

TEST_CASE("A JPEG that goes over its pixels without end is refused, and stops when asked") {
    const Raster8 grey = samples::smooth8(64, 64, 1);
    const TemporaryFolder folder;
    samples::save(folder / "some.jpg", samples::repeating_jpeg_bytes(grey, 20));
    REQUIRE(read_picture(folder / "some.jpg"));
    const std::string endless = samples::repeating_jpeg_bytes(grey, 600);
    CHECK(refused(endless).message == "hostile is a damaged JPEG file: its pixels come in more than 500 passes.");

    samples::save(folder / "endless.jpg", endless);
    std::stop_source asked;
    asked.request_stop();
    CHECK(read_picture(folder / "endless.jpg", {}, Progress(asked.get_token(), {})).error().code == "cancelled");
}

TEST_CASE("A camera's name that is no text is left out") {
    const TemporaryFolder folder;
    samples::write_dng(folder / "d.dng", 96, 64, 1);
    std::string dng = read_file(folder / "d.dng").value();
    for (std::size_t at = dng.find("Invented"); at != std::string::npos; at = dng.find("Invented", at + 1))
        dng.replace(at, 4, "\xFF\xFE\xC0\x80");
    samples::save(folder / "named.dng", dng);
    CHECK(samples::broken_promise(folder / "named.dng").empty());
    REQUIRE(read_picture(folder / "named.dng"));
    CHECK(read_picture(folder / "named.dng")->metadata.camera_make.empty());
}

TEST_CASE("What the fuzzer starts from is sound, so that it gets behind the heads") {
    const TemporaryFolder folder;
    for (const samples::Seed& seed : samples::picture_seeds()) {
        CAPTURE(seed.way, seed.name);
        samples::save(folder / "seed", seed.bytes);
        CHECK(samples::broken_promise(folder / "seed").empty());
        const bool whole = seed.way != "raw" || seed.name.starts_with("dng");
        if (whole) CHECK(read_picture(folder / "seed").has_value());
    }
}

TEST_CASE("Files that once did harm keep every promise") {
    const std::filesystem::path kept = std::filesystem::path(TEDGE_SOURCE_DIR) / "tests/imaging/hostile";
    int seen = 0;
    for (const auto& entry : std::filesystem::directory_iterator(kept)) {
        CAPTURE(entry.path().filename().string());
        CHECK(samples::broken_promise(entry.path()) == "");
        ++seen;
    }
    CHECK(seen > 0);
}
