// The map of colour differences, reckoned while work goes on and shown on the easel.
#include <QPushButton>

#include "painted_desk.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

struct TwoOfOne : PaintedDesk {
    Uuid first = placed("first.png");
    Uuid second = placed("second.png");
    Uuid placed(const std::string& name) {
        const Uuid id = take_in(painted(name, 3, {}));
        side().show_photograph(id);
        side().begin_placing(false);
        click_corners();
        REQUIRE(body(id).has("face_from_photo"));
        return id;
    }
    [[nodiscard]] QPushButton& seen() {
        for (QPushButton* each : side().difference().findChildren<QPushButton*>()) {
            if (each->text() == QStringLiteral("Seen")) return *each;
        }
        throw std::logic_error("no button");
    }
    QImage easel() {
        QImage image;
        comes_true([&] {
            image = view().easel().grab().toImage();
            return !view().easel().waiting_for_tiles();
        });
        return image;
    }
};

}  // namespace

TEST_CASE("The colours of the two on the easel are compared off the window's thread, and the map lies on the face") {
    TwoOfOne desk;
    desk.side().show_photograph(desk.first);
    desk.side().colour_difference();
    CHECK_FALSE(desk.side().difference().running());  // nothing beside it
    CHECK(desk.side().note().contains(QStringLiteral("second photograph")));
    desk.side().set_beside(desk.second);
    const QImage photographs = desk.easel();
    desk.side().colour_difference();
    CHECK(desk.side().difference().running());
    CHECK_FALSE(desk.side().shows_difference());
    REQUIRE(comes_true([&] { return !desk.side().difference().running(); }));
    REQUIRE(desk.side().shows_difference());
    CHECK(desk.side().difference().report().contains(QStringLiteral("ΔE00")));
    CHECK(desk.view().easel().is_in_mm());
    // Two photographs of one painting in one light: hardly any difference, so dark blue all over
    // (difference_scale.hpp).
    const QImage map = desk.easel();
    const QColor middle = map.pixelColor(map.rect().center());
    CHECK(middle.lightness() < 90);
    CHECK(middle.blue() > middle.green());
    desk.seen().click();
    CHECK_FALSE(desk.side().shows_difference());
    SECTION("another photograph puts it away") {
        desk.side().colour_difference();
        REQUIRE(comes_true([&] { return desk.side().shows_difference(); }));
        desk.side().show_photograph(desk.second);
        CHECK_FALSE(desk.side().shows_difference());
        CHECK_FALSE(desk.side().difference().isVisible());
    }
    SECTION("the figures leave the easel its room, also in a small window") {
        desk.window->resize(900, 600);
        desk.side().colour_difference();
        REQUIRE(comes_true([&] { return desk.side().shows_difference(); }));
        QTest::qWait(50);
        const QRect figures = desk.side().difference().geometry();
        CHECK_FALSE(figures.intersects(desk.view().easel().geometry()));
        CHECK_FALSE(figures.intersects(desk.side().strip().geometry()));
        CHECK(desk.seen().height() >= 44);
    }
}

TEST_CASE("Comparing colours is cancelled, and says so") {
    TwoOfOne desk;
    desk.side().show_photograph(desk.first);
    desk.side().set_beside(desk.second);
    desk.side().colour_difference();
    desk.side().difference().cancel();
    REQUIRE(comes_true([&] { return !desk.side().difference().running(); }));
    CHECK_FALSE(desk.side().shows_difference());
    CHECK(desk.side().difference().report().contains(QStringLiteral("Cancelled")));
}
