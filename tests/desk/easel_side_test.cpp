// What stays on the easel: what was chosen of a face, and what was drawn and is not saved yet.
#include "easel/easel_side.hpp"

#include <QCoreApplication>
#include <QMouseEvent>
#include <nlohmann/json.hpp>

#include "easel/easel_content.hpp"
#include "painted_desk.hpp"
#include "tedge/usecases/derived_pictures.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

struct PairDesk : PaintedDesk {
    Uuid before = placed("before.png");
    Uuid after = placed("after.png");
    Uuid verso = take_in(painted("verso.png", 5, {}), Face::verso);

    [[nodiscard]] QString strip_place(const Uuid& id) {
        const auto* model = qobject_cast<const FilmStripModel*>(side().strip().model());
        return model->place_of(model->row_of(id));
    }
    // The outline of what is not saved has a colour of its own.
    [[nodiscard]] bool shows_pending() {
        const QImage image = view().easel().grab().toImage();
        for (int y = 0; y < image.height(); ++y) {
            for (int x = 0; x < image.width(); ++x) {
                if (image.pixelColor(x, y) == QColor("#FFE9A8")) return true;
            }
        }
        return false;
    }
    void draw_square() {
        Easel& easel = view().easel();
        side().draw_place();
        REQUIRE(easel.tool() == Tool::polygon);
        for (const PointMm corner : {PointMm{200, 200}, PointMm{400, 200}, PointMm{400, 350}, PointMm{200, 350}})
            QTest::mouseClick(&easel, Qt::LeftButton, {}, easel.frame().to_screen(corner).toPoint());
        QTest::keyClick(&easel, Qt::Key_Return);
    }
};

}  // namespace

TEST_CASE(
    "Pictures made from photographs lie on the easel with them; what no buyer may see goes while a client looks") {
    PairDesk desk;
    const auto frame = desk.body(desk.before).record("face_frame");
    const auto keep = [&](const char* kind, const char* what) {
        usecases::NewDerivedPicture made;
        made.case_id = desk.case_id;
        made.kind = kind;
        made.what = what;
        made.from_photographs[desk.before] = "photograph";
        made.face_frame = frame;
        made.face_from_picture = desk.body(desk.before).placement("face_from_photo");
        const std::string file = read_file(desk.painted(std::string(what) + ".png", 8, {})).value();
        const auto kept = usecases::keep_derived_picture(desk.session().acting(), made, file, nlohmann::json::object());
        REQUIRE(kept);
        emit desk.session().changed();
        return kept->done.record;
    };
    const Uuid cracks = keep("derived_picture", "crack-map");
    const Uuid forecast = keep("cleaning_forecast", "forecast");
    const auto* model = qobject_cast<const FilmStripModel*>(desk.side().strip().model());
    REQUIRE(model->rowCount() == 5);
    CHECK(model->item(3).when == "crack map");
    CHECK(model->item(3).what == "made from photographs");
    desk.side().show_photograph(cracks);
    CHECK(desk.view().easel().is_in_mm());
    CHECK(desk.side().face() == Face::recto);
    desk.side().set_beside(desk.before);
    CHECK(desk.view().easel().compare() == Compare::half_and_half);
    QTest::keyClick(&desk.view().easel(), Qt::Key_F);
    CHECK(desk.side().note().startsWith("This picture was made from photographs"));
    desk.side().show_photograph(desk.before);
    QTest::keyClick(&desk.view().easel(), Qt::Key_F);
    REQUIRE(desk.view().easel().compare() == Compare::framing);
    desk.side().show_photograph(forecast);
    CHECK(desk.view().easel().compare() == Compare::none);  // nobody photographs it again
    desk.side().show_photograph(cracks);
    desk.side().begin_placing(false);  // its place comes from the photographs
    CHECK(desk.view().easel().tool() == Tool::look);
    desk.side().show_photograph(forecast);
    desk.session().set_client_looks(true);
    CHECK(model->rowCount() == 4);
    CHECK(desk.strip_place(cracks).isEmpty());
    CHECK(model->row_of(forecast) < 0);
    CHECK_FALSE(desk.strip_place(desk.before).isEmpty());  // another picture took the place of the forecast
}

TEST_CASE("A crack map in which much may be drawing says so wherever it lies on the easel") {
    PairDesk desk;
    const auto keep = [&](double drawn_share, std::uint64_t scene) {
        usecases::NewDerivedPicture made;
        made.case_id = desk.case_id;
        made.kind = "derived_picture";
        made.what = "crack-map";
        made.from_photographs[desk.before] = "cracks";
        made.face_frame = desk.body(desk.before).record("face_frame");
        made.face_from_picture = desk.body(desk.before).placement("face_from_photo");
        const std::string file = read_file(desk.painted("map" + std::to_string(scene) + ".png", scene, {})).value();
        const auto kept = usecases::keep_derived_picture(desk.session().acting(), made, file,
                                                         nlohmann::json{{"drawn_share", drawn_share}});
        REQUIRE(kept);
        emit desk.session().changed();
        return kept->done.record;
    };
    const Uuid drawn = keep(0.4, 8), cracks = keep(0.1, 9);
    desk.side().show_photograph(drawn);
    CHECK(desk.side().note().startsWith(QStringLiteral("40 % of the lines found look rather like drawing")));
    desk.side().show_photograph(cracks);
    CHECK(desk.side().note().isEmpty());
}

TEST_CASE("The size told of what is dragged is the one that is drawn, and telling it never moves the picture") {
    PairDesk desk;
    Easel& easel = desk.view().easel();
    for (const QSize size : {QSize(1440, 900), QSize(1024, 640), QSize(900, 600)}) {
        desk.window->resize(size);
        QTest::qWait(50);
        desk.side().show_photograph(desk.before);
        desk.side().draw_place();  // its sentence above the picture takes room as soon as it is laid out
        QString told;
        const auto connection = QObject::connect(&easel, &Easel::pointer_at, [&](const QString& text) { told = text; });
        const QPoint from = easel.frame().to_screen({200, 200}).toPoint();
        const QPoint to = easel.frame().to_screen({463, 383}).toPoint();
        const PointMm a = easel.frame().to_face(from);
        // Sent at once, so that nothing is laid out in between.
        const auto mouse = [&](QEvent::Type type, QPoint at) {
            QMouseEvent event(type, at, easel.mapToGlobal(at), Qt::LeftButton, Qt::LeftButton, Qt::NoModifier);
            QCoreApplication::sendEvent(&easel, &event);
        };
        mouse(QEvent::MouseButtonPress, from);
        mouse(QEvent::MouseMove, (from + to) / 2);
        mouse(QEvent::MouseMove, to);
        QTest::qWait(100);
        // As the picture says it: from where the first corner was put to what lies under the pointer by now.
        const PointMm b = easel.frame().to_face(to);
        CHECK(told == QStringLiteral("%1 × %2 mm").arg(b.y_mm - a.y_mm, 0, 'f', 0).arg(b.x_mm - a.x_mm, 0, 'f', 0));
        const QRect before = easel.geometry();
        mouse(QEvent::MouseMove, to + QPoint(3, 0));
        QTest::qWait(50);
        CHECK(easel.geometry() == before);
        QTest::keyClick(&easel, Qt::Key_Escape);
        QObject::disconnect(connection);
    }
}

TEST_CASE("The photograph of the set before lies faintly over the new one, frame on frame, placed or not") {
    PaintedDesk desk;
    const Uuid received = desk.take_in(desk.painted("received.png", 3, {}));
    const Uuid other_light = desk.take_in(desk.painted("uv.png", 3, {}), Face::recto, "ultraviolet");
    const Uuid cleaned = desk.take_in(desk.painted("cleaned.png", 4, {}), Face::recto, "normal", "cleaned");
    Easel& easel = desk.view().easel();
    const auto seen = [&] {
        QTest::qWait(30);  // what is said above the picture comes and goes, and is laid out first
        REQUIRE(comes_true([&] {
            QApplication::processEvents();  // a line that is told no longer gives its room back
            easel.grab();
            return !easel.waiting_for_tiles();
        }));
        return easel.grab().toImage();
    };
    const auto at_middle = [](const QImage& image) { return image.pixelColor(image.rect().center()); };
    desk.side().show_photograph(received);
    const QColor old_colour = at_middle(seen());
    desk.side().show_photograph(cleaned);
    const QColor new_colour = at_middle(seen());
    REQUIRE(old_colour != new_colour);
    QTest::keyClick(&easel, Qt::Key_F);
    CHECK(easel.compare() == Compare::framing);
    const QColor both = at_middle(seen());
    CHECK(both.red() == Approx(0.6 * new_colour.red() + 0.4 * old_colour.red()).margin(2));
    CHECK(both.green() == Approx(0.6 * new_colour.green() + 0.4 * old_colour.green()).margin(2));
    desk.side().show_photograph(other_light);  // none before it in this light: said, and it stays on for the next
    CHECK(desk.side().note() == "No earlier stage of this face was photographed in this light.");
    CHECK(easel.compare() == Compare::framing);
    desk.side().show_photograph(cleaned);
    CHECK(desk.side().note().isEmpty());
    QTest::keyClick(&easel, Qt::Key_F);
    CHECK(easel.compare() == Compare::none);
    CHECK(at_middle(seen()) == new_colour);
}

TEST_CASE("Turned over and back, the chosen photograph and the one beside it are there again, half and half") {
    PairDesk desk;
    desk.side().show_photograph(desk.before);
    desk.side().set_beside(desk.after);
    REQUIRE(desk.view().easel().compare() == Compare::half_and_half);
    QTest::keyClick(&desk.view().easel(), Qt::Key_V);
    CHECK(desk.side().face() == Face::verso);
    CHECK(desk.strip_place(desk.verso) == QStringLiteral("shown"));
    CHECK(desk.view().easel().compare() == Compare::none);
    QTest::keyClick(&desk.view().easel(), Qt::Key_V);
    CHECK(desk.strip_place(desk.before) == QStringLiteral("shown"));
    CHECK(desk.strip_place(desk.after) == QStringLiteral("beside"));
    CHECK(desk.view().easel().compare() == Compare::half_and_half);

    SECTION("also when the back was taken from the strip") {
        desk.side().show_photograph(desk.verso);
        desk.side().turn_over();
        CHECK(desk.strip_place(desk.before) == QStringLiteral("shown"));
        CHECK(desk.strip_place(desk.after) == QStringLiteral("beside"));
    }
    SECTION("what was removed meanwhile does not come back") {
        desk.side().turn_over();
        REQUIRE(usecases::remove_record(desk.session().acting(), desk.after, {}, {}));
        emit desk.session().changed();
        desk.side().turn_over();
        CHECK(desk.strip_place(desk.before) == QStringLiteral("shown"));
        CHECK(desk.view().easel().compare() == Compare::none);
    }
}

TEST_CASE("A place that is drawn stays on the easel, told apart, until its form is saved or given up") {
    PairDesk desk;
    desk.side().show_photograph(desk.before);
    desk.view().show_sheet(usecases::Stage::survey);
    desk.view().begin_new_record();
    RecordForm& form = desk.view().sheets().sheet(usecases::Stage::survey).form();
    REQUIRE(form.wants_place());
    CHECK_FALSE(desk.shows_pending());
    desk.draw_square();
    CHECK(desk.shows_pending());
    SECTION("put off, it is still to be seen") {
        form.later();
        CHECK(desk.shows_pending());
        desk.side().turn_over();
        CHECK_FALSE(desk.shows_pending());
        desk.side().turn_over();
        CHECK(desk.shows_pending());
    }
    SECTION("given up") {
        form.give_up();
        CHECK_FALSE(desk.shows_pending());
    }
    SECTION("saved") {
        form.editor("term")->set_typed(QStringLiteral("loss"));
        form.editor("layer")->set_typed(QStringLiteral("paint"));
        form.save();
        REQUIRE(desk.snapshot().of_kind("finding").size() == 1);
        CHECK_FALSE(desk.shows_pending());
    }
}
