#include "tedge/casebook/frames.hpp"

#include <cmath>

#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

// Canvas that lies up to a millimetre and a half elsewhere after lining, and a little turned.
Placement moved_canvas() {
    Placement moved;
    moved.face_from_photo = Homography::from_row_major({1.0, 0.002, -0.4, -0.002, 1.0, 0.7, 0, 0, 1}).value();
    std::vector<PointMm> coefficients;
    for (int row = 0; row < 11; ++row) {
        for (int column = 0; column < 13; ++column) {
            coefficients.push_back({0.9 * std::sin(column * 0.6), 0.7 * std::cos(row * 0.5)});
        }
    }
    moved.displacement = BsplineDisplacement::make({-80, -80}, 80, 13, 11, coefficients).value();
    moved.error_mm = 0.03;
    return moved;
}

struct Lined : PaperCase {
    Uuid lined;
    Uuid lined_verso;
    Placement move = moved_canvas();

    Lined() {
        const Uuid step = add("structure_step", FieldValues().text("act", "lining").text("done_on", "2026-05-06"));
        lined = epoch("recto", recto, step);
        lined_verso = epoch("verso", verso, step);
        patch(lined, "new_from_old", FieldValues().placement("move", move).set_values().at("move"));
    }

    Uuid epoch(std::string_view face, const Uuid& older, const Uuid& step) {
        return add("face_frame", FieldValues()
                                     .text("face", face)
                                     .number("width_mm", 802)
                                     .number("height_mm", 600)
                                     .text("epoch_from", "2026-05-06")
                                     .record("older", older)
                                     .record("opened_by", step));
    }

    Uuid placed_photograph(const Uuid& on, const Placement& placement) {
        const Uuid id = photograph("recto", "normal", "as-received");
        patch(id, "face_frame", to_text(on));
        patch(id, "face_from_photo", FieldValues().placement("place", placement).set_values().at("place"));
        return id;
    }
};

}  // namespace

TEST_CASE("A place recorded before lining is found on the lined canvas, and back") {
    Lined paper;
    const Uuid finding = paper.finding(paper.recto, rectangle(400, 300, 20, 10), "loss", false);
    const auto now = place_on_frame(paper.snapshot, *paper.snapshot.find(finding), paper.lined);
    REQUIRE(now);
    const PointMm corner = paper.move.to_face({400, 300});
    CHECK(now->distance_mm(Region::point(corner).value()) < 1e-6);
    CHECK(std::hypot(corner.x_mm - 400, corner.y_mm - 300) > 0.2);  // it did move
    const auto there_and_back = seen_in_frame(paper.snapshot, *now, paper.lined, paper.recto);
    REQUIRE(there_and_back);
    CHECK(there_and_back->without(rectangle(399.99, 299.99, 20.02, 10.02)).empty());
    // Another face, or a frame nothing leads to: no place rather than a wrong one.
    CHECK_FALSE(place_on_frame(paper.snapshot, *paper.snapshot.find(finding), paper.lined_verso));
    const Uuid lost = paper.frame("recto", "2020-01-01");
    CHECK_FALSE(place_on_frame(paper.snapshot, *paper.snapshot.find(finding), lost));
}

TEST_CASE("What stood on the old back is found behind the lined canvas through the front") {
    Lined paper;
    const auto behind = seen_in_frame(paper.snapshot, rectangle(100, 50, 30, 10), paper.verso, paper.lined_verso);
    REQUIRE(behind);
    // Turned over with 800 mm, moved as the front moved, turned back with the 802 mm of the lined canvas.
    const PointMm front = paper.move.to_face({800.0 - 100.0, 50.0});
    CHECK(behind->distance_mm(Region::point({802.0 - front.x_mm, front.y_mm}).value()) < 1e-6);
}

TEST_CASE("A photograph of one epoch is placed on the frame of the other") {
    Lined paper;
    Placement placement;
    placement.face_from_photo = Homography::from_four_points({{{10, 12}, {5990, 30}, {5970, 4480}, {20, 4500}}},
                                                             {{{0, 0}, {800, 0}, {800, 600}, {0, 600}}})
                                    .value();
    placement.error_mm = 0.04;
    const Uuid id = paper.placed_photograph(paper.recto, placement);
    const Record photograph = *paper.snapshot.find(id);
    const auto now = placement_on_frame(paper.snapshot, photograph, paper.lined);
    REQUIRE(now);
    double farthest_mm = 0.0;
    for (double y = 100; y < 4400; y += 171) {
        for (double x = 100; x < 5900; x += 233) {
            const PointMm old = placement.to_face({x, y});
            const PointMm exact = paper.move.to_face({old.x_mm, old.y_mm});
            const PointMm here = now->to_face({x, y});
            farthest_mm = std::max(farthest_mm, std::hypot(here.x_mm - exact.x_mm, here.y_mm - exact.y_mm));
        }
    }
    CHECK(farthest_mm < 0.005);
    // 0.04 and 0.03 in quadrature, and what the fit leaves over at the rim of the face.
    CHECK(now->error_mm >= 0.05);
    CHECK(now->error_mm < 0.06);
    CHECK(placement_on_frame(paper.snapshot, photograph, paper.recto)->face_from_photo == placement.face_from_photo);
    CHECK_FALSE(placement_on_frame(paper.snapshot, photograph, paper.frame("recto", "2020-01-01")));
}

TEST_CASE("Two epochs that began on one day keep their fronts and backs apart") {
    Lined paper;
    const Uuid step = paper.add("structure_step", FieldValues().text("act", "stretcher").text("done_on", "2026-05-06"));
    const Uuid stretched_verso = paper.epoch("verso", paper.lined_verso, step);
    CHECK(seen_in_frame(paper.snapshot, rectangle(1, 1, 5, 5), paper.lined, paper.lined_verso));
    CHECK_FALSE(seen_in_frame(paper.snapshot, rectangle(1, 1, 5, 5), paper.lined, stretched_verso));
}
