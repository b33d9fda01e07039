// Bags of our own making, each breaking one rule of RFC 8493 (section numbers beside the cases).
#include "tedge/dossier/bag_verifier.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <random>

#include "quick_files.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using test::got;
using test::put;
namespace fs = std::filesystem;

namespace {

std::string sum(const std::string& bytes, HashAlgorithm algorithm = HashAlgorithm::sha256) {
    Hasher hasher(algorithm);
    hasher.update(bytes);
    return hasher.finish_hex();
}

// A bag held as its files, sealed by hand and not by the writer under test elsewhere.
struct HandMadeBag {
    std::map<std::string, std::string> files;

    static HandMadeBag sound() {
        HandMadeBag bag;
        bag.files["bagit.txt"] = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
        bag.files["data/hello.txt"] = "hello\n";
        bag.files["data/deep/er/two.bin"] = std::string("\0\1\2", 3);
        bag.files["bag-info.txt"] = "Source-Organization: A small gallery\nPayload-Oxum: 9.2\n";
        bag.list_payload();
        bag.list_tags();
        return bag;
    }
    void list_payload() {
        std::string lines;
        for (const auto& [path, bytes] : files)
            if (path.starts_with("data/")) lines += sum(bytes) + "  " + path + "\n";
        files["manifest-sha256.txt"] = lines;
    }
    void list_tags() {
        std::string lines;
        for (const auto& [path, bytes] : files)
            if (!path.starts_with("data/") && !path.starts_with("tagmanifest"))
                lines += sum(bytes) + "  " + path + "\n";
        files["tagmanifest-sha256.txt"] = lines;
    }
    BagReport report() const {
        const TemporaryFolder scratch;
        for (const auto& [path, bytes] : files) put(scratch.path() / path, bytes);
        const auto checked = verify_bag(scratch.path());
        REQUIRE(checked);
        return *checked;
    }
};

std::vector<std::string> codes(const std::vector<BagProblem>& problems) {
    std::vector<std::string> found;
    for (const auto& problem : problems) found.push_back(problem.code);
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

using Codes = std::vector<std::string>;

// The manifest of the sound bag with one more line, and the tags sealed again.
HandMadeBag with_line(const std::string& line, const std::string& file = "manifest-sha256.txt") {
    auto bag = HandMadeBag::sound();
    bag.files[file] += line + "\n";
    if (!file.starts_with("tagmanifest")) bag.list_tags();
    return bag;
}

}  // namespace

TEST_CASE("a sound bag made by hand is complete and valid", "[bag]") {
    const auto report = HandMadeBag::sound().report();
    CHECK(codes(report.problems) == Codes{});
    CHECK(codes(report.warnings) == Codes{});
    CHECK(report.complete);
    CHECK(report.valid);
}

TEST_CASE("what is missing or too much makes a bag incomplete", "[bag]") {
    auto bag = HandMadeBag::sound();
    std::string expected;
    SECTION("no bagit.txt (2.1.1)") {
        bag.files.erase("bagit.txt");
        bag.list_tags();
        expected = "bag.no-declaration";
    }
    SECTION("a payload file is gone (3)") {
        bag.files.erase("data/hello.txt");
        bag.files["bag-info.txt"] = "Payload-Oxum: 3.1\n";
        bag.list_tags();
        expected = "bag.missing-file";
    }
    SECTION("a tag file is gone (3)") {
        bag.files.erase("bag-info.txt");
        expected = "bag.missing-file";
    }
    SECTION("a payload file that no manifest names (3)") {
        bag.files["data/more.txt"] = "";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        bag.list_tags();
        expected = "bag.unlisted-file";
    }
    SECTION("no payload manifest (2.1.3)") {
        bag.files.erase("manifest-sha256.txt");
        bag.list_tags();
        bag.files.erase("data/hello.txt");
        bag.files.erase("data/deep/er/two.bin");
        bag.files["bag-info.txt"] = "Payload-Oxum: 0.0\n";
        bag.list_tags();
        const auto report = bag.report();
        CHECK(codes(report.problems) == Codes{"bag.no-manifest", "bag.no-payload-folder"});
        CHECK_FALSE(report.complete);
        return;
    }
    SECTION("one manifest of two names a file that the other does not (2.1.3)") {
        bag.files["manifest-sha512.txt"] = sum("hello\n", HashAlgorithm::sha512) + "  data/hello.txt\n";
        bag.list_tags();
        expected = "bag.not-in-every-manifest";
    }
    const auto report = bag.report();
    CHECK(codes(report.problems) == Codes{expected});
    CHECK_FALSE(report.complete);
    CHECK_FALSE(report.valid);
}

TEST_CASE("tag files with anything put into them anywhere are judged, and no change of what is sealed passes",
          "[bag]") {
    using namespace std::string_literals;
    const std::vector<std::string> pieces{"../",
                                          "%0A",
                                          "\xFF\xFE",
                                          "\0"s,
                                          "\r",
                                          "\n",
                                          "*",
                                          "~",
                                          "C:\\",
                                          "  ",
                                          ":",
                                          std::string(5000, 'a'),
                                          "data/hello.txt",
                                          "BagIt-Version: 9"};
    const HandMadeBag sound = HandMadeBag::sound();
    std::mt19937 random(20260418);
    for (int i = 0; i < 300; ++i) {
        HandMadeBag bag = sound;
        auto file = bag.files.begin();
        std::advance(file, random() % bag.files.size());
        const std::string& piece = pieces[random() % pieces.size()];
        const std::size_t at = random() % (file->second.size() + 1);
        CAPTURE(file->first, at, piece.substr(0, 20));
        if (random() % 2 == 0)
            file->second.insert(at, piece);
        else
            file->second.replace(at, piece.size(), piece);
        const bool changed = file->second != sound.files.at(file->first);
        const BagReport report = bag.report();
        if (changed && !file->first.starts_with("tagmanifest")) CHECK_FALSE(report.valid);
        for (const BagProblem& problem : report.problems) CHECK_FALSE(problem.message.empty());
    }
}

TEST_CASE("altered content is found by its checksum", "[bag]") {
    auto bag = HandMadeBag::sound();
    SECTION("payload") {
        bag.files["data/hello.txt"] = "hellO\n";
    }
    SECTION("tag file") {
        bag.files["bag-info.txt"] = "Source-Organization: another\nPayload-Oxum: 9.2\n";
    }
    SECTION("the manifest itself") {
        bag.files["data/hello.txt"] = "hellO\n";
        bag.list_payload();
    }
    const auto report = bag.report();
    CHECK(codes(report.problems) == Codes{"bag.checksum-differs"});
    CHECK(report.complete);
    CHECK_FALSE(report.valid);
}

TEST_CASE("paths that lead out of the bag are refused and never opened (5.2 to 5.4)", "[bag]") {
    const std::string path =
        GENERATE(as<std::string>{}, "../outside.txt", "data/../../outside.txt", "/etc/hostname", "~root/x", "~/x",
                 "C:\\x", "c:/x", "\\\\host\\share", "data\\..\\..\\x", "%WINDIR%/x", "data/%25HOME%25/x");
    INFO(path);
    const auto file = GENERATE(as<std::string>{}, "manifest-sha256.txt", "tagmanifest-sha256.txt");
    const auto report = with_line(sum("x") + "  " + path, file).report();
    CHECK(codes(report.problems) == Codes{"bag.unsafe-path"});
    CHECK_FALSE(report.complete);
    CHECK_FALSE(report.valid);
}

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

TEST_CASE("fetch.txt is held against the manifests and never followed (2.2.3)", "[bag]") {
    const auto with_fetch = [](const std::string& line) {
        auto bag = HandMadeBag::sound();
        bag.files["fetch.txt"] = line + "\n";
        bag.list_tags();
        return codes(bag.report().problems);
    };
    CHECK(with_fetch("https://bags.invalid/hello.txt 6 data/hello.txt") == Codes{});
    CHECK(with_fetch("https://bags.invalid/hello.txt - data/hello.txt") == Codes{});
    CHECK(with_fetch("hello.txt 6 data/hello.txt") == Codes{"bag.bad-fetch"});
    CHECK(with_fetch("https://bags.invalid/hello.txt six data/hello.txt") == Codes{"bag.bad-fetch"});
    CHECK(with_fetch("https://bags.invalid/x - data/x") == Codes{"bag.bad-fetch"});
    CHECK(with_fetch("https://bags.invalid/x - ../x") == Codes{"bag.unsafe-path"});
    CHECK(with_fetch("https://bags.invalid/x - bagit.txt") == Codes{"bag.outside-payload"});

    auto holey = HandMadeBag::sound();
    holey.files.erase("data/hello.txt");
    holey.files["bag-info.txt"] = "Payload-Oxum: 3.1\n";
    holey.files["fetch.txt"] = "file:///dev/null 6 data/hello.txt\n";
    holey.list_tags();
    const auto report = holey.report();
    CHECK(codes(report.problems) == Codes{"bag.missing-file"});
    CHECK_FALSE(report.complete);
}

TEST_CASE("links and special files are refused", "[bag]") {
    const TemporaryFolder scratch;
    for (const auto& [path, bytes] : HandMadeBag::sound().files) put(scratch.path() / path, bytes);
    SECTION("a link to a file outside") {
        fs::remove(scratch.path() / "data/hello.txt");
        fs::create_symlink("/etc/hostname", scratch.path() / "data/hello.txt");
        const auto report = verify_bag(scratch.path());
        REQUIRE(report);
        CHECK(codes(report->problems) == Codes{"bag.missing-file", "bag.symbolic-link", "bag.wrong-oxum"});
        CHECK_FALSE(report->complete);
    }
    SECTION("a link to a folder outside") {
        fs::create_directory_symlink("/etc", scratch.path() / "data/etc");
        const auto report = verify_bag(scratch.path());
        REQUIRE(report);
        CHECK(codes(report->problems) == Codes{"bag.symbolic-link"});
        CHECK(report->payload_files == 2);
    }
}

TEST_CASE("names that other machines would take for one are warned of (5.1)", "[bag]") {
    auto bag = HandMadeBag::sound();
    SECTION("case") {
        bag.files["data/HELLO.txt"] = "";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        bag.list_payload();
        bag.list_tags();
        CHECK(codes(bag.report().warnings) == Codes{"bag.case-twins"});
        CHECK(bag.report().valid);
    }
    SECTION("the file is decomposed, the manifest composed") {
        bag.files["data/cafe\xCC\x81.txt"] = "";
        bag.files["manifest-sha256.txt"] += sum("") + "  data/caf\xC3\xA9.txt\n";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        bag.list_tags();
        CHECK(codes(bag.report().warnings) == Codes{"bag.name-form"});
        CHECK(bag.report().valid);
    }
    SECTION("one file named in both forms") {
        bag.files["data/cafe\xCC\x81.txt"] = "";
        bag.files["manifest-sha256.txt"] +=
            sum("") + "  data/caf\xC3\xA9.txt\n" + sum("") + "  data/cafe\xCC\x81.txt\n";
        bag.files["bag-info.txt"] = "Payload-Oxum: 9.3\n";
        bag.list_tags();
        CHECK(codes(bag.report().warnings) == Codes{"bag.name-form"});
        CHECK(codes(bag.report().problems) == Codes{});
    }
    SECTION("a name of the other case is not the file") {
        const auto report = with_line(sum("hello\n") + "  data/HELLO.txt").report();
        CHECK(codes(report.problems) == Codes{"bag.missing-file"});
    }
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

TEST_CASE("verifying can be cancelled, and asks for a folder", "[bag]") {
    const TemporaryFolder scratch;
    CHECK(verify_bag(scratch.path() / "none").error().code == "bag.not-a-folder");
    for (const auto& [path, bytes] : HandMadeBag::sound().files) put(scratch.path() / path, bytes);
    std::stop_source stop;
    stop.request_stop();
    CHECK(verify_bag(scratch.path(), Progress(stop.get_token(), {})).error().code == "cancelled");
}
