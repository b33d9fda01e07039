// A made pair whose truth is known (coated_painting.hpp), taken in as two photographs of a face.
#include "tedge/usecases/forecast_cleaning.hpp"

#include <algorithm>

#include "coated_painting.hpp"
#include "resaved.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

const test_support::CleaningPair& made_pair() {
    static const auto made = test_support::cleaning_pair(
        test_support::invented_painting(320, 240, 12),
        {.windows = 2, .smallest_window = 0.09, .largest_window = 0.12, .registration_px = 0.5, .seed = 2});
    return made;
}

struct Windowed : UsecaseBook {
    Uuid before = photo("before.png", made_pair().uncleaned, "as-received");
    Uuid after = photo("after.png", made_pair().with_windows, "trials");

    // Corner to corner, or by these corners of the face.
    Uuid photo(const std::string& name, const imaging::Raster8& pixels, const char* stage, const char* light = "normal",
               const std::optional<std::array<PointPx, 4>>& corners = {}) {
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = folder / name;
        wanted.light = light;
        wanted.stage = stage;
        const Uuid id = must(take_in_photograph(acting, wanted)).id;
        const double w = pixels.width_px() - 1;
        const double h = pixels.height_px() - 1;
        const std::array<PointPx, 4> whole{{{0, 0}, {w, 0}, {w, h}, {0, h}}};
        must(place_by_corners(acting, id, corners.value_or(whole)));
        return id;
    }

    // The rectangle of a window, in mm of the face.
    static Region window(std::uint8_t number) {
        const auto& mask = made_pair().windows;
        double left = 1e9, top = 1e9, right = 0, bottom = 0;
        for (int y = 0; y < mask.height_px(); ++y)
            for (int x = 0; x < mask.width_px(); ++x) {
                if (mask.at(x, y) != number) continue;
                left = std::min<double>(left, x);
                top = std::min<double>(top, y);
                right = std::max<double>(right, x);
                bottom = std::max<double>(bottom, y);
            }
        const double across = 812.0 / (mask.width_px() - 1);
        const double down = 610.0 / (mask.height_px() - 1);
        return must(Region::rectangle({(left - 0.5) * across, (top - 0.5) * down},
                                      {(right - left + 1) * across, (bottom - top + 1) * down}));
    }

    Uuid trial(std::uint8_t number, const char* layer, const char* verdict = "cleared") {
        return add("trial", FieldValues()
                                .record("face_frame", recto())
                                .region("region", window(number))
                                .text("passage", "sky")
                                .text("layer", layer)
                                .text("agent", "ethanol 20, isooctane 80")
                                .text("verdict", verdict));
    }

    std::string refused(const ForecastWanted& wanted) {
        const auto made = forecast_cleaning(acting, wanted);
        REQUIRE_FALSE(made);
        return made.error().code;
    }
};

bool says(const std::vector<std::string>& notes, std::string_view what) {
    return std::ranges::any_of(notes, [&](const std::string& each) { return each.find(what) != std::string::npos; });
}

}  // namespace

TEST_CASE("From recorded trials a forecast is made, kept with its uncertainty and known again") {
    Windowed shop;
    const Uuid first = shop.trial(1, "varnish");
    shop.add("treatment_step", FieldValues()
                                   .text("act", "varnish-removal")
                                   .record("face_frame", shop.recto())
                                   .region("region", Windowed::window(2)));
    const ForecastMade made = must(forecast_cleaning(shop.acting, {shop.before, shop.after}));
    CHECK(made.forecast.windows.size() == 2);
    CHECK(made.window_records.front() == first);
    CHECK(made.forecast.left_out_windows->mean < made.forecast.seen_change);
    CHECK(says(made.forecast.notes, "Includes gloss"));
    const auto records = shop.snapshot().of_kind("cleaning_forecast").size();
    CHECK(records == 2);
    const auto record = must(shop.book.record(made.picture.done.record));
    CHECK(record.body.text_or("what") == "forecast");
    CHECK(*record.body.integer("width_px") == 320);
    CHECK(*record.body.integer("height_px") == 240);
    // The other has its scale and legend below.
    CHECK(*must(shop.book.record(made.uncertainty.done.record)).body.integer("height_px") > 240);
    CHECK(record.body.has("face_from_picture"));
    CHECK(record.body.as_json().at("recipe").at("windows_mm").size() == 2);
    // What is kept says what it is, also in its metadata, and comes out the same again.
    for (const KeptPicture& kept : {made.picture, made.uncertainty}) {
        const auto probe = must(imaging::probe_picture(shop.book.original_path(kept.sha256)));
        CHECK(probe.metadata.description == imaging::forecast_description);
    }
    CHECK(must(forecast_cleaning(shop.acting, {shop.before, shop.after})).picture.already);
}

TEST_CASE("A forecast that comes back is not taken in as a photograph") {
    Windowed shop;
    const ForecastMade made = must(
        forecast_cleaning(shop.acting, {shop.before, shop.after, {Windowed::window(1), Windowed::window(2)}, true}));
    CHECK_FALSE(says(made.forecast.notes, "Includes gloss"));
    const auto refused = [&](const std::filesystem::path& file) {
        NewPhotograph wanted;
        wanted.case_id = shop.case_id;
        wanted.file = file;
        wanted.stage = "cleaned";
        const auto taken = take_in_photograph(shop.acting, wanted);
        REQUIRE_FALSE(taken);
        CHECK_FALSE(taken.error().message.empty());
        return taken.error().code;
    };
    must(write_file_durably(shop.folder / "sent.jpg", made.file));
    CHECK(refused(shop.folder / "sent.jpg") == "photograph.is-a-forecast");
    // One without a mark is known by its bytes.
    const auto plain = must(imaging::encode_picture(imaging::Raster8(40, 30, 3), imaging::PictureFormat::png));
    NewDerivedPicture kept;
    kept.case_id = shop.case_id;
    kept.kind = "cleaning_forecast";
    kept.what = "forecast";
    kept.from_photographs = {{shop.before, "before"}};
    must(keep_derived_picture(shop.acting, kept, plain, {{"method", "by hand"}}));
    must(write_file_durably(shop.folder / "plain.png", plain));
    CHECK(refused(shop.folder / "plain.png") == "photograph.is-a-forecast");
    CHECK(shop.count("photograph") == 2);
}

TEST_CASE("A forecast saved anew is no photograph either, the pictures that it was made from are") {
    Windowed shop;
    const ForecastMade made = must(
        forecast_cleaning(shop.acting, {shop.before, shop.after, {Windowed::window(1), Windowed::window(2)}, true}));
    must(write_file_durably(shop.folder / "sent.jpg", made.file));
    const auto sent = test_support::photo(shop.folder / "sent.jpg");
    const auto taken = [&](const imaging::Raster8& picture, const test_support::Resaving& how) {
        must(write_file_durably(shop.folder / "again.jpg", test_support::resaved_file(picture, how)));
        NewPhotograph wanted;
        wanted.case_id = shop.case_id;
        wanted.file = shop.folder / "again.jpg";
        wanted.stage = "cleaned";
        return take_in_photograph(shop.acting, wanted);
    };
    for (const test_support::Resaving& how :
         {test_support::Resaving{.jpeg_quality = 60}, {.kept_share = 2.0 / 3}, {.scale = 0.85, .quarter_turns = 1}}) {
        const auto again = taken(sent, how);
        REQUIRE_FALSE(again);
        CHECK(again.error().code == "photograph.is-a-forecast");
        CHECK(again.error().message.find("FORECAST") != std::string::npos);
        CHECK_FALSE(again.error().next.empty());
    }
    CHECK(shop.count("photograph") == 2);
    CHECK(taken(made_pair().cleaned, {}));
    CHECK(taken(made_pair().uncleaned, {.kept_share = 2.0 / 3}));
    CHECK(shop.count("photograph") == 4);
}

TEST_CASE("A forecast is cut to the face: of frame and wall around it nothing is foretold") {
    constexpr int border = 36;
    const auto framed = [](const imaging::Raster8& face) {
        imaging::Raster8 out(face.width_px() + 2 * border, face.height_px() + 2 * border, 3);
        for (int y = 0; y < out.height_px(); ++y)
            for (int x = 0; x < out.width_px(); ++x)
                for (int c = 0; c < 3; ++c) out.at(x, y, c) = static_cast<std::uint8_t>((x / 8 + y / 8) % 2 * 30 + 90);
        for (int y = 0; y < face.height_px(); ++y)
            std::copy_n(face.row(y), face.row_samples(), &out.at(border, border + y));
        return out;
    };
    const double left = border, top = border, right = border + 319, bottom = border + 239;
    const std::array<PointPx, 4> corners{{{left, top}, {right, top}, {right, bottom}, {left, bottom}}};
    Windowed shop;
    const Uuid before = shop.photo("framed.png", framed(made_pair().uncleaned), "as-received", "normal", corners);
    const Uuid after = shop.photo("framed-after.png", framed(made_pair().with_windows), "trials", "normal", corners);
    const std::vector<Region> windows{Windowed::window(1), Windowed::window(2)};
    const ForecastMade made = must(forecast_cleaning(shop.acting, {before, after, windows}));
    const auto record = must(shop.book.record(made.picture.done.record));
    CHECK(*record.body.integer("width_px") == 320);
    CHECK(*record.body.integer("height_px") == 240);
    const PointMm corner = record.body.placement("face_from_picture")->to_face({0, 0});
    CHECK(corner.x_mm == Approx(0.0).margin(1e-6));
    CHECK(corner.y_mm == Approx(0.0).margin(1e-6));
    // The same forecast as of the photographs that show nothing but the face.
    const ForecastMade bare = must(forecast_cleaning(shop.acting, {shop.before, shop.after, windows}));
    CHECK(made.picture.sha256 == bare.picture.sha256);
}

TEST_CASE("Windows cleaned to the varnish only, planned ones and those that touched paint are no windows") {
    Windowed shop;
    CHECK(shop.refused({shop.before, shop.after}) == "forecast.no-window");
    shop.trial(1, "varnish", "stop");
    shop.add("treatment_step", FieldValues()
                                   .text("act", "varnish-removal")
                                   .record("face_frame", shop.recto())
                                   .region("region", Windowed::window(1))
                                   .flag("planned", true));
    CHECK(shop.refused({shop.before, shop.after}) == "forecast.no-window");
    shop.trial(1, "surface-dirt");
    CHECK(must(forecast_cleaning(shop.acting, {shop.before, shop.after})).forecast.windows.size() == 1);
    const Uuid deeper = shop.trial(2, "varnish");
    const auto made = must(forecast_cleaning(shop.acting, {shop.before, shop.after}));
    CHECK(made.window_records == std::vector<std::optional<Uuid>>{deeper});
    CHECK(says(made.forecast.notes, "varnish only"));
}

TEST_CASE("Light that shows no colour, photographs without a place and unchanged windows are refused") {
    Windowed shop;
    const std::vector<Region> windows{Windowed::window(1)};
    for (const char* light : {"ultraviolet", "infrared", "raking"}) {
        auto other = made_pair().uncleaned;
        other.at(0, 0) = static_cast<std::uint8_t>(light[0]);
        const Uuid photograph = shop.photo(std::string(light) + ".png", other, "trials", light);
        CHECK(shop.refused({shop.before, photograph, windows}) == "photograph.no-colour-light");
        CHECK(shop.refused({photograph, shop.after, windows}) == "photograph.no-colour-light");
    }
    auto same = made_pair().uncleaned;
    same.at(0, 0) = 1;
    const Uuid again = shop.photo("again.png", same, "trials");
    CHECK(shop.refused({shop.before, again, windows}) == "forecast.not-cleaned");
    must(change_record(shop.acting, again, FieldValues().unset("face_from_photo").unset("face_frame")));
    CHECK(shop.refused({again, shop.after, windows}) == "photograph.not-placed");
}
