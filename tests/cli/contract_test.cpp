// The fields and exit codes that scripts rely on, asked of the program itself.
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "made_chart.hpp"
#include "made_weave.hpp"
#include "must.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

struct Ran {
    int code = 0;
    std::string out;
    [[nodiscard]] json fields() const { return json::parse(out, nullptr, false); }
};

Ran run(const std::string& arguments) {
    Ran ran;
    FILE* pipe = ::popen((std::string(TEDGE_PROGRAM) + " " + arguments + " 2>/dev/null").c_str(), "r");
    std::array<char, 4096> piece{};
    while (const std::size_t got = std::fread(piece.data(), 1, piece.size(), pipe)) ran.out.append(piece.data(), got);
    ran.code = WEXITSTATUS(::pclose(pipe));
    return ran;
}

}  // namespace

TEST_CASE("A casebook from empty to checked, one JSON line each") {
    const TemporaryFolder folder;
    const std::string book = to_utf8(folder / "book");
    CHECK(run("casebook create " + book + " --json").code == 0);
    CHECK(run("casebook create " + book + " --json").fields()["error"]["code"] == "casebook.exists");
    const Ran added = run("case add " + book + " --title \"River landscape\" --width-mm 812 --height-mm 610 --json");
    CHECK(added.code == 0);
    CHECK(std::count(added.out.begin(), added.out.end(), '\n') == 1);
    const std::string id = added.fields()["id"].get<std::string>();
    CHECK(run("case list " + book + " --json").fields()["cases"][0]["title"] == "River landscape");
    CHECK(run("case show " + book + " " + id + " --json").fields()["stage"] == "lot");
    const json check = run("casebook check " + book + " --json").fields();
    CHECK(check["ok"] == true);
    CHECK(check["cases"] == 1);
    CHECK(check["problems"].empty());
    CHECK(run("casebook rebuild " + book + " --json").fields()["identical"] == true);
}

TEST_CASE("Wrong use is exit code 2, a refusal 1, with code, message and next") {
    CHECK(run("case add --json").code == 2);
    CHECK(run("no-such-command --json").code == 2);
    CHECK(run("mixture \"ethanol 20, isooctane 80\" --colour red --json").code == 2);
    // A list of windows that names none is no list, whatever photographs it is said of.
    const std::string nobody = "01890000-0000-7000-8000-000000000001";
    const Ran windows = run("photograph forecast /tmp " + nobody + " --cleaned " + nobody + " --windows '[]' --json");
    CHECK(windows.code == 2);
    CHECK(windows.fields()["error"]["code"] == "usage.no-windows");
    CHECK(run("photograph scale /tmp " + nobody + " --from 1,2 --json").fields()["error"]["code"] ==
          "usage.half-a-ruler");
    CHECK(run("photograph sharpness /tmp " + nobody + " --edge 1,2,3 --json").code == 2);
    const Ran refused = run("mixture \"ethanol 20\" --json");
    CHECK(refused.code == 1);
    for (const char* name : {"code", "message", "next"}) CHECK(refused.fields()["error"].contains(name));
}

TEST_CASE("Money commands give published figures as decimal numbers") {
    // gov.uk, VAT margin schemes: bought 1,500, sold 2,000, margin 500, VAT 83.33.
    CHECK(run("margin-scheme --bought 1500 --sold 2000 --json").fields()["vat"] == 83.33);
    // Published example of the resale right: 210,000 gives 6,600.
    CHECK(run("resale-royalty --price 210000 --on 2024-05-01 --json").fields()["royalty"] == 6600.0);
    const TemporaryFolder folder;
    const auto plan = folder / "plan.json";
    REQUIRE(write_file_durably(
        plan,
        R"({"currency": "GBP", "sale": {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, "increments": "common"},
      "selling": "margin-scheme", "vat_percent": 20, "costs": [{"name": "all", "amount": 3000}],
      "outcomes": [{"name": "certain", "probability": 1, "price": 20000}], "target": {"profit": 4000}})"));
    // S 20,000, C 3,000, profit 4,000: P = S - 1.2 (C + target) = 11,600, so H = 8,923.07 to the penny below, bid
    // 8,500.
    const json report = run("ceiling --plan " + to_utf8(plan) + " --json").fields();
    CHECK(report["ceilings"]["target"]["hammer"] == 8923.07);
    CHECK(report["ceilings"]["risk"].is_null());
    CHECK(report["bid"] == 8500.0);
    CHECK(report["margin_price"] == 11050.0);
    CHECK(report["expected_profit"] == 4458.33);
    CHECK(report["binding"] == "target");
    CHECK(run("invoice --plan " + to_utf8(plan) + " --hammer 1000 --json").fields()["total"] == 1300.0);
    CHECK_FALSE(report.contains("sensitivity"));  // only where it is asked for
    const json nothing_uncertain = run("ceiling --plan " + to_utf8(plan) + " --sensitivity --json").fields();
    CHECK(nothing_uncertain["sensitivity"] == json::array());
}

TEST_CASE("A plan says which guess moves its ceiling most, and which number is too large") {
    const TemporaryFolder folder;
    const auto asked = [&](const std::string& cash) {
        const std::string text = R"({"currency": "GBP", "sale": {"premium": [{"percent": 30}]},
          "costs": [{"name": "lining", "amount": [500, 600, 700]}], "outcomes": [{"price": 20000}],
          "target": {"cash": )" + cash +
                                 "}}";
        REQUIRE(write_file_durably(folder / "plan.json", text));
        return run("ceiling --plan " + to_utf8(folder / "plan.json") + " --sensitivity --json");
    };
    // 1.3 H + C = 2,000: 1,153.84 and 1,000 (own arithmetic)
    const json swing = asked("2000").fields()["sensitivity"].at(0);
    CHECK(swing["field"] == "costs[0].amount");
    CHECK(swing["name"] == "lining");
    CHECK(swing["hammer_at_low"] == 1153.84);
    CHECK(swing["hammer_at_high"] == 1000.0);
    const Ran refused = asked("1e400");
    CHECK(refused.code == 1);
    CHECK(refused.fields()["error"]["message"] ==
          "The plan cannot be used: target.cash is 1e400, which is too large to be counted.");
}

TEST_CASE("EDTF answers any string with exit code 0") {
    CHECK(run("edtf \"\" --json").code == 0);
    CHECK(run("edtf \"\" --json").fields()["valid"] == false);
    const json winter = run("edtf 1985-24 --json").fields();
    CHECK(winter["lower"] == "1985-12-01");
    CHECK(winter["upper"] == "1986-02-28");
    CHECK(run("edtf -- -0100 --json").code == 2);  // "--" ends options, so --json is one word too many
    CHECK(run("edtf --json -- -0100").fields()["level"] == 1);
    CHECK(run("edtf \"1985/..\" --json").fields()["open"] == true);
}

TEST_CASE("What is no photograph is refused in a sentence; a damaged one can be kept and is marked") {
    const TemporaryFolder folder;
    const std::string book = to_utf8(folder / "book");
    run("casebook create " + book);
    const std::string id = run("case add " + book + " --title x --json").fields()["id"].get<std::string>();
    REQUIRE(write_file_durably(folder / "text.jpg", "this is text"));
    REQUIRE(write_file_durably(folder / "empty.png", ""));
    const auto add = [&](const std::string& file, const std::string& more = "") {
        return run("photograph add " + book + " " + id + " " + to_utf8(folder / file) +
                   " --face recto --light normal --when as-found --json" + more);
    };
    CHECK(add("text.jpg").fields()["error"]["code"] == "picture.not-a-picture");
    CHECK(add("empty.png").fields()["error"]["code"] == "picture.empty");
    CHECK(add("none.jpg").code == 1);
    CHECK(run("casebook check " + book + " --json").fields()["ok"] == true);
}

TEST_CASE("What two books hold differently is listed and settled, by value or by the change that is taken") {
    const TemporaryFolder folder;
    const std::string house = to_utf8(folder / "house");
    const std::string bench = to_utf8(folder / "bench");
    CHECK(run("casebook create " + house).code == 0);
    const json added = run("case add " + house + " --title \"River landscape\" --json").fields();
    const std::string id = added["id"].get<std::string>();
    CHECK(run("casebook backup " + house + " --to " + bench).code == 0);
    CHECK(run("record change " + house + " " + id + R"( '{"title": "River at dusk"}')").code == 0);
    CHECK(run("record change " + bench + " " + id + R"( '{"title": "River at dawn"}')").code == 0);
    CHECK(run("casebook merge " + house + " --from " + bench + " --json").fields()["conflicts"].size() == 1);
    const json listed = run("casebook conflicts " + house + " --json").fields()["conflicts"];
    REQUIRE(listed.size() == 1);
    CHECK(listed[0]["path"] == "title");
    CHECK(listed[0]["sides"][0]["value"] == "River at dusk");
    CHECK(listed[0]["sides"][1]["value"] == "River at dawn");
    CHECK(listed[0]["sides"][1]["shows"] == true);
    const std::string resolve = "casebook resolve " + house + " " + id;
    CHECK(run(resolve + " --json").code == 2);  // a reason is needed
    CHECK(run(resolve + " --reason \"the light comes from the left\" --take " +
              listed[0]["sides"][0]["change"].get<std::string>())
              .code == 0);
    CHECK(run("casebook conflicts " + house + " --json").fields()["conflicts"].empty());
    CHECK(run(resolve + " --reason again --json").fields()["error"]["code"] == "conflict.settled");
    CHECK(run("case list " + house + " --json").fields()["cases"][0]["title"] == "River at dusk");

    // What goes is asked for no more words.
    const json letter = run("record add " + house + " " + id + R"( document '{"title": "Letter"}' --json)").fields();
    const std::string record = letter["id"].get<std::string>();
    CHECK(run("casebook merge " + bench + " --from " + house).code == 0);
    CHECK(run("record change " + house + " " + record + R"( '{"title": "Letter of 1880"}')").code == 0);
    CHECK(run("record change " + bench + " " + record + R"( '{"title": "Letter of 1889"}')").code == 0);
    CHECK(run("casebook merge " + house + " --from " + bench).code == 0);
    CHECK(run("casebook resolve " + house + " " + record + " --goes --reason \"of another picture\"").code == 0);
    CHECK(run("casebook conflicts " + house + " --json").fields()["conflicts"].empty());
}

TEST_CASE("The chart in a photograph is checked, and that there is none is said") {
    using namespace tedge::test_support;
    const TemporaryFolder folder;
    const MadeChart made{
        .size = {640, 480}, .photo_from_chart = chart_seen({640, 480}, 4, 75, 0.01), .noise = 0.002, .exposure = 0.8};
    REQUIRE(write_photographed(made, folder / "chart.png"));
    const Ran measured = run("chart-check " + to_utf8(folder / "chart.png") + " --json");
    CHECK(measured.code == 0);
    const json fields = measured.fields();
    CHECK(fields["chart_found"] == true);
    CHECK(fields["patches"].size() == 24);
    for (const char* name : {"mean", "p95", "max"}) {
        CHECK(fields["delta_e00"][name] > 0.0);
        CHECK(fields["delta_e00"][name] < 3.0);  // made from the reference values themselves
    }
    REQUIRE(imaging::write_picture(folder / "wall.png", imaging::Raster8(300, 200, 3), imaging::PictureFormat::png));
    const Ran none = run("chart-check " + to_utf8(folder / "wall.png") + " --json");
    CHECK(none.code == 3);
    CHECK(none.fields()["chart_found"] == false);
    CHECK(none.fields()["reason"].get<std::string>().size() > 20);
    CHECK(run("chart-check " + to_utf8(folder / "missing.png") + " --json").code == 1);
}

TEST_CASE("Threads are counted with exit code 0, what shows none is not to be trusted") {
    const TemporaryFolder folder;
    const std::string weave = to_utf8(folder / "weave.png"), blank = to_utf8(folder / "blank.png");
    const std::string map = to_utf8(folder / "map.png");
    must(imaging::write_picture(
        folder / "weave.png",
        test_support::photographed({.size = {420, 400}, .across_per_cm = 13.0, .down_per_cm = 11.0, .degrees = 2.0}),
        imaging::PictureFormat::png));
    must(imaging::write_picture(folder / "blank.png", imaging::Raster8(300, 300, 1), imaging::PictureFormat::png));
    const Ran ran = run("thread-count " + weave + " --px-per-cm 100 --map " + map + " --json");
    CHECK(ran.code == 0);
    const json counted = ran.fields();
    CHECK(counted["threads_per_cm"]["a"].get<double>() == Approx(13.0).margin(0.1));
    CHECK(counted["threads_per_cm"]["b"].get<double>() == Approx(11.0).margin(0.1));
    CHECK(counted["angle_deg"]["a"].get<double>() == Approx(2.0).margin(0.5));
    CHECK(counted["angle_deg"]["b"].get<double>() == Approx(92.0).margin(0.5));
    CHECK(counted["confidence"].get<double>() >= 0.5);
    CHECK(std::filesystem::exists(folder / "map.png"));
    const Ran none = run("thread-count " + blank + " --px-per-cm 100 --json");
    CHECK(none.code == 3);
    CHECK(none.fields()["code"] == "weave.none");
    CHECK(none.fields()["threads_per_cm"]["a"].is_null());
    CHECK(run("thread-count " + blank + " --px-per-cm 0 --json").code == 2);
    CHECK(run("thread-count " + blank + " --json").code == 2);
}

TEST_CASE("A folder comes in with guesses that say why, the shot list counts them, and a person confirms them") {
    const TemporaryFolder folder;
    const std::string book = to_utf8(folder / "book");
    run("casebook create " + book);
    const std::string id = run("case add " + book + " --title x --json").fields()["id"].get<std::string>();
    std::filesystem::create_directory(folder / "card");
    const imaging::Raster8 flat(40, 30, 3);
    REQUIRE(imaging::write_picture(folder / "card" / "recto-uv.png", flat, imaging::PictureFormat::png));
    REQUIRE(write_file_durably(folder / "card" / "list.txt", "this is text"));
    std::filesystem::create_directory(folder / "card" / "more");
    imaging::Raster8 other(40, 30, 3);
    other.at(3, 3, 0) = 200;
    REQUIRE(imaging::write_picture(folder / "card" / "more" / "verso.png", other, imaging::PictureFormat::png));
    const std::string add = "photograph add-folder " + book + " " + id + " " + to_utf8(folder / "card") + " --json";
    const Ran first = run(add + " --when cleaned");
    CHECK(first.code == 0);  // a list among the pictures is no failure
    CHECK(first.fields()["taken"] == 2);
    CHECK(first.fields()["refused"] == 1);
    CHECK(first.fields()["files"][0]["error"]["code"] == "picture.not-a-picture");
    CHECK(first.fields()["files"][1]["file"] == "more/verso.png");
    CHECK(first.fields()["files"][1]["face"] == "verso");
    const json photograph = first.fields()["files"][2];
    CHECK(photograph["light"] == "ultraviolet");
    CHECK(photograph["guesses"][1]["why"] == "the name says uv");
    CHECK(run(add).fields()["files"][2]["outcome"] == "already");
    CHECK(run("photograph add-folder " + book + " " + id + " /nowhere --json").code == 1);
    const json shots = run("case shots " + book + " " + id + " --json").fields();
    CHECK(shots["cautions"].size() == 1);
    CHECK(shots["to_confirm"].get<int>() + shots["missing"].get<int>() == static_cast<int>(shots["shots"].size()));
    const std::string say = "photograph say " + book + " " + id + " guessed --json";
    CHECK(run(say).fields()["error"]["code"] == "photograph.nothing-said");
    CHECK(run(say + " --confirm").fields()["changed"].size() == 2);
    CHECK(run("case shots " + book + " " + id + " --json").fields()["stage"] == "cleaned");
    const std::string want = "case want-shot " + book + " " + id + " --face recto --light ultraviolet --when retouched";
    CHECK(run(want + " --json").fields()["caution"].is_string());
    CHECK(run(want + " --not-needed \"no lamp\" --json").fields()["caution"].is_null());
    CHECK(run("photograph add " + book + " " + id + " " + to_utf8(folder / "card" / "recto-uv.png") +
              " --face recto --light normal --when cleaned --raking-from left --json")
              .fields()["error"]["code"] == "photograph.not-raking");
}

TEST_CASE("A command never writes over what it reads, and says at once that there is no folder to write into") {
    const TemporaryFolder folder;
    const std::string picture = to_utf8(folder / "picture.png");
    imaging::Raster8 raster(80, 60, 3);
    std::ranges::fill(raster.samples(), std::uint8_t{90});
    must(imaging::write_picture(folder / "picture.png", raster, imaging::PictureFormat::png));
    const std::string before = must(read_file(folder / "picture.png"));
    const Ran over = run("colour-difference " + picture + " " + picture + " --out " + picture + " --json");
    CHECK(over.code == 2);
    CHECK(over.fields()["error"]["code"] == "usage.writes-over-input");
    CHECK(must(read_file(folder / "picture.png")) == before);
    const Ran nowhere = run("colour-difference " + picture + " " + picture + " --out " +
                            to_utf8(folder / "none" / "m.png") + " --json");
    CHECK(nowhere.fields()["error"]["code"] == "usage.no-such-folder");
    CHECK(
        run("colour-difference " + picture + " " + picture + " --out " + to_utf8(folder / "m.png") + " --json").code ==
        0);
    // Too thin for a chart to be seen in it.
    must(imaging::write_picture(folder / "thin.png", imaging::Raster8(3000, 2, 3), imaging::PictureFormat::png));
    CHECK(run("chart-check " + to_utf8(folder / "thin.png") + " --json").fields()["chart_found"] == false);
}
