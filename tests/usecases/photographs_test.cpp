#include "tedge/usecases/photographs.hpp"

#include <cmath>

#include "painted_pair.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/map_colour_difference.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;
using casebook::Record;
using namespace tedge::test_support;

namespace {

constexpr SizePx size{420, 336};
const PaintedScene scene{.seed = 3, .stroke_px = 90.0, .layers = 4};

std::filesystem::path photographed(UsecaseBook& shop, const std::string& name, const KnownMove& move,
                                   const Ageing& ageing = {.noise = 1.5}, std::uint64_t seed = 11) {
    const auto file = shop.folder / name;
    must(imaging::write_picture(file, photograph(scene, size, move, ageing, seed, 2), imaging::PictureFormat::png));
    return file;
}

NewPhotograph taken(UsecaseBook& shop, const std::filesystem::path& file, Face face = Face::recto) {
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.face = face;
    wanted.stage = "as-received";
    return wanted;
}

const std::array<PointPx, 4> whole_picture{PointPx{-0.5, -0.5}, PointPx{419.5, -0.5}, PointPx{419.5, 335.5},
                                           PointPx{-0.5, 335.5}};

}  // namespace

TEST_CASE("A photograph is taken in once, with its size, and its bytes are kept as they were") {
    UsecaseBook shop;
    const auto file = photographed(shop, "first.png", {});
    const TakenPhotograph first = must(take_in_photograph(shop.acting, taken(shop, file)));
    CHECK(first.size->width_px == 420);
    CHECK_FALSE(first.already);
    CHECK(must(read_file(shop.book.original_path(first.sha256))) == must(read_file(file)));
    const TakenPhotograph again = must(take_in_photograph(shop.acting, taken(shop, file)));
    CHECK(again.already);
    CHECK(again.id == first.id);
    CHECK(shop.count("photograph") == 1);
}

TEST_CASE("A file name of any bytes comes in as one line of text") {
    for (const auto& [name, written] : {std::pair{"two\nlines.png", "two?lines.png"}, {"\xff\xfe.png", "??.png"}}) {
        UsecaseBook shop;
        const auto plain = photographed(shop, "plain.png", {});
        const auto odd = plain.parent_path() / name;
        std::filesystem::rename(plain, odd);
        const TakenPhotograph in = must(take_in_photograph(shop.acting, taken(shop, odd)));
        CHECK(must(shop.book.record(in.id)).body.text("file_name") == written);
    }
}

TEST_CASE("What was left out in reading a photograph is told to whoever takes it in") {
    UsecaseBook shop;
    CHECK(must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "plain.png", {})))).notes.empty());
    must(imaging::write_picture(shop.folder / "photo.jpg", photograph(scene, size, {}, {}, 11, 2),
                                imaging::PictureFormat::jpeg));
    const std::string jpeg = must(read_file(shop.folder / "photo.jpg"));
    // ICC.1:2010, annex B.4: the one and only part of a profile, which holds no profile.
    using namespace std::string_literals;
    const std::string part = "ICC_PROFILE\0\x01\x01"s + std::string(200, 'x');
    const std::string marker = "\xff\xe2"s + static_cast<char>(0) + static_cast<char>(part.size() + 2) + part;
    must(write_file_durably(shop.folder / "odd.jpg", jpeg.substr(0, 2) + marker + jpeg.substr(2)));
    const auto odd = must(take_in_photograph(shop.acting, taken(shop, shop.folder / "odd.jpg")));
    REQUIRE(odd.notes.size() == 1);
    CHECK(odd.notes[0].find("profile") != std::string::npos);
}

TEST_CASE("A word that is none, and a file that is no picture, are refused and leave no record") {
    UsecaseBook shop;
    NewPhotograph wanted = taken(shop, photographed(shop, "first.png", {}));
    wanted.light = "moonlight";
    CHECK(take_in_photograph(shop.acting, wanted).error().code == "photograph.unknown-word");
    must(write_file_durably(shop.folder / "letter.jpg", "Dear sir, the picture is by the master."));
    CHECK_FALSE(take_in_photograph(shop.acting, taken(shop, shop.folder / "letter.jpg")));
    CHECK(shop.count("photograph") == 0);
}

TEST_CASE("A raking photograph is taken in with the side and angle of its lamp; no other light has them") {
    UsecaseBook shop;
    NewPhotograph wanted = taken(shop, photographed(shop, "first.png", {}));
    wanted.raking_side = "left";
    wanted.raking_angle_degrees = 15;
    CHECK(take_in_photograph(shop.acting, wanted).error().code == "photograph.not-raking");
    wanted.light = "raking";
    const auto body = must(shop.book.record(must(take_in_photograph(shop.acting, wanted)).id)).body;
    CHECK(body.text("raking_side") == "left");
    CHECK(body.number("raking_angle_degrees") == 15.0);
    wanted.raking_side = "behind";
    CHECK(take_in_photograph(shop.acting, wanted).error().code == "photograph.unknown-word");
}

TEST_CASE("A damaged photograph is refused, kept and marked only when that is asked for") {
    UsecaseBook shop;
    std::string bytes = must(read_file(photographed(shop, "whole.png", {})));
    bytes.resize(bytes.size() / 2);
    must(write_file_durably(shop.folder / "half.png", bytes));
    NewPhotograph wanted = taken(shop, shop.folder / "half.png");
    CHECK(take_in_photograph(shop.acting, wanted).error().code == "picture.damaged");
    wanted.keep_damaged = true;
    const TakenPhotograph kept = must(take_in_photograph(shop.acting, wanted));
    CHECK_FALSE(kept.damaged.empty());
    CHECK(must(shop.book.record(kept.id)).body.has("damaged"));
    CHECK(must(read_file(shop.book.original_path(kept.sha256))) == bytes);
}

TEST_CASE("Corners place a photograph: the middle of the pixels is the middle of the millimetres") {
    UsecaseBook shop;
    const Uuid photo = must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "first.png", {})))).id;
    must(place_by_corners(shop.acting, photo, whole_picture));
    const Record record = must(shop.book.record(photo));
    CHECK(record.body.record("face_frame") == shop.recto());
    const PointMm middle = record.body.placement("face_from_photo")->to_face({209.5, 167.5});
    CHECK(middle.x_mm == Approx(406.0));
    CHECK(middle.y_mm == Approx(305.0));
}

TEST_CASE(
    "Corners that cross, run the other way round or lie far off place nothing; one that was cut off may be guessed") {
    UsecaseBook shop;
    const Uuid photo = must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "first.png", {})))).id;
    const auto refusal = [&](const std::array<PointPx, 4>& corners) {
        return place_by_corners(shop.acting, photo, corners).error().code;
    };
    CHECK(refusal({PointPx{0, 0}, {400, 300}, {400, 0}, {0, 300}}) == "photograph.corners-crossed");
    CHECK(refusal({PointPx{0, 0}, {400, 0}, {100, 100}, {0, 300}}) == "photograph.corners-crossed");  // dented
    CHECK(refusal({PointPx{400, 0}, {0, 0}, {0, 300}, {400, 300}}) == "photograph.corners-mirrored");
    CHECK(refusal({PointPx{0, 0}, {50000, 0}, {50000, 40000}, {0, 40000}}) == "photograph.corners-off");
    CHECK_FALSE(must(shop.book.record(photo)).body.has("face_from_photo"));
    CHECK(place_by_corners(shop.acting, photo, {PointPx{-30, -12}, {450, -8}, {440, 350}, {-20, 352}}));
    // Upside down is a way to stand, not a mistake.
    CHECK(place_by_corners(shop.acting, photo, {PointPx{400, 300}, {10, 310}, {12, 9}, {410, 6}}));
}

TEST_CASE("The first photograph of the back that is placed makes the frame of the back") {
    UsecaseBook shop;
    const Uuid photo =
        must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "back.png", {}), Face::verso))).id;
    must(place_by_corners(shop.acting, photo, whole_picture));
    const auto snapshot = shop.snapshot();
    const Record* verso = current_frame(snapshot, Face::verso);
    REQUIRE(verso != nullptr);
    CHECK(verso->body.number("width_mm") == 812.0);
    CHECK(verso->body.record("reference") == photo);
    // Four corners on one line place nothing, and make no frame either.
    const Uuid edge = must(take_in_photograph(
                               shop.acting, taken(shop, photographed(shop, "edge.png", {}, {.noise = 3}), Face::verso)))
                          .id;
    const auto refused = place_by_corners(shop.acting, edge, {PointPx{0, 0}, {10, 0}, {20, 0}, {30, 0}});
    REQUIRE_FALSE(refused);
    CHECK_FALSE(must(shop.book.record(edge)).body.has("face_from_photo"));
}

TEST_CASE("Light through the canvas lays the back over the front, each in its own millimetres") {
    UsecaseBook shop;
    const Uuid front = must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "front.png", {})))).id;
    must(place_by_corners(shop.acting, front, whole_picture));
    const KnownMove truth{seen_from({.degrees = 2.0, .scale = 0.97, .shift = {4, -2}, .mirrored = true}, size, size)};
    // Thin paint lets light through, and thin paint is dark as often as not.
    const auto file = photographed(shop, "back.png", truth, {.haze = 0.05, .noise = 2.0}, 12);
    NewPhotograph wanted = taken(shop, file, Face::verso);
    const Uuid ordinary = must(take_in_photograph(shop.acting, wanted)).id;
    const auto refused = register_photograph(shop.acting, front, ordinary);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "photograph.other-face");
    CHECK(refused.error().next.find("corners") != std::string::npos);
    must(change_record(shop.acting, ordinary, FieldValues().text("light", "transmitted")));

    const RegisteredPhotograph found = must(register_photograph(shop.acting, front, ordinary));
    REQUIRE(found.usable);
    CHECK(found.frame_made);
    const auto snapshot = shop.snapshot();
    const Record* verso = current_frame(snapshot, Face::verso);
    REQUIRE(verso != nullptr);
    const Record back = must(shop.book.record(ordinary));
    CHECK(back.body.record("face_frame") == verso->id);
    const auto placement = back.body.placement("face_from_photo");
    REQUIRE(placement);
    const double mm_per_px = 812.0 / 420.0;
    for (const PointPx at : {PointPx{60, 50}, {350, 60}, {210, 170}, {70, 280}, {340, 290}}) {
        const PointPx seen = truth(at);  // in the front's photograph
        const PointMm there = placement->to_face(at);
        CHECK(there.x_mm == Approx(812.0 - (seen.x_px + 0.5) * mm_per_px).margin(0.4));
        CHECK(there.y_mm == Approx((seen.y_px + 0.5) * 610.0 / 336.0).margin(0.4));
    }
    // A front that was filed as a back would come to lie mirror-wise.
    NewPhotograph misfiled = taken(shop, photographed(shop, "misfiled.png", {}, {.noise = 3.0}, 13), Face::verso);
    misfiled.light = "transmitted";
    const Uuid wrong = must(take_in_photograph(shop.acting, misfiled)).id;
    CHECK_FALSE(must(register_photograph(shop.acting, front, wrong)).usable);
    CHECK_FALSE(must(shop.book.record(wrong)).body.has("face_from_photo"));
}

TEST_CASE("A registered photograph lies on the picture where its known movement puts it") {
    UsecaseBook shop;
    const Uuid reference = must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "first.png", {})))).id;
    const KnownMove truth{seen_from({.degrees = 3.0, .scale = 0.96, .shift = {5, -3}}, size, size), 1.0, 500.0};
    const Uuid moving =
        must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "yellow.png", truth, old_varnish, 12)))).id;
    CHECK(register_photograph(shop.acting, reference, moving).error().code == "photograph.not-placed");

    must(place_by_corners(shop.acting, reference, whole_picture));
    const RegisteredPhotograph found = must(register_photograph(shop.acting, reference, moving));
    REQUIRE(found.usable);
    const auto placed = must(shop.book.record(moving)).body.placement("face_from_photo");
    const auto still = must(shop.book.record(reference)).body.placement("face_from_photo");
    REQUIRE(placed);
    for (const PointPx at : {PointPx{60, 60}, PointPx{210, 170}, PointPx{360, 280}}) {
        const PointMm here = placed->to_face(at);
        const PointMm there = still->to_face(truth(at));
        CHECK(std::hypot(here.x_mm - there.x_mm, here.y_mm - there.y_mm) < 0.6);  // a pixel covers 1.9 mm
    }
    const Record report = must(shop.book.record(found.registration));
    CHECK(report.body.flag("usable"));
    CHECK(must(shop.book.record(moving)).body.record("face_from_photo/registration") == found.registration);
    // Where it lies better and where worse: cells over the reference, around the error as a whole.
    const auto& grid = report.body.as_json().at("error_grid");
    const std::size_t cells = grid.at("columns").get<std::size_t>() * grid.at("rows").get<std::size_t>();
    CHECK(grid.at("columns").get<int>() <= 16);
    CHECK(grid.at("cell_px").get<double>() * grid.at("columns").get<double>() >= size.width_px);
    REQUIRE(grid.at("error_px").size() == cells);
    const auto errors = grid.at("error_px").get<std::vector<double>>();
    CHECK(*std::ranges::max_element(errors) > 0.005);
    CHECK(*std::ranges::max_element(errors) < 2.0);

    // Placed anew, the reference lies elsewhere than the photograph that was laid over it: they are no longer joined.
    const auto apart_mm = [&] { return must(map_colour_difference(shop.book, reference, moving)).error_mm; };
    const double joined_mm = apart_mm();
    CHECK(joined_mm < still->error_mm);
    auto shifted = whole_picture;
    for (PointPx& corner : shifted) corner.x_px += 3.0;
    const auto anew = must(place_by_corners(shop.acting, reference, shifted));
    CHECK(apart_mm() == Approx(std::hypot(anew.placement.error_mm, placed->error_mm)));
    must(take_back(shop.acting, anew.done.back().inverse));
    CHECK(apart_mm() == Approx(joined_mm));
}

TEST_CASE("Another picture is laid nowhere, and that is recorded") {
    UsecaseBook shop;
    const Uuid reference = must(take_in_photograph(shop.acting, taken(shop, photographed(shop, "first.png", {})))).id;
    must(place_by_corners(shop.acting, reference, whole_picture));
    const PaintedScene other{.seed = 77, .stroke_px = 90.0, .layers = 4};
    const auto file = shop.folder / "other.png";
    must(imaging::write_picture(file, photograph(other, size, {}, {.noise = 1.5}, 5, 2), imaging::PictureFormat::png));
    const Uuid moving = must(take_in_photograph(shop.acting, taken(shop, file))).id;
    const RegisteredPhotograph found = must(register_photograph(shop.acting, reference, moving));
    CHECK_FALSE(found.usable);
    CHECK_FALSE(found.reason.empty());
    CHECK_FALSE(must(shop.book.record(moving)).body.has("face_from_photo"));
    CHECK_FALSE(must(shop.book.record(found.registration)).body.flag("usable"));
}
