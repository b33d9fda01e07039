#include "photographs/laying.hpp"

#include <QPushButton>

#include "easel/easel_content.hpp"
#include "painted_desk.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

LayingChoice choice_with(const PaintedDesk& /*desk*/, const std::vector<LayingChoice>& choices, std::size_t moving) {
    const auto found =
        std::ranges::find_if(choices, [&](const LayingChoice& choice) { return choice.moving.size() == moving; });
    REQUIRE(found != choices.end());
    return *found;
}

struct PlacedDesk : PaintedDesk {
    Uuid reference;
    PlacedDesk() {
        reference = take_in(painted("reference.png", 3, {}));
        side().show_photograph(reference);
        side().begin_placing(false);
        click_corners();
        REQUIRE(body(reference).has("face_from_photo"));
    }
    void lay(const Uuid& over, std::size_t how_many) {
        side().begin_laying(choice_with(*this, laying_choices(snapshot(), over, {}), how_many));
    }
    bool wait() {
        return comes_true([this] { return !side().laying().running(); }, 120'000);
    }
};

}  // namespace

TEST_CASE("A photograph is laid over a placed one from the desk, and both are seen half and half") {
    PlacedDesk desk;
    const Uuid raking = desk.take_in(desk.painted("raking.png", 3, {.degrees = 4.0, .scale = 0.97, .shift = {5, -3}}),
                                     Face::recto, "raking");
    CHECK_FALSE(why_not_comparable(desk.snapshot(), desk.reference, raking).isEmpty());
    desk.lay(desk.reference, 1);
    CHECK(desk.side().laying().running());  // and the window goes on
    REQUIRE(desk.wait());
    const auto placement = desk.body(raking).placement("face_from_photo");
    REQUIRE(placement);
    // Two millimetres a pixel: the middle of the moving photograph looks 5 px right of and 3 px above the reference's.
    const PointMm middle = placement->to_face({209.5, 159.5});
    CHECK(middle.x_mm == Approx((209.5 + 5) * 840.0 / 419).margin(2.0));
    CHECK(middle.y_mm == Approx((159.5 - 3) * 640.0 / 319).margin(2.0));
    CHECK(desk.side().laying().report().contains(QStringLiteral("as received, raking: lies to ± ")));
    CHECK(desk.side().laying().report().contains(QStringLiteral("mm")));
    CHECK(why_not_comparable(desk.snapshot(), desk.reference, raking).isEmpty());
    CHECK(desk.view().easel().compare() == Compare::half_and_half);

    desk.session().undo();
    CHECK_FALSE(desk.body(raking).has("face_from_photo"));
}

TEST_CASE("Another picture is not laid over this one, and the desk says why") {
    PlacedDesk desk;
    const Uuid other = desk.take_in(desk.painted("other.png", 77, {}), Face::recto, "raking");
    desk.lay(desk.reference, 1);
    REQUIRE(desk.wait());
    CHECK_FALSE(desk.body(other).has("face_from_photo"));
    CHECK(desk.side().laying().report().startsWith(QStringLiteral("⊘ as received, raking: ")));
    CHECK(desk.side().laying().report().size() > 40);
    desk.side().set_beside(other);
    CHECK(desk.view().easel().compare() == Compare::none);
    CHECK(desk.side().note().contains(QStringLiteral("not placed yet")));
}

TEST_CASE("All photographs of a face are laid over one of them; one that is refused does not stop the others") {
    PlacedDesk desk;
    const Uuid first = desk.take_in(desk.painted("a.png", 3, {.degrees = 2.0}), Face::recto, "raking");
    const Uuid other = desk.take_in(desk.painted("b.png", 78, {}), Face::recto, "normal", "cleaned");
    const Uuid last = desk.take_in(desk.painted("c.png", 3, {.scale = 0.95}), Face::recto, "normal", "varnished");
    desk.take_in(desk.painted("d.png", 79, {}), Face::verso);
    desk.lay(desk.reference, 3);
    REQUIRE(desk.wait());
    CHECK(desk.body(first).has("face_from_photo"));
    CHECK_FALSE(desk.body(other).has("face_from_photo"));
    CHECK(desk.body(last).has("face_from_photo"));
    CHECK(desk.side().laying().report().split(u'\n').size() == 3);
}

TEST_CASE("Laying over is cancelled, and what was laid before stays") {
    PlacedDesk desk;
    std::vector<Uuid> moving;
    for (int i = 0; i < 6; ++i) {
        moving.push_back(desk.take_in(desk.painted("m" + std::to_string(i) + ".png", 3, {.degrees = 1.0 + i}),
                                      Face::recto, "raking"));
    }
    desk.lay(desk.reference, 6);
    REQUIRE(comes_true([&] { return desk.body(moving[0]).has("face_from_photo"); }));
    for (QPushButton* button : desk.side().laying().findChildren<QPushButton*>()) {
        if (button->text() == QStringLiteral("Cancel")) button->click();
    }
    REQUIRE(desk.wait());
    CHECK(desk.body(moving[0]).has("face_from_photo"));
    CHECK_FALSE(desk.body(moving[5]).has("face_from_photo"));
    CHECK(desk.session().book().check()->ok());
}

TEST_CASE("What may be laid over what is offered from where one stands") {
    PlacedDesk desk;
    const Uuid raking = desk.take_in(desk.painted("raking.png", 3, {}), Face::recto, "raking");
    const Uuid verso = desk.take_in(desk.painted("verso.png", 4, {}), Face::verso);
    const auto from_raking = laying_choices(desk.snapshot(), raking, {});
    REQUIRE(from_raking.size() == 1);
    CHECK(from_raking[0].reference == desk.reference);
    CHECK(from_raking[0].moving == std::vector{raking});
    const auto from_reference = laying_choices(desk.snapshot(), desk.reference, {raking, verso});
    REQUIRE(from_reference.size() == 2);  // the chosen one of this face; all that are not placed
    CHECK(from_reference[0].moving == std::vector{raking});
    CHECK(laying_choices(desk.snapshot(), verso, {}).empty());
}
