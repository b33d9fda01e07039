#include "tedge/dossier/bag_writer.hpp"

#include <catch2/catch.hpp>

#include "made_at.hpp"
#include "quick_files.hpp"
#include "tedge/dossier/bag_verifier.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using test::got;
using test::put;

namespace {

std::size_t count_of_entries(const std::filesystem::path& folder) {
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder)) ++count;
    return count;
}

}  // namespace

TEST_CASE("a bag holds what RFC 8493 asks of it", "[bag]") {
    const TemporaryFolder scratch;
    const auto target = scratch.path() / "bag";
    auto writer = BagWriter::begin(target);
    REQUIRE(writer);
    REQUIRE(writer->add("a.txt", "abc"));
    REQUIRE(writer->add("pictures/recto 100%\n.txt", ""));
    CHECK_FALSE(std::filesystem::exists(target));  // nothing shows before the end
    REQUIRE(writer->finish({{"External-Description", "A wooded river,\nevening"}}, noon));

    CHECK(got(target / "bagit.txt") == "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");
    CHECK(got(target / "bag-info.txt") ==
          "External-Description: A wooded river, evening\nBagging-Date: 2026-03-03\nPayload-Oxum: 3.2\n");
    // SHA-256 and SHA-512 of "abc" and of nothing: FIPS 180-4 examples (NIST, "Cryptographic Standards: Examples with
    // Intermediate Values", SHA256.pdf and SHA512.pdf). LF and % percent-encoded: RFC 8493 section 2.1.3.
    CHECK(got(target / "manifest-sha256.txt") ==
          "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  data/a.txt\n"
          "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  data/pictures/recto 100%25%0A.txt\n");
    CHECK(got(target / "manifest-sha512.txt")
              .starts_with("ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55"
                           "d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94"
                           "fa54ca49f  data/a.txt\n"));
    const std::string tags = got(target / "tagmanifest-sha256.txt");
    for (const std::string name : {"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt"})
        CHECK(tags.find("  " + name + "\n") != std::string::npos);
    CHECK(tags.find("tagmanifest") == std::string::npos);
    CHECK(count_of_entries(scratch.path()) == 1);

    const auto report = verify_bag(target);
    REQUIRE(report);
    CHECK(report->problems == std::vector<BagProblem>{});
    CHECK(report->complete);
    CHECK(report->valid);
    CHECK_FALSE(report->signed_);
    CHECK(report->version == "1.0");
    CHECK(report->algorithms == std::vector<std::string>{"sha256", "sha512"});
    CHECK(report->payload_files == 2);
    CHECK(report->payload_bytes == 3);
}

TEST_CASE("a bag without payload is a bag", "[bag]") {
    const TemporaryFolder scratch;
    auto writer = BagWriter::begin(scratch.path() / "empty/");
    REQUIRE(writer);
    REQUIRE(writer->finish({}, noon));
    const auto report = verify_bag(scratch.path() / "empty");
    REQUIRE(report);
    CHECK(report->valid);
}

TEST_CASE("an unfinished bag leaves nothing behind", "[bag]") {
    const TemporaryFolder scratch;
    {
        auto writer = BagWriter::begin(scratch.path() / "bag");
        REQUIRE(writer);
        REQUIRE(writer->add("a.txt", "abc"));
        CHECK(writer->finish({{"Payload-Oxum", "1.1"}}, noon).error().code == "bag.reserved-label");
        CHECK(writer->finish({{"Contact: Name", "x"}}, noon).error().code == "bag.bad-label");
    }
    CHECK(count_of_entries(scratch.path()) == 0);
}

TEST_CASE("a bag never replaces what lies there", "[bag]") {
    const TemporaryFolder scratch;
    put(scratch.path() / "bag/file", "x");
    CHECK(BagWriter::begin(scratch.path() / "bag").error().code == "bag.exists");
    auto late = BagWriter::begin(scratch.path() / "late");
    REQUIRE(late);
    std::filesystem::create_directories(scratch.path() / "late");
    CHECK(late->finish({}, noon).error().code == "bag.exists");
}

TEST_CASE("the writer refuses names that are unsafe or would clash", "[bag]") {
    const TemporaryFolder scratch;
    auto writer = BagWriter::begin(scratch.path() / "bag");
    REQUIRE(writer);
    for (const std::string path : {"", "/etc/passwd", "../a", "a/../../b", "a\\..\\b", "~/a", "C:/a", "\\\\host\\share",
                                   "%TEMP%/a", "a//b", "a/", "\xff.txt"}) {
        INFO(path);
        const auto added = writer->add(path, "x");
        REQUIRE_FALSE(added);
        CHECK(added.error().code == "bag.unsafe-path");
    }
    REQUIRE(writer->add("Caf\xC3\xA9.txt", "x"));
    CHECK(writer->add("Caf\xC3\xA9.txt", "x").error().code == "bag.duplicate-path");
    CHECK(writer->add("caf\xC3\xA9.TXT", "x").error().code == "bag.duplicate-path");
    CHECK(writer->add("Cafe\xCC\x81.txt", "x").error().code == "bag.duplicate-path");  // decomposed é
    CHECK(writer->add_copy("b.txt", scratch.path() / "none").error().code == "files.missing");
}
