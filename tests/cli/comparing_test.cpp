// Comparing by command: what is asked, what is written, and what scripts rely on.
#include "command_shop.hpp"
#include "made_relief.hpp"
#include "tedge/imaging/picture.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

imaging::Raster8 plain(std::uint8_t red, std::uint8_t green, std::uint8_t blue) {
    imaging::Raster8 out(200, 150, 3);
    for (int y = 0; y < out.height_px(); ++y)
        for (int x = 0; x < out.width_px(); ++x) {
            out.at(x, y, 0) = red;
            out.at(x, y, 1) = green;
            out.at(x, y, 2) = blue;
        }
    return out;
}

}  // namespace

TEST_CASE("Looking at a difference writes nothing, not even who looks") {
    CommandShop shop;
    const std::string before = shop.photograph("before.png", plain(120, 110, 90));
    const std::string after = shop.photograph("after.png", plain(150, 145, 140), "normal", "cleaned");
    casebook::Casebook& book = *must(shop.context.book(shop.book));
    const std::size_t people = must(book.people()).size();
    const auto heads = [&] {
        std::vector<std::int64_t> out;
        for (const casebook::ChainHead& each : must(book.heads())) out.push_back(each.number);
        return out;
    };
    const auto written = heads();
    const json looked = must(shop.run({"photograph", "difference", shop.book, before, after, "--by", "Somebody New"}));
    CHECK(looked["whole"]["figures"]["mean"].get<double>() > 5.0);
    CHECK(must(book.people()).size() == people);
    CHECK(heads() == written);
}

TEST_CASE("Too little memory is told as such, and no fault of the program") {
    const std::runtime_error of_a_library("OpenCV(4.6.0) error: (-4:Insufficient memory) Failed to allocate 9 bytes");
    CHECK(cli::error_of_fault(of_a_library).code == "program.no-memory");
    CHECK(cli::error_of_fault(std::bad_alloc()).code == "program.no-memory");
    const Error fault = cli::error_of_fault(std::logic_error("a table is missing"));
    CHECK(fault.code == "program.fault");
    CHECK(fault.message == "tedge met a fault of its own: a table is missing.");
}

TEST_CASE("One photograph twice is refused by every comparison, and an error below zero is wrong use") {
    CommandShop shop;
    const std::string id = shop.photograph("before.png", plain(120, 110, 90));
    CHECK(shop.run({"photograph", "difference", shop.book, id, id}).error().code == "photograph.same");
    CHECK(shop.run({"photograph", "crack-change", shop.book, id, "--before", id}).error().code == "photograph.same");
    CHECK(shop.run({"photograph", "register", shop.book, id, "--reference", id}).error().code == "photograph.same");
    const std::string file = to_utf8(shop.folder / "before.png");
    const auto refused = shop.run({"colour-difference", file, file, "--error-px", "-0.5"});
    REQUIRE_FALSE(refused);
    CHECK(cli::code_of(refused.error()) == cli::ExitCode::wrong_use);
    CHECK(must(shop.run({"colour-difference", file, file, "--error-px", "0.5"}))["delta_e00"]["mean"] == 0.0);
}

TEST_CASE("A map between two files is written with its scale and what of it is evidence below it") {
    CommandShop shop;
    shop.photograph("one.png", plain(120, 110, 90));
    shop.photograph("other.png", plain(150, 145, 140));
    const std::string one = to_utf8(shop.folder / "one.png"), other = to_utf8(shop.folder / "other.png");
    const std::string out = to_utf8(shop.folder / "map.png");
    for (const char* kind : {"delta-e00", "delta-l"}) {
        must(shop.run({"colour-difference", one, other, "--map", kind, "--out", out}));
        const auto read = must(imaging::read_picture(shop.folder / "map.png"));
        const auto& sheet = std::get<imaging::Raster8>(read.pixels);
        CHECK(sheet.width_px() >= 200);
        CHECK(sheet.height_px() > 150 + 60);  // a scale with its figures and two lines at least
        // The map itself at the top, one colour all over; below it black letters on white.
        CHECK(sheet.at(10, 10, 0) == sheet.at(150, 100, 0));
        int white = 0, black = 0;
        for (int y = 160; y < sheet.height_px(); ++y)
            for (int x = 0; x < sheet.width_px(); ++x) {
                white += sheet.at(x, y, 0) > 250 && sheet.at(x, y, 1) > 250 ? 1 : 0;
                black += sheet.at(x, y, 0) < 60 && sheet.at(x, y, 1) < 60 ? 1 : 0;
            }
        CHECK(white > 1000);
        CHECK(black > 100);
    }
}

TEST_CASE("Relief that changed is told by place, drawn with its scale and kept, after registering") {
    CommandShop shop({120, 90});
    using namespace test_support;
    const std::vector<std::string> lamp{"--raking-from", "left", "--raking-angle", "12"};
    const std::string before =
        shop.photograph("before.png", raking({staying, flattened}, 0.0, 1), "raking", "as-received", lamp);
    const std::string after = shop.photograph("after.png", raking({staying, lifted}, 0.0, 2), "raking", "faced", lamp);
    CHECK(shop.run({"photograph", "relief-change", shop.book, before, after}).error().code == "relief.not-registered");
    const json laid =
        must(shop.run({"photograph", "register", shop.book, after, "--reference", before, "--by", "Ada Wren"}));
    REQUIRE(laid["usable"] == true);
    const std::string sheet = to_utf8(shop.folder / "sheet.png");
    const json told = must(shop.run(
        {"photograph", "relief-change", shop.book, before, after, "--out", sheet, "--keep", "--by", "Ada Wren"}));
    REQUIRE(told["places"].size() >= 3);
    CHECK(told["places"][0]["times_floor"].get<double>() > 1.0);
    CHECK(told["total_cm2"].get<double>() > 2.0);
    CHECK(told["id"].is_string());
    CHECK(told["already"] == false);
    // The map and its legend below.
    CHECK(must(imaging::read_picture(shop.folder / "sheet.png")).size().height_px > relief_size.height_px);
}

TEST_CASE("A drawn difference is kept when asked, and known again") {
    CommandShop shop;
    const std::string before = shop.photograph("before.png", plain(120, 110, 90));
    imaging::Raster8 lighter = plain(120, 110, 90);
    for (int y = 40; y < 80; ++y)
        for (int x = 40; x < 120; ++x) lighter.at(x, y, 2) = 140;
    const std::string after = shop.photograph("after.png", lighter, "normal", "cleaned");
    must(shop.run({"photograph", "register", shop.book, after, "--reference", before, "--by", "Ada Wren"}));
    const std::vector<std::string> keep{"photograph", "difference", shop.book, before,
                                        after,        "--keep",     "--by",    "Ada Wren"};
    const json kept = must(shop.run(keep));
    CHECK(kept["already"] == false);
    CHECK(kept["sha256"].get<std::string>().size() == 64);
    const json again = must(shop.run(keep));
    CHECK(again["already"] == true);
    CHECK(again["id"] == kept["id"]);
}
