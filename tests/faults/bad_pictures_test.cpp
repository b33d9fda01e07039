// Files that are no photographs, or only the beginning of one: refused in one sentence, and the book is as it was.
#include <random>

#include "asked_program.hpp"
#include "sample_files.hpp"
#include "tedge/imaging/write_picture.hpp"

using namespace tedge;
namespace fs = std::filesystem;

namespace {

fs::path made(const fs::path& file, std::string_view bytes) {
    REQUIRE(write_file_durably(file, bytes).has_value());
    return file;
}

// The first `share` of a file.
fs::path cut(const fs::path& file, double share) {
    const std::string bytes = read_file(file).value();
    return made(file, bytes.substr(0, static_cast<std::size_t>(share * static_cast<double>(bytes.size()))));
}

fs::path noise_picture(const fs::path& file, imaging::PictureFormat format) {
    imaging::Raster8 raster(400, 300, 3);
    std::mt19937 noise(5);
    for (std::uint8_t& sample : raster.samples()) sample = static_cast<std::uint8_t>(noise());
    REQUIRE(imaging::write_picture(file, raster, format).has_value());
    return file;
}

// CRC-32 as PNG (ISO/IEC 15948, annex D) wants it over a chunk's type and data.
std::uint32_t crc32(std::string_view bytes) {
    std::uint32_t crc = 0xFFFFFFFFU;
    for (const char c : bytes) {
        crc ^= static_cast<std::uint8_t>(c);
        for (int bit = 0; bit < 8; ++bit) crc = (crc & 1U) != 0 ? (crc >> 1U) ^ 0xEDB88320U : crc >> 1U;
    }
    return ~crc;
}

std::string big_endian(std::uint32_t number) {
    std::string bytes;
    for (int shift = 24; shift >= 0; shift -= 8) bytes += static_cast<char>(number >> static_cast<unsigned>(shift));
    return bytes;
}

std::string chunk(const std::string& type, const std::string& data) {
    return big_endian(static_cast<std::uint32_t>(data.size())) + type + data + big_endian(crc32(type + data));
}

// A sound header that claims more than any disk holds, and next to nothing after it.
std::string png_of_60000_squared() {
    using namespace std::string_literals;
    return "\x89PNG\r\n\x1a\n"s + chunk("IHDR", big_endian(60'000) + big_endian(60'000) + "\x08\x02\0\0\0"s) +
           chunk("IDAT", "\x78\x9c\x03\0\0\0\0\x01"s) + chunk("IEND", "");
}

}  // namespace

TEST_CASE("What is no photograph is refused in one sentence and nothing of it stays") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    require_refused(book.adding(made(folder / "empty.jpg", "")), "picture.empty");
    require_refused(book.adding(made(folder / "letter.jpg", "Dear Sir, the picture is on its way.")),
                    "picture.not-a-picture");
    require_refused(book.adding(made(folder / "garbage.png", "\x89PNG\r\n\x1a\nnothing of the sort")),
                    "picture.damaged");
    require_refused(book.adding(made(folder / "garbage.jpg", "\xff\xd8\xff\xe0 and then no picture")),
                    "picture.damaged");
    require_refused(book.adding(folder / "not-there.jpg"), "files.missing");
    require_refused(book.adding(folder.path()), "files.unreadable");
    book.require_sound(1, 0);
}

TEST_CASE("A tiny file that claims 60,000 × 60,000 pixels is refused before any memory is asked for") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    require_refused(book.adding(made(folder / "huge.png", png_of_60000_squared())), "picture.too-large");
    book.require_sound(1, 0);
}

TEST_CASE("A photograph that was cut short is refused, or kept and marked when that is wanted") {
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    const fs::path jpeg = cut(noise_picture(folder / "cut.jpg", imaging::PictureFormat::jpeg), 0.6);
    const fs::path png = cut(noise_picture(folder / "cut.png", imaging::PictureFormat::png), 0.6);
    const fs::path tiff = cut(noise_picture(folder / "cut.tif", imaging::PictureFormat::tiff), 0.6);
    imaging::samples::write_dng(folder / "cut.dng", 96, 64, 1);
    for (const fs::path& file : {jpeg, png, tiff, cut(folder / "cut.dng", 0.6)}) {
        require_refused(book.adding(file), "picture.damaged");
    }
    book.require_sound(1, 0);

    const Asked kept = ask(book.adding(jpeg) + " --keep-damaged --json");
    REQUIRE(kept.code() == 0);
    CHECK(kept.fields()["damaged"].is_string());
    book.require_sound(1, 1);
}

TEST_CASE("A real camera raw file that was cut short is refused", "[photos]") {
    const char* photographs = std::getenv("TEDGE_TEST_PHOTOS");
    if (photographs == nullptr) {
        WARN("TEDGE_TEST_PHOTOS is not set: no real raw file was cut short");
        return;
    }
    const TemporaryFolder folder;
    const AskedBook book(folder / "book");
    for (const auto& entry : fs::directory_iterator(fs::path(photographs) / "raw")) {
        const fs::path copy = folder / entry.path().filename();
        fs::copy_file(entry.path(), copy);
        require_refused(book.adding(cut(copy, 0.7)), "picture.damaged");
    }
    book.require_sound(1, 0);
}
