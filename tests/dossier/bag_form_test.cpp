// How a bag is written down: declaration, manifests and tag files in form (RFC 8493, section numbers beside the cases).
#include <catch2/catch.hpp>

#include "hand_made_bag.hpp"

using namespace tedge;
using namespace tedge::dossier;
using namespace tedge::dossier::test_bags;

TEST_CASE("lines must be in form", "[bag]") {
    const auto check = [](const HandMadeBag& bag, const std::string& code) {
        const auto report = bag.report();
        CHECK(codes(report.problems) == Codes{code});
        CHECK_FALSE(report.valid);
    };
    check(with_line("not-hex  data/hello.txt"), "bag.malformed-line");
    check(with_line(sum("hello\n")), "bag.malformed-line");
    check(with_line(sum("hello\n") + " \t "), "bag.malformed-line");
    check(with_line(sum("hello\n") + "  data/hello.txt"), "bag.listed-twice");  // 2.1.3: exactly once
    check(with_line(sum("x"), "bag-info.txt"), "bag.malformed-line");
    check(with_line("Label:value", "bag-info.txt"), "bag.malformed-line");  // 2.2.2: one blank
    check(with_line("Label:  value", "bag-info.txt"), "bag.malformed-line");
    check(with_line("Payload-Oxum: 9.2", "bag-info.txt"), "bag.malformed-line");  // at most once
}

TEST_CASE("lines may end and be set apart as the standard allows", "[bag]") {
    auto bag = HandMadeBag::sound();
    bag.files["manifest-sha256.txt"] =
        sum("hello\n") + "\t \tdata/hello.txt\r" + sum(std::string("\0\1\2", 3)) + " data/deep/er/two.bin\r\n";
    std::string upper = sum("x y");
    for (char& c : upper) c = static_cast<char>(c >= 'a' && c <= 'f' ? c - 32 : c);
    bag.files["data/100% done\r\n.txt"] = "x y";
    bag.files["manifest-sha256.txt"] += upper + "  data/100%25 done%0d%0A.txt";
    bag.files["bag-info.txt"] = "External-Description: a long\n\ttale told\n  in three lines\npayload-oxum: 12.3\n";
    bag.list_tags();
    const auto report = bag.report();
    CHECK(codes(report.problems) == Codes{});
    CHECK(report.valid);
}

TEST_CASE("the declaration is exactly two lines (2.1.1)", "[bag]") {
    const auto check = [](const std::string& declaration, const std::string& code) {
        auto bag = HandMadeBag::sound();
        bag.files["bagit.txt"] = declaration;
        bag.list_tags();
        INFO(declaration);
        const auto report = bag.report();
        CHECK(codes(report.problems) == Codes{code});
        CHECK_FALSE(report.valid);
    };
    check("BagIt-Version: 1.0\n", "bag.bad-declaration");
    check("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\nMore: x\n", "bag.bad-declaration");
    check("BagIt-Version: 1.0\n\nTag-File-Character-Encoding: UTF-8\n", "bag.bad-declaration");
    check("Tag-File-Character-Encoding: UTF-8\nBagIt-Version: 1.0\n", "bag.bad-declaration");
    check("BagIt-Version:  1.0\nTag-File-Character-Encoding:UTF-8\n", "bag.bad-declaration");
    check("", "bag.bad-declaration");
    check("BagIt-Version: 7.3\nTag-File-Character-Encoding: UTF-8\n", "bag.unknown-version");
    check("BagIt-Version: 1.0\nTag-File-Character-Encoding: Runes\n", "bag.unknown-encoding");
    check(
        "\xEF\xBB\xBF"
        "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
        "bag.byte-order-mark");
}

TEST_CASE("tag files are read in the encoding that the bag declares (2.1.1)", "[bag]") {
    auto bag = HandMadeBag::sound();
    bag.files.erase("tagmanifest-sha256.txt");
    SECTION("ISO-8859-1") {
        bag.files["bagit.txt"] = "BagIt-Version: 1.0\nTag-File-Character-Encoding: ISO-8859-1\n";
        bag.files["data/caf\xC3\xA9.txt"] = "";
        bag.files["manifest-sha256.txt"] += sum("") + "  data/caf\xE9.txt\n";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        CHECK(codes(bag.report().problems) == Codes{});
    }
    SECTION("UTF-16 with its mark") {
        bag.files["bagit.txt"] = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-16\n";
        for (const std::string name : {"manifest-sha256.txt", "bag-info.txt"}) {
            std::string wide = "\xFF\xFE";
            for (const char c : bag.files[name]) wide += std::string{c, '\0'};
            bag.files[name] = wide;
        }
        CHECK(codes(bag.report().problems) == Codes{});
    }
    SECTION("bytes that are no UTF-8") {
        bag.files["bag-info.txt"] = "Contact-Name: Ren\xE9\n";
        CHECK(codes(bag.report().problems) == Codes{"bag.not-text"});
    }
    SECTION("a byte order mark in UTF-8") {
        bag.files["bag-info.txt"] =
            "\xEF\xBB\xBF"
            "Payload-Oxum: 9.2\n";
        CHECK(codes(bag.report().problems) == Codes{"bag.byte-order-mark"});
    }
}

TEST_CASE("Payload-Oxum counts octets and files (2.2.2)", "[bag]") {
    for (const std::string oxum : {"9.1", "8.2", "9", "many"}) {
        auto bag = HandMadeBag::sound();
        bag.files["bag-info.txt"] = "Payload-Oxum: " + oxum + "\n";
        bag.list_tags();
        CHECK(codes(bag.report().problems) == Codes{"bag.wrong-oxum"});
    }
}

TEST_CASE("manifests name what they are for (2.1.3, 2.2.1)", "[bag]") {
    CHECK(codes(with_line(sum("x") + "  notes.txt").report().problems) ==
          Codes{"bag.missing-file", "bag.outside-payload"});
    CHECK(codes(with_line(sum("hello\n") + "  data/hello.txt", "tagmanifest-sha256.txt").report().problems) ==
          Codes{"bag.not-for-tag-manifest"});
    auto bag = HandMadeBag::sound();
    const std::string tags = bag.files["tagmanifest-sha256.txt"];
    bag.files["tagmanifest-sha256.txt"] = tags.substr(0, tags.find('\n') + 1);  // bag-info.txt alone
    CHECK(codes(bag.report().problems) == Codes{"bag.manifest-not-listed"});
}

TEST_CASE("bags of the drafts are read by their looser rules", "[bag]") {
    auto bag = HandMadeBag::sound();
    bag.files.erase("tagmanifest-sha256.txt");
    bag.files["bagit.txt"] = "BagIt-Version:   0.97\nTag-File-Character-Encoding: UTF-8\n";
    bag.files["bag-info.txt"] = "Contact-Name :  somebody\nPayload-Oxum:9.2\n";
    SECTION("MD5 of one file, SHA-256 of the other, written by checksum programs") {
        // MD5 of "hello\n": from memory of the md5sum program, which the check itself confirms.
        bag.files["manifest-md5.txt"] = "b1946ac92492d2347c6235b4d2611184 *./data/hello.txt\n";
        bag.files["manifest-sha256.txt"] = sum(std::string("\0\1\2", 3)) + "  data/deep/er/two.bin\n";
        const auto report = bag.report();
        CHECK(codes(report.problems) == Codes{});
        CHECK(codes(report.warnings) == Codes{"bag.binary-star", "bag.leading-dot"});
        CHECK(report.valid);
    }
    SECTION("SHA-1, a percent sign that is only a percent sign") {
        bag.files["data/50%25.txt"] = "abc";
        bag.files["bag-info.txt"] = "Payload-Oxum: 12.3\n";
        // SHA-1 of "abc": FIPS 180-4 example (NIST, SHA1.pdf).
        bag.files["manifest-sha1.txt"] = "a9993e364706816aba3e25717850c26c9cd0d89d  data/50%25.txt\n";
        CHECK(codes(bag.report().problems) == Codes{});
    }
    SECTION("but a file in no manifest stays a fault") {
        bag.files["data/x"] = "";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        CHECK(codes(bag.report().problems) == Codes{"bag.unlisted-file"});
    }
}

TEST_CASE("an algorithm that is not known here cannot vouch for a bag", "[bag]") {
    auto bag = HandMadeBag::sound();
    bag.files["manifest-whirlpool.txt"] = "00  data/hello.txt\n00  data/deep/er/two.bin\n";
    bag.list_tags();
    CHECK(bag.report().valid);
    CHECK(codes(bag.report().warnings) == Codes{"bag.unknown-algorithm"});
    bag.files.erase("manifest-sha256.txt");
    bag.list_tags();
    CHECK(codes(bag.report().problems) == Codes{"bag.no-known-algorithm"});
}
