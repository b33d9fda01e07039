// What a bag holds, each breaking one rule of RFC 8493 (section numbers beside the cases).
#include "tedge/dossier/bag_verifier.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "hand_made_bag.hpp"

using namespace tedge;
using namespace tedge::dossier;
using namespace tedge::dossier::test_bags;
using test::got;
using test::put;
namespace fs = std::filesystem;

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

TEST_CASE("verifying can be cancelled, and asks for a folder", "[bag]") {
    const TemporaryFolder scratch;
    CHECK(verify_bag(scratch.path() / "none").error().code == "bag.not-a-folder");
    for (const auto& [path, bytes] : HandMadeBag::sound().files) put(scratch.path() / path, bytes);
    std::stop_source stop;
    stop.request_stop();
    CHECK(verify_bag(scratch.path(), Progress(stop.get_token(), {})).error().code == "cancelled");
}
