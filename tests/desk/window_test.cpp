// The window at the sizes it is used at, and the keys of the easel.
#include <QAbstractButton>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QWheelEvent>

#include "painted_desk.hpp"
#include "photographs/film_strip.hpp"
#include "text.hpp"
#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

struct PlacedDesk : PaintedDesk {
    Uuid recto = placed("recto.png");
    Easel& easel() { return view().easel(); }
};

QString said_at(Easel& easel, QPoint at) {
    QString said;
    const auto connection = QObject::connect(&easel, &Easel::pointer_at, [&](const QString& text) { said = text; });
    QTest::mouseMove(&easel, at + QPoint(1, 0));
    QTest::mouseMove(&easel, at);
    QApplication::processEvents();
    QObject::disconnect(connection);
    return said;
}

}  // namespace

TEST_CASE("A case stays usable in small windows: nothing is pushed out, the picture keeps the larger part") {
    PlacedDesk desk;
    for (const QSize size : {QSize(1440, 900), QSize(1024, 640), QSize(900, 600), QSize(720, 480)}) {
        CAPTURE(size.width(), size.height());
        desk.window->resize(size);
        QTest::qWait(50);
        CHECK(desk.window->size() == size);  // no content insists on more
        for (const usecases::Stage stage : usecases::all_stages) {
            desk.view().show_sheet(stage);
            QTest::qWait(1);
            CHECK(desk.window->size() == size);
        }
        const QRect window = desk.window->rect();
        for (const QWidget* widget : std::initializer_list<QWidget*>{&desk.easel(), &desk.side().strip(),
                                                                     &desk.view().sheets(), &desk.view().head()}) {
            const QRect at(widget->mapTo(desk.window.get(), QPoint()), widget->size());
            CAPTURE(widget->metaObject()->className(), at.left(), at.right(), at.bottom());
            CHECK(window.contains(at));
        }
        CHECK(desk.easel().width() >= 260);
        CHECK(desk.easel().height() >= 200);
        CHECK(desk.view().sheets().width() >= 290);
    }
}

TEST_CASE("In a narrow window the rack makes room for the picture until it is asked for") {
    PlacedDesk desk;
    desk.window->resize(1440, 900);
    CHECK(desk.window->rack().isVisible());
    desk.window->resize(900, 600);
    QTest::qWait(20);
    CHECK_FALSE(desk.window->rack().isVisible());
    QTest::keyClick(desk.window.get(), Qt::Key_F7);
    CHECK(desk.window->rack().isVisible());
}

TEST_CASE("The pointer is told in millimetres of the face, and in pixels where nothing is placed") {
    PlacedDesk desk;
    const QPoint middle = desk.easel().frame().to_screen({420, 320}).toPoint();
    const QString said = said_at(desk.easel(), middle);
    CHECK(said.endsWith(QStringLiteral(" mm")));
    const PointMm there = desk.easel().frame().to_face(middle);
    CHECK(said.startsWith(QStringLiteral("x %1").arg(there.x_mm, 0, 'f', 1)));
    const Uuid verso = desk.take_in(desk.painted("verso.png", 4, {}), Face::verso);
    desk.side().show_photograph(verso);
    CHECK(said_at(desk.easel(), middle).endsWith(QStringLiteral(" px")));
}

TEST_CASE("The scale bar is as long as it says: a round number of millimetres") {
    PlacedDesk desk;
    for (const double zoom : {1.0, 3.0, 0.4}) {
        desk.easel().zoom_by(zoom);
        const double scale = desk.easel().frame().screen_px_per_mm();
        const double length = round_length(130, scale);
        CHECK(length * scale <= 130.0);
        CHECK(length * scale > 50.0);
        const QImage image = desk.easel().grab().toImage();
        int white = 0;
        const int y = image.height() - 20;  // through the bar
        for (int x = 17; x < image.width() && image.pixelColor(x, y) == QColor(Qt::white); ++x) ++white;
        CHECK(white == Approx(length * scale).margin(2.5));
    }
}

TEST_CASE("The wheel zooms to the pointer, dragging moves, and keys do the same") {
    PlacedDesk desk;
    Easel& easel = desk.easel();
    const QPointF at(200, 150);
    const PointMm under = easel.frame().to_face(at);
    const double before = easel.frame().screen_px_per_mm();
    QWheelEvent wheel(at, easel.mapToGlobal(at), {}, {0, 240}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase, false);
    QApplication::sendEvent(&easel, &wheel);
    CHECK(easel.frame().screen_px_per_mm() > before * 1.2);
    CHECK(easel.frame().to_face(at).x_mm == Approx(under.x_mm));
    CHECK(easel.frame().to_face(at).y_mm == Approx(under.y_mm));

    const QPointF corner = easel.frame().to_screen({0, 0});
    QTest::mousePress(&easel, Qt::LeftButton, {}, {200, 150});
    QTest::mouseMove(&easel, {230, 190});
    QTest::mouseRelease(&easel, Qt::LeftButton, {}, {230, 190});
    CHECK(easel.frame().to_screen({0, 0}).x() == Approx(corner.x() + 30));
    CHECK(easel.frame().to_screen({0, 0}).y() == Approx(corner.y() + 40));

    QTest::keyClick(&easel, Qt::Key_Right);
    CHECK(easel.frame().to_screen({0, 0}).x() == Approx(corner.x() + 30 - 60));
    QTest::keyClick(&easel, Qt::Key_Down);
    CHECK(easel.frame().to_screen({0, 0}).y() == Approx(corner.y() + 40 - 60));
    const double zoomed = easel.frame().screen_px_per_mm();
    QTest::keyClick(&easel, Qt::Key_Plus);
    CHECK(easel.frame().screen_px_per_mm() == Approx(zoomed * 1.25));
    QTest::keyClick(&easel, Qt::Key_Minus);
    CHECK(easel.frame().screen_px_per_mm() == Approx(zoomed));
    QTest::keyClick(&easel, Qt::Key_0);
    CHECK(easel.frame().screen_px_per_mm() == Approx(before));
}

TEST_CASE("V turns to the other side and back, H compares, T held shows the one in place of the other") {
    PlacedDesk desk;
    const Uuid verso = desk.take_in(desk.painted("verso.png", 4, {}), Face::verso);
    QTest::keyClick(&desk.easel(), Qt::Key_V);
    CHECK(desk.side().face() == Face::verso);
    QTest::keyClick(&desk.easel(), Qt::Key_V);
    CHECK(desk.side().face() == Face::recto);

    // Nothing stands beside: H says what to do instead of doing nothing.
    QTest::keyClick(&desk.easel(), Qt::Key_H);
    CHECK(desk.easel().compare() == Compare::none);
    CHECK(desk.side().note().contains(QStringLiteral("Ctrl+Enter")));
    desk.side().set_beside(verso);
    CHECK(desk.easel().compare() == Compare::none);

    const Uuid raking = desk.take_in(desk.painted("raking.png", 3, {.degrees = 1}), Face::recto, "raking");
    REQUIRE(usecases::register_photograph(desk.session().acting(), desk.recto, raking)->usable);
    emit desk.session().changed();
    desk.side().set_beside(raking);
    CHECK(desk.easel().compare() == Compare::half_and_half);
    QTest::keyPress(&desk.easel(), Qt::Key_T);
    CHECK(desk.easel().compare() == Compare::turn_over);
    QTest::keyRelease(&desk.easel(), Qt::Key_T);
    CHECK(desk.easel().compare() == Compare::half_and_half);
    QTest::keyClick(&desk.easel(), Qt::Key_H);
    CHECK(desk.easel().compare() == Compare::none);

    // After a click in the strip the keys hold too.
    auto* strip = desk.side().findChild<FilmStrip*>();
    REQUIRE(strip != nullptr);
    QTest::keyClick(strip, Qt::Key_H);
    CHECK(desk.easel().compare() == Compare::half_and_half);
    QTest::keyPress(strip, Qt::Key_T);
    CHECK(desk.easel().compare() == Compare::turn_over);
    QTest::keyRelease(strip, Qt::Key_T);
    CHECK(desk.easel().compare() == Compare::half_and_half);
}

TEST_CASE("A record's place lights up on the face it lies on") {
    PlacedDesk desk;
    const auto frame = usecases::current_frame(desk.snapshot(), Face::recto)->id;
    const Uuid finding = usecases::add_record(desk.session().acting(), desk.case_id, "finding",
                                              casebook::FieldValues()
                                                  .record("face_frame", frame)
                                                  .region("region", Region::rectangle({100, 100}, {50, 50}).value())
                                                  .text("layer", "paint")
                                                  .text("term", "loss"))
                             .value()
                             .record;
    emit desk.session().changed();
    desk.side().show_face(Face::verso);
    desk.side().highlight(finding);
    CHECK(desk.side().face() == Face::recto);
}

TEST_CASE("Alt and a letter means one button, with a form open or not") {
    PlacedDesk desk;
    const auto letters_in_sight = [&] {
        QStringList letters;
        for (const QAbstractButton* button : desk.window->findChildren<QAbstractButton*>()) {
            const QKeySequence key = QKeySequence::mnemonic(button->text());
            if (button->isVisible() && !key.isEmpty()) letters << key.toString();
        }
        return letters;
    };
    for (const usecases::Stage stage : usecases::all_stages) {
        INFO(to_text(stage));
        desk.view().show_sheet(stage);
        // What a sheet can do once its pages are made stands there too.
        for (QPushButton* act : desk.view().sheets().sheet(stage).findChildren<QPushButton*>()) {
            if (act->text().startsWith(QStringLiteral("Save the"))) act->show();
        }
        for (const bool with_form : {false, true}) {
            if (with_form) desk.view().begin_new_record();
            QStringList letters = letters_in_sight();
            CHECK(letters.contains(QStringLiteral("Alt+S")) == with_form);
            const QString all = letters.join(u' ');
            INFO(plain(all));
            CHECK(letters.removeDuplicates() == 0);
        }
        desk.view().sheets().sheet(stage).form().give_up();
    }
}

TEST_CASE("The head of a case says who insures it, also in small windows") {
    PlacedDesk desk;
    desk.session().did(
        usecases::add_record(desk.session().acting(), desk.case_id, "custody",
                             casebook::FieldValues()
                                 .text("place", "the gallery, Port Ambling")
                                 .record("holder", desk.session().book().person_named("Hesper Vane-Larkin").value())
                                 .text("insured_by", "the Lantern Mutual")
                                 .text("from", "2026-03-01"))
            .value(),
        "custody");
    const QSize size = GENERATE(QSize(1440, 900), QSize(1024, 640), QSize(900, 600));
    CAPTURE(size.width());
    desk.window->resize(size);
    QTest::qWait(50);
    const auto said = [&] {
        QStringList words;
        for (const QLabel* label : desk.view().head().findChildren<QLabel*>()) words << label->text();
        return words.join(u'\n');
    };
    CHECK(said().contains(QStringLiteral("insured by the Lantern Mutual")));
    CHECK(said().contains(QStringLiteral("River landscape")));
    desk.session().set_client_looks(true);
    CHECK_FALSE(said().contains(QStringLiteral("Lantern")));
    CHECK_FALSE(said().contains(QStringLiteral("Hesper")));
}
