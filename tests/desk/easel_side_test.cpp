// What stays on the easel: what was chosen of a face, and what was drawn and is not saved yet.
#include "easel/easel_side.hpp"

#include "easel/easel_content.hpp"
#include "painted_desk.hpp"

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
