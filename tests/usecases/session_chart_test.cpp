// A chart photographed apart, and lights that were only guessed.
#include "tedge/usecases/session_chart.hpp"

#include "charted_shop.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/guessed_light.hpp"
#include "tedge/usecases/remake_picture.hpp"

using namespace tedge;
using namespace tedge::charted;

TEST_CASE(
    "A chart photographed in a frame of its own corrects the photographs of its session as one beside them would") {
    Shop shop;
    Shot after = second_shot;
    after.changed = true;
    const Uuid first = shop.taken("first.png", first_shot, false), second = shop.taken("second.png", after, false);
    shop.laid_over(first, second, 0.05);
    CHECK_FALSE(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);
    const auto name = [&](const char* file, const Shot& shot, const Uuid& photograph) {
        return must(measure_session_chart(shop.acting, shop.case_id, shop.chart_apart(file, shot), {photograph},
                                          {.corners_px = true_corners(chart_of(shot))}));
    };
    const auto one = name("chart-1.png", first_shot, first);
    CHECK(one.named.size() == 1);
    CHECK_FALSE(one.already);
    CHECK(shop.book.record(one.done.record)->body.text_or("sha256") == one.sha256);
    CHECK_FALSE(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);  // both or neither
    const auto other = name("chart-2.png", second_shot, second);

    const Uuid changed =
        shop.add("measurement", FieldValues()
                                    .text("what", "place")
                                    .number("value", 1)
                                    .text("unit", "mm")
                                    .record("face_frame", shop.recto())
                                    .region("region", square(changed_at.x_mm, changed_at.y_mm, changed_mm)));
    const auto map = must(map_colour_difference(shop.book, first, second, {.places = {changed}}));
    REQUIRE(map.floor_delta_e00);
    CHECK(*map.floor_delta_e00 >= std::hypot(one.figures.fit.foretold.mean, other.figures.fit.foretold.mean));
    CHECK(map.places.front().figures.figures->mean == Approx(true_change()).margin(*map.floor_delta_e00));
    CHECK(map.floor_sentence.find("both by one photographed apart") != std::string::npos);
    CHECK(nlohmann::json::parse(map.recipe).at("first").at("correction").at("coefficients").size() == 18);

    SECTION("measured alike again it is the same measurement, by other printed values another one") {
        CHECK(name("chart-1.png", first_shot, first).already);
        CHECK_FALSE(must(measure_session_chart(
                             shop.acting, shop.case_id, shop.folder / "chart-1.png", {first},
                             {.corners_px = true_corners(chart_of(first_shot)), .edition = "average-of-thirty"}))
                        .already);
    }
    SECTION("kept, it is made again to the byte from its recipe and the originals, charts named or not") {
        const KeptPicture kept = must(keep_colour_difference(shop.acting, first, second, map));
        must(take_back(shop.acting, one.named.front().inverse));
        CHECK(must(remake_picture(shop.book, kept.done.record)).identical);
        ColourDifferenceWanted chroma;
        chroma.kind = imaging::DifferenceKind::delta_c;
        const auto look = must(map_colour_difference(shop.book, first, second, chroma));  // as developed by now
        const KeptPicture kept_look = must(keep_colour_difference(shop.acting, first, second, look));
        CHECK(must(remake_picture(shop.book, kept_look.done.record)).identical);
        // Of another recipe it is another picture; of half a recipe none.
        const auto with = [&](const char* field, const nlohmann::json& value) {
            casebook::Edit edit;
            edit.operation = casebook::Operation::patch;
            edit.record = kept.done.record;
            edit.values.value(std::string("recipe/") + field, value);
            must(shop.book.commit(shop.acting.author, {edit}));
            return remake_picture(shop.book, kept.done.record);
        };
        CHECK_FALSE(must(with("scale", {5.0, 40.0})).identical);
        CHECK(with("face_mm", nullptr).error().code == "remake.incomplete");
        CHECK(remake_picture(shop.book, first).error().code == "remake.not-made");
    }
    SECTION("taking the naming back takes the correction back") {
        must(take_back(shop.acting, one.named.front().inverse));
        CHECK_FALSE(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);
    }
    SECTION("a board named since then leaves nothing to correct by, and that is said") {
        imaging::Raster8 board(size.width_px, size.height_px, 3);
        std::ranges::fill(board.samples(), std::uint8_t{200});
        must(imaging::write_picture(shop.folder / "board.png", board, imaging::PictureFormat::png));
        must(measure_board(shop.acting, shop.case_id, shop.folder / "board.png", {first}));
        const auto without = must(map_colour_difference(shop.book, first, second));
        CHECK_FALSE(without.floor_delta_e00);
        CHECK(without.charts_missing.find("measure it again") != std::string::npos);
        // Measured anew it is evened by that board first.
        const auto again = name("chart-1.png", first_shot, first);
        CHECK(again.figures.evened);
        CHECK(must(map_colour_difference(shop.book, first, second)).floor_delta_e00);
        const auto apart =
            measure_session_chart(shop.acting, shop.case_id, shop.folder / "chart-1.png", {first, second});
        CHECK(apart.error().code == "session-chart.other-board");
    }
    SECTION("the chart that lies in the photograph itself goes before it") {
        const Uuid charted = shop.taken("charted.png", first_shot);
        shop.laid_over(charted, second, 0.05);
        shop.measure(charted, first_shot);
        must(name_chart(shop.acting, other.done.record, {charted}));
        const auto by_its_own = must(map_colour_difference(shop.book, charted, second));
        CHECK(by_its_own.floor_sentence.find("the second by one photographed apart") != std::string::npos);
    }
}

TEST_CASE("A chart that lies in one photograph can be named for others, and for none that it does not fit") {
    Shop shop;
    const Uuid charted = shop.taken("charted.png", first_shot);
    CHECK(measured_chart_of(shop.book, charted).error().code == "session-chart.no-chart");
    shop.measure(charted, first_shot);
    const Uuid chart = must(measured_chart_of(shop.book, charted));
    Shot again = first_shot;
    again.seed = 99;
    const Uuid bare = shop.taken("bare.png", again, false);
    must(name_chart(shop.acting, chart, {bare}));
    CHECK(must(map_colour_difference(shop.book, charted, bare)).floor_delta_e00);

    NewPhotograph violet;
    violet.light = "ultraviolet";
    again.seed = 100;
    const Uuid in_violet = shop.taken("violet.png", again, false, violet);
    CHECK(name_chart(shop.acting, chart, {bare, in_violet}).error().code == "photograph.no-colour-light");
    CHECK(name_chart(shop.acting, shop.recto(), {bare}).error().code == "session-chart.no-chart");
    const Uuid other_case = must(open_case(shop.acting, {"Another", "", SizeMm{812, 610}}));
    NewPhotograph elsewhere;
    elsewhere.case_id = other_case;
    elsewhere.file = shop.folder / "bare.png";
    elsewhere.stage = "as-received";
    const Uuid there = must(take_in_photograph(shop.acting, elsewhere)).id;
    CHECK(name_chart(shop.acting, chart, {there}).error().code == "session-chart.other-case");
}

namespace {

void put(std::string& to, std::uint32_t value, int bytes) {
    for (int i = 0; i < bytes; ++i) to.push_back(static_cast<char>(value >> (8 * i)));
}

// A JPEG with a camera's name and exposure time in its Exif block (TIFF structure, little-endian; CIPA DC-008).
std::string by_camera(const imaging::Raster8& picture, const std::string& model, std::uint32_t exposures_a_second) {
    std::string tiff = "II*";
    tiff.push_back(0);
    put(tiff, 8, 4);
    const std::uint32_t exif_at = 8 + 2 + 2 * 12 + 4, name_at = exif_at + 2 + 12 + 4;
    const auto name_bytes = static_cast<std::uint32_t>(model.size() + 1);
    const std::uint32_t time_at = name_at + name_bytes + name_bytes % 2;
    const auto entry = [&](std::uint32_t tag, std::uint32_t type, std::uint32_t count, std::uint32_t value) {
        put(tiff, tag, 2);
        put(tiff, type, 2);
        put(tiff, count, 4);
        put(tiff, value, 4);
    };
    put(tiff, 2, 2);
    entry(0x0110, 2, name_bytes, name_at);
    entry(0x8769, 4, 1, exif_at);
    put(tiff, 0, 4);
    put(tiff, 1, 2);
    entry(0x829A, 5, 1, time_at);
    put(tiff, 0, 4);
    tiff += model;
    tiff.append(time_at - tiff.size(), '\0');
    put(tiff, 1, 4);
    put(tiff, exposures_a_second, 4);
    std::string block("Exif\0\0", 6);
    block += tiff;
    std::string marker("\xFF\xE1", 2);
    marker.push_back(static_cast<char>((block.size() + 2) >> 8));
    marker.push_back(static_cast<char>((block.size() + 2) & 0xFF));
    std::string jpeg = must(imaging::encode_picture(picture, imaging::PictureFormat::jpeg));
    return jpeg.insert(2, marker + block);
}

}  // namespace

TEST_CASE("What the files say of camera and exposure is held against a chart named for its session") {
    Shop shop;
    const auto take_in = [&](const char* name, const std::string& model, std::uint32_t exposures_a_second) {
        Shot shot = first_shot;
        shot.seed = static_cast<std::uint64_t>(exposures_a_second) + model.size();
        must(write_file_durably(shop.folder / name, by_camera(photograph_of(shot, false), model, exposures_a_second)));
        NewPhotograph wanted;
        wanted.case_id = shop.case_id;
        wanted.file = shop.folder / name;
        wanted.stage = "as-received";
        return must(take_in_photograph(shop.acting, wanted)).id;
    };
    const auto chart = shop.folder / "chart.jpg";
    must(write_file_durably(chart, by_camera(shown(photographed(chart_of(first_shot))), "Lantern 5", 60)));
    const auto refused = [&](const Uuid& photograph) {
        const auto named = measure_session_chart(shop.acting, shop.case_id, chart, {photograph},
                                                 {.corners_px = true_corners(chart_of(first_shot))});
        return named ? "" : named.error().code;
    };
    CHECK(refused(take_in("alike.jpg", "Lantern 5", 60)).empty());
    CHECK(refused(take_in("other-camera.jpg", "Heron 2", 60)) == "session-chart.other-camera");
    CHECK(refused(take_in("longer.jpg", "Lantern 5", 15)) == "session-chart.other-exposure");
    CHECK(shop.count("measurement") == 1);  // of those refused nothing is kept
}

TEST_CASE("A light that was only guessed is told where colours are compared, and is no evidence until confirmed") {
    Shop shop;
    NewPhotograph guessed;
    guessed.guesses = {{"face", "recto", "the name says front"}, {"light", "normal", "nothing says otherwise"}};
    const Uuid first = shop.taken("first.png", first_shot),
               second = shop.taken("second.png", second_shot, true, guessed);
    shop.laid_over(first, second, 0.05);
    shop.measure(first, first_shot);
    const auto measured = must(measure_chart(shop.acting, second, {.corners_px = true_corners(chart_of(second_shot))}));
    CHECK(measured.guessed_light ==
          "That the light of this photograph is normal was only guessed (nothing says otherwise), and nobody has "
          "confirmed it.");
    const auto map = must(map_colour_difference(shop.book, first, second));
    REQUIRE(map.guessed_lights.size() == 1);
    CHECK(map.guessed_lights.front().find("the second photograph is normal was only guessed") != std::string::npos);
    CHECK(record_colour_difference(shop.acting, first, second, map).error().code == "photograph.light-guessed");
    CHECK(keep_colour_difference(shop.acting, first, second, map).error().code == "photograph.light-guessed");
    must(change_record(shop.acting, second, FieldValues().flag("guessed", false)));
    CHECK(must(map_colour_difference(shop.book, first, second)).guessed_lights.empty());
    CHECK(record_colour_difference(shop.acting, first, second, map));
}

TEST_CASE("Where only face or stage was guessed the light was said") {
    casebook::Record photograph;
    photograph.body = casebook::Body(nlohmann::json{{"light", "normal"},
                                                    {"guessed", true},
                                                    {"guessed_why",
                                                     "face: recto, nothing says otherwise; stage: "
                                                     "as-received, the name says received"}});
    CHECK_FALSE(why_light_was_guessed(photograph));
    CHECK(guessed_light_sentence(photograph, "this photograph").empty());
}
