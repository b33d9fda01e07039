#include <QSignalSpy>
#include <QTest>
#include <catch2/catch.hpp>
#include <optional>

#include "easel/easel.hpp"
#include "easel/overlay_painter.hpp"
#include "easel/rendered_cells.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/pyramid.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

// A photograph of one colour, 812 × 610 px for a face of the same number of millimetres.
ShownPhotograph photograph_of(const TemporaryFolder& folder, const char* name, std::uint8_t red, std::uint8_t green) {
    imaging::Picture picture;
    imaging::Raster8 raster(812, 610, 3);
    for (int y = 0; y < 610; ++y) {
        for (int x = 0; x < 812; ++x) {
            raster.at(x, y, 0) = red;
            raster.at(x, y, 1) = green;
        }
    }
    picture.pixels = raster;
    const auto file = folder / name;
    REQUIRE(imaging::build_pyramid(picture, file));
    return {Uuid{}, file, placement_filling({812, 610}, {812, 610}), {812, 610}, QString::fromLatin1(name)};
}

// An easel of 1000 × 700 px on which the face lies.
struct ShownFace {
    TemporaryFolder folder{};
    Easel easel{};

    ShownFace() {
        easel.resize(1000, 700);
        easel.show();
        easel.show_face({812, 610});
    }
};

QImage grab_when_complete(Easel& easel) {
    QImage image;
    for (int i = 0; i < 100; ++i) {
        image = easel.grab().toImage();
        if (!easel.waiting_for_tiles()) break;
        QTest::qWait(20);
    }
    return image;
}

}  // namespace

TEST_CASE("Millimetres to the screen and back; zooming keeps the point under the pointer") {
    ViewFrame frame;
    frame.fit({812, 610}, {1000, 700});
    const PointMm spot{123.4, 567.8};
    CHECK(frame.to_face(frame.to_screen(spot)).x_mm == Approx(spot.x_mm));
    const QPointF pointer(321, 123);
    const PointMm under = frame.to_face(pointer);
    frame.zoom(3.7, pointer);
    CHECK(frame.to_face(pointer).x_mm == Approx(under.x_mm));
    CHECK(frame.to_face(pointer).y_mm == Approx(under.y_mm));
    CHECK(round_length(130, 1.0) == 100.0);
    CHECK(round_length(130, 4.0) == 20.0);
}

TEST_CASE("Half and half shows one photograph on the left and the other on the right") {
    ShownFace face;
    auto& [folder, easel] = face;
    easel.show_photographs(photograph_of(folder, "red", 200, 10), photograph_of(folder, "green", 10, 200));
    easel.set_compare(Compare::half_and_half);
    const QImage image = grab_when_complete(easel);
    CHECK(image.pixelColor(300, 350).red() > 180);
    CHECK(image.pixelColor(700, 350).green() > 180);
    CHECK(image.pixelColor(5, 350) == QColor(0x80, 0x80, 0x80));
    easel.set_compare(Compare::turn_over);
    CHECK(grab_when_complete(easel).pixelColor(300, 350).green() > 180);
}

TEST_CASE("A place is drawn by mouse and closed by Enter, in millimetres of the face") {
    ShownFace face;
    auto& [folder, easel] = face;
    easel.show_photographs(photograph_of(folder, "red", 200, 10), std::nullopt);
    std::optional<Region> drawn;
    QObject::connect(&easel, &Easel::region_drawn, [&](const Region& region) { drawn = region; });
    easel.set_tool(Tool::polygon);
    for (const PointMm corner : {PointMm{100, 100}, PointMm{300, 100}, PointMm{300, 200}, PointMm{500, 500}}) {
        QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen(corner).toPoint());
    }
    QTest::keyClick(&easel, Qt::Key_Backspace);
    QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen({100, 200}).toPoint());
    QTest::keyClick(&easel, Qt::Key_Return);
    REQUIRE(drawn);
    CHECK(drawn->area_mm2() == Approx(20'000).epsilon(0.02));
}

TEST_CASE("A place is dragged as a rectangle whose size is told meanwhile; a slip of the finger is a corner") {
    ShownFace face;
    auto& [folder, easel] = face;
    easel.show_photographs(photograph_of(folder, "red", 200, 10), std::nullopt);
    std::optional<Region> drawn;
    QString told;
    QObject::connect(&easel, &Easel::region_drawn, [&](const Region& region) { drawn = region; });
    QObject::connect(&easel, &Easel::pointer_at, [&](const QString& text) { told = text; });
    const auto on_screen = [&](double x, double y) { return easel.frame().to_screen({x, y}).toPoint(); };
    const auto drag = [&](QPoint from, QPoint to) {
        QTest::mousePress(&easel, Qt::LeftButton, {}, from);
        QTest::mouseMove(&easel, (from + to) / 2);
        QTest::mouseMove(&easel, to);
    };
    easel.set_tool(Tool::polygon);
    SECTION("dragged up and to the left as well") {
        drag(on_screen(300, 200), on_screen(100, 150));
        CHECK_FALSE(drawn);
        const QStringList told_sides = told.split(QLatin1Char(' '));  // "50 × 200 mm": height first
        REQUIRE(told_sides.size() == 4);
        CHECK(told_sides[0].toDouble() == Approx(50).margin(1.5));
        CHECK(told_sides[2].toDouble() == Approx(200).margin(1.5));
        CHECK(told_sides[3] == QStringLiteral("mm"));
        QTest::mouseRelease(&easel, Qt::LeftButton, {}, on_screen(100, 150));
        REQUIRE(drawn);
        CHECK(drawn->area_mm2() == Approx(10'000).epsilon(0.03));
        CHECK(drawn->bounds().min.x_mm == Approx(100).margin(1));
        CHECK(easel.tool() == Tool::look);
    }
    SECTION("the first corner of several, pressed by a finger that slips") {
        const QPoint first = on_screen(100, 100);
        drag(first, first + QPoint(9, 7));
        QTest::mouseRelease(&easel, Qt::LeftButton, {}, first + QPoint(9, 7));
        CHECK(easel.tool() == Tool::polygon);
        for (const PointMm corner : {PointMm{300, 100}, PointMm{300, 200}, PointMm{100, 200}})
            QTest::mouseClick(&easel, Qt::LeftButton, {}, on_screen(corner.x_mm, corner.y_mm));
        QTest::keyClick(&easel, Qt::Key_Return);
        REQUIRE(drawn);
        CHECK(drawn->area_mm2() == Approx(20'000).epsilon(0.03));
    }
    SECTION("a later corner that is dragged is a corner, and a line is no rectangle") {
        drag(on_screen(100, 100), on_screen(300, 100));
        QTest::mouseRelease(&easel, Qt::LeftButton, {}, on_screen(300, 100));
        CHECK_FALSE(drawn);
        drag(on_screen(300, 100), on_screen(400, 250));
        QTest::mouseRelease(&easel, Qt::LeftButton, {}, on_screen(400, 250));
        CHECK_FALSE(drawn);
        QTest::mouseClick(&easel, Qt::LeftButton, {}, on_screen(100, 200));
        QTest::keyClick(&easel, Qt::Key_Return);
        REQUIRE(drawn);
        CHECK(drawn->area_mm2() == Approx(10'000).epsilon(0.03));  // a triangle of 200 × 100
    }
    SECTION("Escape gives it up while it is dragged") {
        drag(on_screen(100, 100), on_screen(300, 200));
        QTest::keyClick(&easel, Qt::Key_Escape);
        QTest::mouseRelease(&easel, Qt::LeftButton, {}, on_screen(300, 200));
        CHECK_FALSE(drawn);
        CHECK(easel.tool() == Tool::look);
    }
}

TEST_CASE("The smallest place under the pointer is touched") {
    ShownFace face;
    auto& [folder, easel] = face;
    easel.show_photographs(photograph_of(folder, "red", 200, 10), std::nullopt);
    Uuid large;
    large.bytes[15] = 1;
    Uuid small;
    small.bytes[15] = 2;
    easel.show_overlays({{large, Region::rectangle({100, 100}, {400, 400}).value(), OverlayStyle::finding, "1"},
                         {small, Region::rectangle({200, 200}, {50, 50}).value(), OverlayStyle::trial, "2"}});
    std::vector<Uuid> touched;
    QObject::connect(&easel, &Easel::record_touched, [&](const Uuid& id) { touched.push_back(id); });
    QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen({225, 225}).toPoint());
    QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen({400, 400}).toPoint());
    QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen({700, 50}).toPoint());
    CHECK(touched == std::vector<Uuid>{small, large});
}

TEST_CASE("A chosen place is brought into view, but a picture that is seen whole stays where it is") {
    const TemporaryFolder folder;
    Easel easel;
    easel.resize(600, 450);
    easel.show();
    easel.show_face({812, 610});
    easel.show_photographs(photograph_of(folder, "red", 200, 10), std::nullopt);
    Uuid corner;
    corner.bytes[15] = 1;
    easel.show_overlays({{corner, Region::rectangle({800, 600}, {8, 8}).value(), OverlayStyle::trial, "1"}});
    easel.fit();
    const QPointF whole = easel.frame().to_screen({0, 0});
    easel.highlight(corner);
    CHECK(easel.frame().to_screen({0, 0}) == whole);
    easel.zoom_by(8);
    easel.highlight(corner);
    const QPointF at = easel.frame().to_screen({804, 604});
    CHECK(at.x() == Approx(300).margin(1));
    CHECK(at.y() == Approx(225).margin(1));
}

TEST_CASE("Numbers of places stay in the window and beside each other, so that each can be read") {
    const QRectF window(0, 0, 200, 100);
    QList<QRectF> taken;
    for (int i = 0; i < 20; ++i) {
        const QRectF box = label_box({QPointF(190 - i, -12 + i % 3), QSizeF(20, 14)}, window, taken);
        CAPTURE(i, box.left(), box.top());
        CHECK(window.contains(box));
        for (const QRectF& other : taken) CHECK_FALSE(other.intersects(box));
        taken.append(box);
    }
    CHECK(label_box({QPointF(50, 40), QSizeF(20, 14)}, window, {}) == QRectF(50, 40, 20, 14));
    CHECK(window.contains(label_box({QPointF(190, 95), QSizeF(20, 14)}, window, {window})));  // no room: over others
}

TEST_CASE(
    "What has not moved is drawn again only for tiles that have come, and waits where a frame has taken its time") {
    const TemporaryFolder folder;
    const ShownPhotograph photograph = photograph_of(folder, "red", 200, 10);
    const QRect cell(0, 0, 400, 300);
    ViewFrame frame;
    frame.fit({812, 610}, cell.size());
    const auto fetch_all = [&](TileStore& tiles) {
        for (int i = 0; i < 200 && (tiles.busy() || tiles.come_of(photograph.pyramid) == 0); ++i) QTest::qWait(10);
        REQUIRE(tiles.come_of(photograph.pyramid) > 0);
    };
    const auto middle = [&](const Rendered& rendered) { return rendered.image.pixelColor(200, 150).red(); };
    SECTION("with time enough") {
        TileStore tiles;
        RenderedCells cells(tiles, 1000);
        cells.begin_frame();
        CHECK_FALSE(cells.picture(0, photograph, frame, cell).complete);
        fetch_all(tiles);
        cells.begin_frame();
        const Rendered& drawn = cells.picture(0, photograph, frame, cell);
        CHECK(drawn.complete);
        CHECK(middle(drawn) == Approx(200).margin(2));
        const auto* bits = drawn.image.constBits();
        CHECK(cells.picture(0, photograph, frame, cell).image.constBits() == bits);  // the very same
        ViewFrame moved = frame;
        moved.pan({30, 0});
        CHECK(cells.picture(0, photograph, moved, cell).image.constBits() != bits);
        CHECK_FALSE(cells.are_late());
    }
    SECTION("with none") {
        TileStore tiles;
        RenderedCells cells(tiles, 0);
        cells.begin_frame();
        static_cast<void>(cells.picture(0, photograph, frame, cell));
        CHECK_FALSE(cells.are_late());  // what was never drawn is drawn
        fetch_all(tiles);
        cells.begin_frame();
        CHECK_FALSE(cells.picture(0, photograph, frame, cell).complete);
        CHECK(cells.are_late());
        ViewFrame moved = frame;
        moved.pan({30, 0});
        cells.begin_frame();
        CHECK(cells.picture(0, photograph, moved, cell).complete);  // what moves never waits
        CHECK_FALSE(cells.are_late());
    }
}
