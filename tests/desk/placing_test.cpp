#include <QLineEdit>

#include "easel/easel_content.hpp"
#include "painted_desk.hpp"
#include "tedge/casebook/frames.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

QLineEdit* field_named(const PaintedDesk& desk, const QString& name) {
    for (QLineEdit* edit : desk.window->findChildren<QLineEdit*>()) {
        if (edit->accessibleName() == name && edit->isVisible()) return edit;
    }
    return nullptr;
}

const casebook::Record& frame_of(const casebook::CaseSnapshot& snapshot, Face face) {
    const casebook::Record* frame = usecases::current_frame(snapshot, face);
    REQUIRE(frame != nullptr);
    return *frame;
}

}  // namespace

TEST_CASE("A verso is placed by its corners with the size of the picture") {
    PaintedDesk desk;
    const Uuid verso = desk.take_in(desk.painted("verso.png", 5, {}), Face::verso);
    desk.side().turn_over();
    CHECK(desk.side().face() == Face::verso);
    desk.side().begin_placing(false);
    desk.click_corners();
    CHECK(desk.body(verso).has("face_from_photo"));
    const auto snapshot = desk.snapshot();
    CHECK(frame_of(snapshot, Face::verso).body.number("width_mm") == 840.0);
    CHECK(desk.view().easel().is_in_mm());
    desk.session().undo();
    CHECK_FALSE(desk.body(verso).has("face_from_photo"));
    // The frame that was made with it goes with it, and comes back with it.
    CHECK(usecases::current_frame(desk.snapshot(), Face::verso) == nullptr);
    desk.session().redo();
    CHECK(desk.body(verso).has("face_from_photo"));
    CHECK(usecases::current_frame(desk.snapshot(), Face::verso) != nullptr);
}

TEST_CASE("A corner picked from far away is placed no closer than a pixel of the screen") {
    PaintedDesk desk;
    const Uuid verso = desk.take_in(desk.painted("verso.png", 5, {}), Face::verso);
    desk.side().turn_over();
    desk.side().begin_placing(false);
    desk.click_corners();
    const double near_mm = desk.body(verso).placement("face_from_photo")->error_mm;
    CHECK(near_mm == Approx(840.0 / 419 * usecases::corner_error_px).epsilon(0.02));
    desk.side().begin_placing(false);
    Easel& easel = desk.view().easel();
    while (easel.frame().screen_px_per_mm() > 0.2) QTest::keyClick(&easel, Qt::Key_Minus);
    const double screen_pixel_px = 1 / easel.frame().screen_px_per_mm();
    desk.click_corners();
    CHECK(desk.body(verso).placement("face_from_photo")->error_mm ==
          Approx(840.0 / 419 * screen_pixel_px).epsilon(0.05));
}

TEST_CASE("An edge has no size until one is typed; the corners picked are kept for it") {
    PaintedDesk desk;
    const Uuid edge = desk.take_in(desk.painted("edge.png", 6, {}), Face::edge_top);
    desk.side().show_photograph(edge);
    desk.side().begin_placing(false);
    desk.click_corners();
    CHECK_FALSE(desk.body(edge).has("face_from_photo"));
    QLineEdit* height = field_named(desk, QStringLiteral("Height"));
    QLineEdit* width = field_named(desk, QStringLiteral("Width"));
    REQUIRE((height != nullptr && width != nullptr));
    height->setText(QStringLiteral("1 in"));
    width->setText(QStringLiteral("84 cm"));
    QTest::keyClick(width, Qt::Key_Return);
    CHECK(desk.body(edge).has("face_from_photo"));
    const auto snapshot = desk.snapshot();
    CHECK(frame_of(snapshot, Face::edge_top).body.number("height_mm") == Approx(25.4));
    CHECK(frame_of(snapshot, Face::edge_top).body.number("width_mm") == Approx(840));
}

TEST_CASE("A picture nobody has measured is placed with the size typed beside the corners") {
    PaintedDesk desk{std::nullopt};
    const Uuid recto = desk.take_in(desk.painted("recto.png", 7, {}));
    desk.side().show_photograph(recto);
    desk.side().begin_placing(false);
    REQUIRE(field_named(desk, QStringLiteral("Height")) != nullptr);
    field_named(desk, QStringLiteral("Height"))->setText(QStringLiteral("610"));
    field_named(desk, QStringLiteral("Width"))->setText(QStringLiteral("812"));
    desk.click_corners();
    CHECK(desk.body(recto).has("face_from_photo"));
    CHECK(desk.body(recto).placement("face_from_photo")->to_face({419, 319}).x_mm == Approx(812).margin(4));
}

TEST_CASE("Another size is placed by corners and joined to the one before by a photograph that lies in both") {
    PaintedDesk desk;
    const Uuid before = desk.take_in(desk.painted("before.png", 8, {}));
    desk.side().show_photograph(before);
    desk.side().begin_placing(false);
    desk.click_corners();
    const Uuid old_frame = frame_of(desk.snapshot(), Face::recto).id;
    // Its folded edges were laid flat, 5 mm more of it are seen all round; the photograph lies in the old frame.
    const Uuid lined = desk.take_in(desk.painted("lined.png", 8, {}), Face::recto, "normal", "cleaned");
    const auto over = usecases::register_photograph(desk.session().acting(), before, lined);
    REQUIRE((over && over->usable));
    emit desk.session().changed();
    desk.side().show_photograph(lined);
    desk.side().begin_placing(true);
    desk.click_corners();  // in the size it has: that is no change
    CHECK(desk.side().note().contains(QStringLiteral("this size already")));
    CHECK(desk.side().note().contains(QStringLiteral("sheet structure")));
    CHECK(desk.snapshot().of_kind("face_frame").size() == 1);
    desk.side().begin_placing(true);
    field_named(desk, QStringLiteral("Height"))->setText(QStringLiteral("650"));
    field_named(desk, QStringLiteral("Width"))->setText(QStringLiteral("850"));
    field_named(desk, QStringLiteral("From"))->setText(QStringLiteral("2026-05-06"));
    field_named(desk, QStringLiteral("Why"))->setText(QStringLiteral("edges laid flat"));
    desk.click_corners();
    const auto snapshot = desk.snapshot();
    const casebook::Record& frame = frame_of(snapshot, Face::recto);
    CHECK(frame.id != old_frame);
    CHECK(frame.body.record("older") == old_frame);
    CHECK(frame.body.text_or("epoch_why") == "edges laid flat");
    CHECK(desk.body(lined).record("face_frame") == frame.id);
    CHECK(desk.side().note().contains(QStringLiteral("carried over")));
    const auto place = Region::rectangle({420 - 5, 320 - 5}, {10, 10}).value();
    const auto moved = casebook::seen_in_frame(snapshot, place, old_frame, frame.id);
    REQUIRE(moved);
    CHECK(moved->label_point().x_mm == Approx(425).margin(3));
    CHECK(moved->label_point().y_mm == Approx(325).margin(3));
    // Joined, the two can be laid beside each other: the older one is drawn where the canvas went.
    CHECK(why_not_comparable(snapshot, before, lined).isEmpty());
}

TEST_CASE("Which face a photograph shows is changed later, its placement goes, and undo brings both back") {
    PaintedDesk desk;
    const Uuid photo = desk.take_in(desk.painted("photo.png", 9, {}));
    desk.side().show_photograph(photo);
    desk.side().begin_placing(false);
    desk.click_corners();
    auto done = usecases::say_face(desk.session().acting(), photo, Face::verso);
    REQUIRE(done);
    desk.session().did(*std::move(done), QStringLiteral("face"));
    CHECK(desk.body(photo).text_or("face") == "verso");
    CHECK_FALSE(desk.body(photo).has("face_from_photo"));
    desk.session().undo();
    CHECK(desk.body(photo).text_or("face") == "recto");
    CHECK(desk.body(photo).has("face_from_photo"));
}

TEST_CASE("Of several photographs of a face the chosen one is shown first, on the easel and in the rack") {
    PaintedDesk desk;
    const Uuid first = desk.take_in(desk.painted("one.png", 10, {}));
    const Uuid second = desk.take_in(desk.painted("two.png", 11, {}), Face::recto, "normal", "cleaned");
    CHECK(usecases::card_of(desk.snapshot()).picture == second);
    desk.session().did(usecases::show_first(desk.session().acting(), first).value(), QStringLiteral("first"));
    CHECK(usecases::card_of(desk.snapshot()).picture == first);
    desk.session().did(usecases::show_first(desk.session().acting(), second).value(), QStringLiteral("first"));
    CHECK(usecases::card_of(desk.snapshot()).picture == second);
    desk.session().undo();
    CHECK(usecases::card_of(desk.snapshot()).picture == first);
}
