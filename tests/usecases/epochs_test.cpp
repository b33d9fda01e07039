#include "tedge/usecases/epochs.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "book_fixture.hpp"
#include "kept_file.hpp"
#include "painted_pair.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/photographs.hpp"
#include "tedge/usecases/records.hpp"

using namespace tedge;
using namespace tedge::casebook;
using namespace tedge::usecases;

namespace {

FieldValues stretcher(std::string_view day = "2026-05-06") {
    return FieldValues().text("act", "stretcher").text("done_on", day);
}

struct Workshop : Book {
    Acting acting{book, author, clock};
    Uuid picture = must(open_case(acting, {"River landscape with a ferry", "", SizeMm{600, 450}}));

    Workshop() { clock.advance(std::chrono::days(200)); }  // what is told below has happened
    CaseSnapshot now() { return must(book.snapshot(picture)); }
    Uuid current(Face face = Face::recto) {
        const CaseSnapshot snapshot = now();
        const Record* frame = current_frame(snapshot, face);
        return frame != nullptr ? frame->id : Uuid{};
    }
    Uuid add_photograph(std::string_view stage, std::string_view taken_at = "", std::string_view face = "recto") {
        FieldValues values;
        values.text("face", face).text("light", "normal").text("stage", stage).text("sha256", kept_file(book));
        if (!taken_at.empty()) values.text("taken_at", taken_at);
        return add(picture, "photograph", values);
    }
    Uuid belongs_to(const Uuid& photograph) {
        const CaseSnapshot snapshot = now();
        const Record* frame = frame_of_photograph(snapshot, *snapshot.find(photograph));
        return frame != nullptr ? frame->id : Uuid{};
    }
};

}  // namespace

TEST_CASE("A new stretcher opens a new frame in the same act; taken back it is gone, redone the same one is there") {
    Workshop shop;
    const Uuid first = shop.current();
    const Done done = must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
    const Uuid second = shop.current();
    CHECK(second != first);
    const Record frame = must(shop.book.record(second));
    CHECK(frame.body.record("older") == first);
    CHECK(frame.body.record("opened_by") == done.record);
    CHECK(frame.body.text_or("epoch_from") == "2026-05-06");
    CHECK(frame.body.number("width_mm") == 600.0);
    CHECK_FALSE(frame.body.has("new_from_old"));
    const Done undone = must(take_back(shop.acting, done.inverse));
    CHECK(shop.current() == first);
    must(take_back(shop.acting, undone.inverse));
    CHECK(shop.current() == second);
    CHECK(must(shop.book.rebuild()));
}

TEST_CASE("What is planned, or leaves the canvas on its bars, opens no frame") {
    Workshop shop;
    const Uuid first = shop.current();
    must(add_record(shop.acting, shop.picture, "structure_step", FieldValues().text("act", "keying-out")));
    const Done plan = must(add_record(shop.acting, shop.picture, "structure_step", stretcher().flag("planned", true)));
    CHECK(shop.current() == first);
    const Done carried_out =
        must(change_record(shop.acting, plan.record, FieldValues().unset("planned").text("done_on", "2026-05-09")));
    const Uuid second = shop.current();
    CHECK(second != first);
    CHECK(must(shop.book.record(second)).body.text_or("epoch_from") == "2026-05-09");
    // Another day moves the frame's beginning; taking both back leaves the first frame in force.
    const Done later = must(change_record(shop.acting, plan.record, FieldValues().text("done_on", "2026-05-11")));
    CHECK(must(shop.book.record(second)).body.text_or("epoch_from") == "2026-05-11");
    must(take_back(shop.acting, later.inverse));
    CHECK(must(shop.book.record(second)).body.text_or("epoch_from") == "2026-05-09");
    must(take_back(shop.acting, carried_out.inverse));
    CHECK(shop.current() == first);
    CHECK(must(shop.book.records(shop.picture, "face_frame")).size() == 2);  // no third one was made on the way
}

TEST_CASE("A lining that the gate refuses opens no frame") {
    Workshop shop;
    const Uuid first = shop.current();
    for (const char* act : {"lining", "marouflage", "transfer"}) {
        const auto refused = add_record(shop.acting, shop.picture, "structure_step", FieldValues().text("act", act));
        REQUIRE_FALSE(refused);
        CHECK(refused.error().code == "gate.closed");
        CHECK(refused.error().values.at("gate") == "16");
    }
    CHECK(shop.current() == first);
    CHECK(must(shop.book.records(shop.picture, "face_frame")).size() == 1);
}

TEST_CASE("A photograph belongs to the frame of its day") {
    Workshop shop;
    const Uuid first = shop.current();
    must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
    const Uuid second = shop.current();
    CHECK(shop.belongs_to(shop.add_photograph("as-received")) == first);  // taken in late
    CHECK(shop.belongs_to(shop.add_photograph("cleaned", "2026-04-30T10:00:00")) == first);
    CHECK(shop.belongs_to(shop.add_photograph("cleaned", "2026-05-06T08:00:00")) == first);  // that morning
    CHECK(shop.belongs_to(shop.add_photograph("lined", "2026-05-06T16:00:00")) == second);
    CHECK(shop.belongs_to(shop.add_photograph("filled", "2026-05-20T16:00:00")) == second);
    CHECK(shop.belongs_to(shop.add_photograph("filled")) == second);  // no day: the newest
    const Uuid by_hand = shop.add_photograph("filled");
    must(change_record(shop.acting, by_hand, FieldValues().record("face_frame", first)));
    CHECK(shop.belongs_to(by_hand) == first);
}

TEST_CASE("A back placed for the first time after the move begins with its own front") {
    Workshop shop;
    must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
    const std::array<PointPx, 4> corners{{{0, 0}, {6000, 0}, {6000, 4500}, {0, 4500}}};
    must(place_by_corners(shop.acting, shop.add_photograph("lined", "2026-05-07T09:00:00", "verso"), corners));
    const auto turned = seen_in_frame(shop.now(), Region::rectangle({0, 0}, {10, 10}).value(),
                                      shop.current(Face::verso), shop.current(Face::recto));
    REQUIRE(turned);
    CHECK(turned->bounds().min.x_mm == Approx(590));
}

TEST_CASE("A photograph whose frame is not joined is shown on its own frame") {
    Workshop shop;
    const Uuid first = shop.current();
    const Uuid photograph = shop.add_photograph("as-received");
    must(place_by_corners(shop.acting, photograph, {{{0, 0}, {600, 0}, {600, 450}, {0, 450}}}));
    must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
    const CaseSnapshot snapshot = shop.now();
    CHECK(frame_to_show(snapshot, Face::recto, photograph)->id == first);
    CHECK(frame_to_show(snapshot, Face::recto, std::nullopt)->id == shop.current());
}

namespace {

constexpr double px_per_mm = 2.0;
constexpr SizePx size{1200, 900};
constexpr std::array<PointPx, 4> whole{{{-0.5, -0.5}, {1199.5, -0.5}, {1199.5, 899.5}, {-0.5, 899.5}}};
constexpr double quarter_px_mm = 0.25 / px_per_mm;

PointMm on_face(PointPx pixel) {
    return {(pixel.x_px + 0.5) / px_per_mm, (pixel.y_px + 0.5) / px_per_mm};
}

double distance(PointMm a, PointMm b) {
    return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
}

// Photographs of one invented painting whose canvas moved: half a degree, 2 mm, and a wave of 1.5 mm.
struct Rehung : Workshop {
    test_support::PaintedScene scene{7, 80.0, 4};
    test_support::KnownMove move{test_support::seen_from({0.5, 1.0, 0.0, {4, -3}, false}, size, size), 3.0, 750.0};

    Uuid take(const std::string& name, std::string_view stage, const test_support::KnownMove& moved) {
        const auto pixels = test_support::photograph(scene, size, moved, {}, 3, 2);
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        NewPhotograph wanted;
        wanted.case_id = picture;
        wanted.file = folder / name;
        wanted.light = "normal";
        wanted.stage = stage;
        return must(take_in_photograph(acting, wanted)).id;
    }

    // The longest way between where the map puts spots of the face and where they went.
    [[nodiscard]] double farthest_mm(const Placement& new_from_old) const {
        double farthest = 0.0;
        for (double y = 75; y < 850; y += 48) {
            for (double x = 75; x < 1150; x += 56) {
                const PointMm old = on_face(move({x, y}));  // where this spot of the new photograph was before
                farthest = std::max(farthest, distance(new_from_old.to_face({old.x_mm, old.y_mm}), on_face({x, y})));
            }
        }
        return farthest;
    }

    GateState trial_at(const Region& place) {
        Act act;
        act.kind = "trial";
        act.fields = Body(FieldValues().record("face_frame", current()).region("region", place).set_values());
        return ask_gate(8, now(), act).state();
    }
};

}  // namespace

TEST_CASE("A photograph laid over one of the older frame measures how the canvas moved") {
    Rehung shop;
    const Uuid older = shop.current();
    const Uuid before = shop.take("before.png", "as-received", {});
    must(place_by_corners(shop.acting, before, whole));
    const Region flaking = Region::rectangle({300, 200}, {30, 20}).value();
    must(add_record(shop.acting, shop.picture, "finding",
                    FieldValues()
                        .record("face_frame", older)
                        .region("region", flaking)
                        .text("layer", "paint")
                        .text("term", "flaking")
                        .flag("unstable", true)));
    must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
    const Uuid newer = shop.current();
    const Uuid after = shop.take("after.png", "lined", shop.move);
    const Region clear = Region::rectangle({50, 50}, {10, 10}).value();

    // Not comparable yet: the gate keeps trials away from the whole face.
    CHECK(shop.trial_at(clear) == GateState::closed);
    const auto unplaced = register_photograph(shop.acting, before, after);
    REQUIRE_FALSE(unplaced);
    CHECK(unplaced.error().code == "photograph.new-frame");

    must(place_by_corners(shop.acting, after, whole));
    const RegisteredPhotograph laid = must(register_photograph(shop.acting, before, after));
    REQUIRE(laid.usable);
    REQUIRE(laid.move);
    CHECK(laid.move->frame == newer);
    CHECK(must(shop.book.record(after)).body.record("face_frame") == newer);  // it stays where it stands
    const CaseSnapshot snapshot = shop.now();
    const Placement new_from_old = *snapshot.find(newer)->body.placement("new_from_old");
    CHECK(shop.farthest_mm(new_from_old) < quarter_px_mm);
    CHECK(laid.move->most_mm > 2.0);

    // Loose paint is kept clear of where it lies now.
    CHECK(shop.trial_at(clear) != GateState::closed);
    CHECK(shop.trial_at(seen_in_frame(snapshot, flaking, older, newer).value()) == GateState::closed);
    CHECK(frame_to_show(snapshot, Face::recto, before)->id == newer);

    // The next photograph of that time is laid over the oldest one and lands on the new frame by the map.
    const Uuid filled = shop.take("filled.png", "filled", {shop.move.homography, 3.0, 749.5});
    const RegisteredPhotograph next = must(register_photograph(shop.acting, before, filled));
    REQUIRE(next.usable);
    CHECK_FALSE(next.move);
    const Record placed = must(shop.book.record(filled));
    CHECK(placed.body.record("face_frame") == newer);
    CHECK(distance(placed.body.placement("face_from_photo")->to_face({600, 450}), on_face({600, 450})) < quarter_px_mm);
}

TEST_CASE("A lining recorded while two photographs are matched keeps the later one off the old frame") {
    Rehung shop;
    const Uuid before = shop.take("before.png", "as-received", {});
    must(place_by_corners(shop.acting, before, whole));
    const Uuid filled = shop.take("filled.png", "filled", shop.move);
    bool lined = false;
    const auto line_meanwhile = [&](double, std::string_view) {
        if (!lined) must(add_record(shop.acting, shop.picture, "structure_step", stretcher()));
        lined = true;
    };
    const auto refused = register_photograph(shop.acting, before, filled, {std::stop_token(), line_meanwhile});
    REQUIRE(lined);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "photograph.new-frame");
    CHECK_FALSE(must(shop.book.record(filled)).body.has("face_from_photo"));
    CHECK(shop.now().of_kind("registration").empty());
}

TEST_CASE("A later epoch by corners keeps the way the canvas bent, not its plane alone") {
    Rehung shop;
    const Uuid before = shop.take("before.png", "as-received", {});
    must(place_by_corners(shop.acting, before, whole));
    const Uuid cut = shop.take("cut.png", "as-received", shop.move);
    REQUIRE(must(register_photograph(shop.acting, before, cut)).usable);
    FrameWanted wanted;
    wanted.new_epoch = true;
    wanted.epoch_why = "remeasured";
    for (const auto& size : {std::optional<SizeMm>(), std::optional(SizeMm{600.2, 450})}) {
        wanted.size = size;
        const auto refused = place_by_corners(shop.acting, cut, whole, wanted);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().code == "photograph.same-size");
    }
    CHECK(must(shop.book.records(shop.picture, "face_frame")).size() == 1);
    wanted.size = SizeMm{606, 454.5};  // a little more of it is seen; still two pixels to the millimetre
    constexpr std::array<PointPx, 4> more{{{-0.5, -0.5}, {1211.5, -0.5}, {1211.5, 908.5}, {-0.5, 908.5}}};
    REQUIRE(must(place_by_corners(shop.acting, cut, more, wanted)).joined);
    const Placement new_from_old = *shop.now().find(shop.current())->body.placement("new_from_old");
    CHECK(shop.farthest_mm(new_from_old) < quarter_px_mm);  // the plane alone misses the wave of 1.5 mm
}
