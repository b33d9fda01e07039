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
    [[nodiscard]] QPushButton& button(const QString& text) {
        for (QPushButton* each : side().difference().findChildren<QPushButton*>()) {
            if (each->text() == text) return *each;
        }
        throw std::logic_error("no button");
    }
    [[nodiscard]] QPushButton& seen() { return button(QStringLiteral("Seen")); }
    [[nodiscard]] QPushButton& keep() { return button(QStringLiteral("Keep")); }
    // As laying one over the other would leave them: corners alone are too loose for evidence.
    void lie_closely(const std::vector<Uuid>& photographs) {
        for (const Uuid& id : photographs) {
            Placement placement = *body(id).placement("face_from_photo");
            placement.error_mm = 0.02;
            REQUIRE(usecases::change_record(session().acting(), id,
                                            casebook::FieldValues().placement("face_from_photo", placement)));
        }
        emit session().changed();
    }
    void reckon() {
        lie_closely({first, second});
        side().show_photograph(first);
        side().set_beside(second);
        side().colour_difference();
        REQUIRE(comes_true([&] { return side().shows_difference(); }));
    }
    [[nodiscard]] QString keep_it() {
        keep().click();
        REQUIRE(comes_true([&] { return keep().isEnabled(); }));
        return side().difference().told_of_keeping();
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

TEST_CASE("The map is kept with the photographs and its recipe, is taken back like any other act, and kept once") {
    TwoOfOne desk;
    desk.reckon();
    REQUIRE(desk.keep().isVisible());
    CHECK(desk.keep_it().toStdString() == "Kept with the photographs.");
    const casebook::CaseSnapshot snapshot = desk.snapshot();
    const auto kept = snapshot.of_kind("derived_picture");
    REQUIRE(kept.size() == 1);
    const casebook::Body& body = kept.front()->body;
    CHECK(body.text_or("what") == "difference");
    CHECK(body.text_or("from_photographs/" + to_text(desk.first)) == "before");
    CHECK(body.text_or("recipe/first/sha256") == desk.body(desk.first).text_or("sha256"));
    CHECK(body.text_or("recipe/map") == "delta-e00");
    CHECK(desk.side().shows_difference());  // it stays in sight
    CHECK(desk.side().strip().model()->rowCount() == 3);
    CHECK(desk.keep_it() == QStringLiteral("The case has this very picture already."));
    CHECK(desk.snapshot().of_kind("derived_picture").size() == 1);
    desk.session().undo();
    CHECK(desk.snapshot().of_kind("derived_picture").empty());
    CHECK(desk.side().difference().told_of_keeping().isEmpty());  // it is no longer so
    desk.session().redo();
    CHECK(desk.snapshot().of_kind("derived_picture").size() == 1);
}

TEST_CASE("A map between the later and the earlier photograph is seen, but not kept as evidence") {
    TwoOfOne desk;
    const Uuid cleaned = desk.take_in(desk.painted("cleaned.png", 3, {}), Face::recto, "normal", "cleaned");
    desk.side().show_photograph(cleaned);
    desk.side().begin_placing(false);
    desk.click_corners();
    desk.lie_closely({desk.first, cleaned});
    desk.side().set_beside(desk.first);
    desk.side().colour_difference();
    REQUIRE(comes_true([&] { return desk.side().shows_difference(); }));
    CHECK(desk.keep_it().startsWith(QStringLiteral("⊘ The photograph named as the earlier one")));
    CHECK(desk.snapshot().of_kind("derived_picture").empty());
}

TEST_CASE("What lies too loosely for evidence is seen and not kept, and that is said") {
    TwoOfOne desk;
    desk.side().show_photograph(desk.first);
    desk.side().set_beside(desk.second);
    desk.side().colour_difference();
    REQUIRE(comes_true([&] { return desk.side().shows_difference(); }));
    CHECK(desk.keep_it().contains(QStringLiteral("Lay one")));
    CHECK(desk.snapshot().of_kind("derived_picture").empty());
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

TEST_CASE("Comparing and the difference are in sight beside the open rack in a small window") {
    TwoOfOne desk;
    for (const QSize size : {QSize(1024, 640), QSize(1440, 900)}) {
        desk.window->resize(size);
        QTest::qWait(50);
        REQUIRE(desk.window->rack().isVisible());
        QStringList seen;
        for (QAction* tool : desk.side().tools().actions()) {
            const QWidget* button = desk.side().tools().widgetForAction(tool);
            if (button != nullptr && button->isVisible()) seen << tool->text();
        }
        CAPTURE(seen.join(u'|').toStdString());
        CHECK(seen.contains(QStringLiteral("Difference")));
        CHECK(seen.contains(QStringLiteral("Compare")));
        CHECK(seen.contains(size.width() < 1200 ? QStringLiteral("Half") : QStringLiteral("Half and half")));
    }
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
    CHECK((in_sight(QStringLiteral("Half and half")) || in_sight(QStringLiteral("Half"))));
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
