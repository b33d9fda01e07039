// Cracks and inscriptions by command: the fields that scripts rely on.
#include <catch2/catch.hpp>

#include "command_shop.hpp"
#include "tedge/imaging/picture.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

constexpr SizePx size{400, 300};

// Light paint with a dark line 2 px wide, and perhaps a second one across.
imaging::Raster8 painted(std::uint8_t light, bool second) {
    imaging::Raster8 out(size.width_px, size.height_px, 3);
    for (int y = 0; y < size.height_px; ++y)
        for (int x = 0; x < size.width_px; ++x)
            for (int c = 0; c < 3; ++c) {
                const bool dark = (x >= 100 && x < 102) || (second && y >= 150 && y < 152 && x > 160 && x < 360);
                out.at(x, y, c) = static_cast<std::uint8_t>(dark ? light / 3 : light + (x * 7 + y * 13) % 5);
            }
    return out;
}

}  // namespace

TEST_CASE("Cracks of a file, of a placed photograph and between two are told in fields") {
    CommandShop shop;
    const std::string before = shop.photograph("before.png", painted(150, false));
    const std::string after = shop.photograph("after.png", painted(210, true));
    const std::string out = to_utf8(shop.folder / "lines.png");
    const json of_file =
        must(shop.run({"cracks", to_utf8(shop.folder / "after.png"), "--px-per-mm", "2", "--lines", out}));
    CHECK(of_file["length_mm"].get<double>() == Approx(250).margin(8));  // 300 px and 199 px
    CHECK(of_file["density_mm_per_cm2"].get<double>() == Approx(250 / (20.0 * 15.0)).epsilon(0.04));
    CHECK(must(imaging::read_picture(shop.folder / "lines.png")).size() == size);

    const json mapped = must(shop.run({"photograph", "cracks", shop.book, after, "--by", "Ada Wren"}));
    CHECK(mapped["length_mm"].get<double>() == Approx(500).margin(15));
    CHECK(mapped["measurements"].size() >= 2);
    CHECK(mapped["already"] == false);

    const json changed = must(shop.run(
        {"photograph", "crack-change", shop.book, after, "--before", before, "--at", "250,151", "--by", "Ada Wren"}));
    CHECK(changed["new_mm"].get<double>() == Approx(199).margin(12));
    CHECK(changed["gone_mm"] == 0.0);
    CHECK(changed["same_mm"].get<double>() == Approx(300).margin(12));
    CHECK(changed["at"]["crack"] == "new");
}

TEST_CASE("A legible view is made by command, and a wrong method is refused") {
    CommandShop shop;
    const std::string id = shop.photograph("panel.png", painted(150, true));
    const json made = must(shop.run({"photograph", "legible", shop.book, id, "--method", "principal-component",
                                     "--component", "0", "--by", "Ada Wren"}));
    CHECK(made["eigenvalues"].size() == 3);
    CHECK(made["inputs_sha256"].size() == 1);
    CHECK(shop.run({"photograph", "legible", shop.book, id, "--method", "magic", "--by", "Ada Wren"}).error().code ==
          "legibility.method");
}
