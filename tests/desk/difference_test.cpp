// The map of colour differences, reckoned while work goes on and shown on the easel.
#include <QMenu>
#include <QPushButton>
#include <QTimer>
#include <QToolBar>
#include <QToolButton>

#include "painted_desk.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

struct TwoOfOne : PaintedDesk {
    Uuid first = placed("first.png");
    Uuid second = placed("second.png");
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

TEST_CASE("D compares colours where the tool has no room, and what has none is reached by keyboard") {
    TwoOfOne desk;
    desk.window->resize(900, 600);
    QTest::qWait(50);
    const auto in_sight = [&](const QString& text) {
        for (QAction* tool : desk.side().tools().actions()) {
            const QWidget* button = desk.side().tools().widgetForAction(tool);
            if (tool->text() == text) return button != nullptr && button->isVisible();
        }
        return false;
    };
    CHECK(in_sight(QStringLiteral("Difference")));
    CHECK(in_sight(QStringLiteral("Half and half")));
    CHECK_FALSE(in_sight(QStringLiteral("Whole")));
    auto* rest = desk.side().tools().findChild<QToolButton*>(QStringLiteral("qt_toolbar_ext_button"));
    REQUIRE(rest != nullptr);
    CHECK(rest->isVisible());
    CHECK((rest->focusPolicy() & Qt::TabFocus) != 0);
    CHECK(rest->accessibleName() == QStringLiteral("More tools"));
    QStringList menu;
    if (rest->menu() != nullptr) {
        for (const QAction* each : rest->menu()->actions()) menu << each->text();
    }
    CHECK(menu.contains(QStringLiteral("Whole")));
    bool opened = false;
    QTimer::singleShot(50, [&] {
        opened = rest->menu()->isVisible();
        rest->menu()->close();
    });
    rest->setFocus();
    QTest::keyClick(rest, Qt::Key_Space);
    CHECK(opened);

    desk.side().show_photograph(desk.first);
    desk.side().set_beside(desk.second);
    QTest::keyClick(&desk.view().easel(), Qt::Key_D);
    CHECK(desk.side().difference().running());
    CHECK(comes_true([&] { return desk.side().shows_difference(); }));
}
