#include "tedge/usecases/resized_face.hpp"

#include <nlohmann/json.hpp>

#include "book_fixture.hpp"
#include "kept_file.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/placed_by.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/photographs.hpp"
#include "tedge/usecases/records.hpp"

using namespace tedge;
using namespace tedge::casebook;
using namespace tedge::usecases;

namespace {

// Somebody typed the size of the frame, 812 × 610 mm, for the picture's, which is 610 × 460.
struct Mistyped : Book {
    Acting acting{book, author, clock};
    Uuid picture = must(open_case(acting, {"River landscape with a ferry", "", SizeMm{812, 610}}));

    Mistyped() { clock.advance(std::chrono::days(200)); }

    CaseSnapshot now() { return must(book.snapshot(picture)); }
    Record record(const Uuid& id) { return must(book.record(id)); }
    Uuid frame(Face face = Face::recto) {
        const CaseSnapshot snapshot = now();
        return current_frame(snapshot, face)->id;
    }
    Uuid photograph(std::string_view stage = "as-received", std::string_view face = "recto") {
        return add(picture, "photograph",
                   FieldValues()
                       .text("face", face)
                       .text("light", "normal")
                       .text("stage", stage)
                       .text("sha256", kept_file(book)));
    }
    Done correct_size() {
        return must(change_record(acting, picture, FieldValues().number("width_mm", 610).number("height_mm", 460)));
    }
};

constexpr std::array<PointPx, 4> corners{{{100, 50}, {3100, 60}, {3090, 2300}, {110, 2310}}};

Placement bent(SizeMm face) {
    const auto wave = [](PointMm at) { return PointMm{std::sin(at.y_mm / 90.0), 1.5 * std::cos(at.x_mm / 120.0)}; };
    return {Homography::scaling(face.width_mm / 3000.0, face.height_mm / 2250.0),
            must(BsplineDisplacement::through({-30, -30}, 30.0, 31, 25, wave)), 0.2};
}

}  // namespace

TEST_CASE("A corrected size is that of the face too, before anything lies on it") {
    Mistyped shop;
    const Done corrected = shop.correct_size();
    CHECK(size_of_frame(shop.record(shop.frame())).width_mm == 610.0);
    CHECK(size_of_frame(shop.record(shop.frame())).height_mm == 460.0);
    must(take_back(shop.acting, corrected.inverse));
    CHECK(size_of_frame(shop.record(shop.frame())).width_mm == 812.0);
    CHECK(must(shop.book.rebuild()));
}

TEST_CASE("What lies on a face keeps its place when the size is put right") {
    Mistyped shop;
    const Uuid photo = shop.photograph();
    must(place_by_corners(shop.acting, photo, corners));
    const Uuid bent_photo = shop.photograph();
    must(
        change_record(shop.acting, bent_photo,
                      FieldValues().record("face_frame", shop.frame()).placement("face_from_photo", bent({812, 610}))));
    const Region corner = Region::rectangle({712, 510}, {100, 100}).value();  // the lower right corner
    const Uuid finding = shop.add(shop.picture, "finding",
                                  FieldValues()
                                      .text("term", "flaking")
                                      .text("layer", "paint")
                                      .record("face_frame", shop.frame())
                                      .region("region", corner));
    const Record before = shop.record(bent_photo);

    const Done corrected = shop.correct_size();
    const auto placed = own_placement(shop.record(photo));
    REQUIRE(placed);
    const PointMm last = placed->to_face(corners[2]);
    CHECK(last.x_mm == Approx(610).margin(1e-6));
    CHECK(last.y_mm == Approx(460).margin(1e-6));
    const BoxMm box = shop.record(finding).body.region("region")->bounds();
    CHECK(box.max.x_mm == Approx(610).margin(1e-5));
    CHECK(box.max.y_mm == Approx(460).margin(1e-5));
    CHECK(box.min.x_mm == Approx(712 * 610 / 812.0).margin(1e-5));

    const auto was = *own_placement(before), is = *own_placement(shop.record(bent_photo));
    for (double x = 200; x < 2900; x += 450) {
        for (double y = 200; y < 2200; y += 400) {
            const PointMm then = was.to_face({x, y}), here = is.to_face({x, y});
            CHECK(here.x_mm == Approx(then.x_mm * 610 / 812).margin(0.05));
            CHECK(here.y_mm == Approx(then.y_mm * 460 / 610).margin(0.05));
        }
    }
    CHECK(is.error_mm < 0.2);

    must(take_back(shop.acting, corrected.inverse));
    CHECK(own_placement(shop.record(photo))->to_face(corners[2]).x_mm == Approx(812).margin(1e-5));
    CHECK(shop.record(finding).body.region("region")->bounds().min.x_mm == Approx(712).margin(1e-4));
    CHECK(must(shop.book.check()).problems.empty());
}

TEST_CASE("The size of a face alone, and the joint with the epoch after it, follow") {
    Mistyped shop;
    const Uuid first = shop.frame();
    must(place_by_corners(shop.acting, shop.photograph(), corners));
    must(add_record(shop.acting, shop.picture, "structure_step",
                    FieldValues().text("act", "stretcher").text("done_on", "2026-05-06")));
    const Uuid second = shop.frame();
    REQUIRE(first != second);
    must(change_record(shop.acting, second,
                       FieldValues().placement("new_from_old", {Homography::translation(3.0, -2.0), {}, 0.1})));
    must(change_record(shop.acting, shop.photograph("lined"),
                       FieldValues().record("face_frame", second).placement("face_from_photo", bent({812, 610}))));
    const Region there = Region::rectangle({400, 300}, {8.12, 6.10}).value();
    const auto across_before = seen_in_frame(shop.now(), there, first, second);
    REQUIRE(across_before);
    CHECK(across_before->bounds().min.x_mm == Approx(403));

    SECTION("the first epoch's") {
        must(change_record(shop.acting, first, FieldValues().number("width_mm", 406)));
        const Region half = Region::rectangle({200, 300}, {4.06, 6.10}).value();
        CHECK(seen_in_frame(shop.now(), half, first, second)->bounds().min.x_mm == Approx(403).margin(1e-6));
    }
    SECTION("both, with the picture's") {
        shop.correct_size();
        CHECK(size_of_frame(shop.record(second)).width_mm == 610.0);
        const double k = 610 / 812.0;
        const Region smaller = Region::rectangle({400 * k, 300 * 460 / 610.0}, {6.1, 4.6}).value();
        const BoxMm seen = seen_in_frame(shop.now(), smaller, first, second)->bounds();
        CHECK(seen.min.x_mm == Approx(403 * k).margin(1e-6));
        CHECK(seen.min.y_mm == Approx(298 * 460 / 610.0).margin(1e-6));
    }
}

TEST_CASE("A face that was measured by itself keeps its size when the picture's is changed") {
    Mistyped shop;
    must(change_record(shop.acting, shop.frame(), FieldValues().number("width_mm", 620).number("height_mm", 470)));
    shop.correct_size();
    CHECK(size_of_frame(shop.record(shop.frame())).width_mm == 620.0);
}

TEST_CASE("What was measured with a rule on a face without photographs keeps its millimetres") {
    Mistyped shop;
    const Uuid finding = shop.add(shop.picture, "finding",
                                  FieldValues()
                                      .text("term", "flaking")
                                      .text("layer", "paint")
                                      .record("face_frame", shop.frame())
                                      .region("region", Region::rectangle({300, 200}, {40, 30}).value()));
    shop.correct_size();
    CHECK(size_of_frame(shop.record(shop.frame())).width_mm == 610.0);
    CHECK(shop.record(finding).body.region("region")->bounds().min.x_mm == 300.0);
}
