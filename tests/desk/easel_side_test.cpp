// What stays on the easel: what was chosen of a face.
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

    Uuid placed(const std::string& name) {
        const Uuid id = take_in(painted(name, 3, {}));
        side().show_photograph(id);
        side().begin_placing(false);
        click_corners();
        REQUIRE(body(id).has("face_from_photo"));
        return id;
    }
    [[nodiscard]] QString strip_place(const Uuid& id) {
        const auto* model = qobject_cast<const FilmStripModel*>(side().strip().model());
        return model->place_of(model->row_of(id));
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

