// Comparing two to four photographs of one face: which answer what, how they are seen, what is kept of it.
#include <QPushButton>
#include <QSignalSpy>
#include <QToolButton>
#include <nlohmann/json.hpp>

#include "compare/compare_view.hpp"
#include "painted_desk.hpp"
#include "tedge/imaging/colour.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/pyramid.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

using Colour = std::array<std::uint8_t, 3>;

// 400 × 300 px, its left and right halves each of one colour; placed on a face of as many millimetres.
ComparedPhotograph halves(const TemporaryFolder& folder, const char* name, Colour left, Colour right) {
    imaging::Raster8 raster(400, 300, 3);
    for (int y = 0; y < 300; ++y) {
        for (int x = 0; x < 400; ++x) {
            for (int c = 0; c < 3; ++c) raster.at(x, y, c) = (x < 200 ? left : right)[static_cast<std::size_t>(c)];
        }
    }
    imaging::Picture picture;
    picture.pixels = raster;
    const auto file = folder / name;
    REQUIRE(imaging::build_pyramid(picture, file));
    ComparedPhotograph made;
    made.shown = {Uuid{}, file, placement_filling({400, 300}, {400, 300}), {400, 300}, QString::fromLatin1(name)};
    made.shows_colour = true;
    return made;
}
ComparedPhotograph flat(const TemporaryFolder& folder, const char* name, Colour colour) {
    return halves(folder, name, colour, colour);
}

struct Canvas {
    TemporaryFolder folder;
    CompareCanvas canvas;
    Canvas() {
        canvas.resize(800, 600);
        canvas.show();
    }
    QImage seen() {
        QImage image;
        comes_true([&] {
            image = canvas.grab().toImage();
            return !canvas.waiting_for_tiles();
        });
        return image;
    }
};

bool is_red(const QImage& image, int x, int y) {
    return image.pixelColor(x, y).red() > 150 && image.pixelColor(x, y).green() < 60;
}
bool is_green(const QImage& image, int x, int y) {
    return image.pixelColor(x, y).green() > 150 && image.pixelColor(x, y).red() < 60;
}
constexpr Colour red{200, 10, 10};
constexpr Colour green{10, 200, 10};

}  // namespace

TEST_CASE("Cells are alike, within the window, and as many beside one another as make the pictures largest") {
    const QRectF whole(0, 0, 1200, 600);
    CHECK(cells_for(whole, 2, {400, 500})[1].left() > 590);            // two upright ones stand side by side
    CHECK(cells_for({0, 0, 600, 900}, 2, {500, 200})[1].top() > 440);  // two broad ones in an upright window do not
    for (const int count : {1, 2, 3, 4}) {
        const auto cells = cells_for(whole, count, {400, 300});
        REQUIRE(cells.size() == static_cast<std::size_t>(count));
        for (const QRectF& cell : cells) {
            CHECK(whole.adjusted(-0.01, -0.01, 0.01, 0.01).contains(cell));
            CHECK(cell.size() == cells.front().size());
        }
    }
    CHECK(cells_for(whole, 2, {}).empty());
}

TEST_CASE("The dividing line stands at any angle, and moves with the hand") {
    Canvas desk;
    desk.canvas.show_photographs({400, 300}, {flat(desk.folder, "red", red), flat(desk.folder, "green", green)});
    desk.canvas.set_means(Means::half_and_half);
    QImage image = desk.seen();
    CHECK(is_red(image, 200, 300));
    CHECK(is_green(image, 600, 300));
    desk.canvas.set_angle(90);
    image = desk.seen();
    CHECK(is_red(image, 400, 150));
    CHECK(is_green(image, 400, 450));
    desk.canvas.set_angle(45);
    image = desk.seen();
    CHECK(is_red(image, 150, 150));
    CHECK(is_green(image, 650, 450));
    CHECK(is_red(image, 400 - 30, 300 - 10));
    desk.canvas.set_angle(0);
    QTest::mousePress(&desk.canvas, Qt::LeftButton, {}, {400, 300});
    QTest::mouseMove(&desk.canvas, {700, 300});
    QTest::mouseRelease(&desk.canvas, Qt::LeftButton, {}, {700, 300});
    image = desk.seen();
    CHECK(is_red(image, 650, 300));
    CHECK(is_green(image, 740, 300));
}

TEST_CASE("One fades into the other, and one turns into the other, never faster than is safe") {
    Canvas desk;
    desk.canvas.show_photographs({400, 300}, {flat(desk.folder, "red", red), flat(desk.folder, "green", green)});
    desk.canvas.set_means(Means::fade);
    desk.canvas.set_fade(0);
    CHECK(is_red(desk.seen(), 400, 200));
    desk.canvas.set_fade(1);
    CHECK(is_green(desk.seen(), 400, 200));
    desk.canvas.set_fade(0.5);
    CHECK(std::abs(desk.seen().pixelColor(400, 200).red() - 105) <= 2);
    desk.canvas.set_means(Means::turn_over);
    CHECK(is_red(desk.seen(), 400, 200));
    QTest::keyClick(&desk.canvas, Qt::Key_Space);
    CHECK(is_green(desk.seen(), 400, 200));
    // A flash is two turns: WCAG 2.1, success criterion 2.3.1, three flashes a second at most.
    CHECK(CompareCanvas::most_turns_per_s / 2 < 3.0);
    desk.canvas.set_means(Means::side_by_side);
    desk.canvas.set_turns_per_s(100);
    desk.canvas.set_means(Means::turn_over);
    REQUIRE(is_red(desk.seen(), 400, 200));
    QTest::qWait(200);
    CHECK(is_red(desk.seen(), 400, 200));  // at a hundred a second it would have turned twenty times
    CHECK(comes_true([&] { return is_green(desk.seen(), 400, 200); }, 5000));
}

TEST_CASE("The back is seen as it is beside the front, and through the front in its place") {
    Canvas desk;
    ComparedPhotograph back = halves(desk.folder, "back", red, green);
    back.from_behind = true;
    back.shown.placement->face_from_photo = Homography::from_row_major({-1, 0, 400, 0, 1, 0, 0, 0, 1}).value();
    desk.canvas.show_photographs({400, 300}, {flat(desk.folder, "front", {90, 90, 90}), back});
    QImage image = desk.seen();
    const auto cell = cells_for(desk.canvas.rect(), 2, {400, 300})[1];
    const int y = static_cast<int>(cell.center().y());
    CHECK(is_red(image, static_cast<int>(cell.center().x()) - 60, y));
    CHECK(is_green(image, static_cast<int>(cell.center().x()) + 60, y));
    // The same millimetre: right on the front is left on the back.
    QSignalSpy told(&desk.canvas, &CompareCanvas::pointer_at);
    QTest::mouseMove(&desk.canvas, QPoint(static_cast<int>(cell.center().x()) - 60, y));
    REQUIRE_FALSE(told.isEmpty());
    const double x_mm = told.back().at(0).toString().section(u' ', 1, 1).toDouble();
    CHECK(x_mm > 200);
    desk.canvas.set_means(Means::turn_over);
    QTest::keyClick(&desk.canvas, Qt::Key_Space);
    image = desk.seen();
    CHECK(is_green(image, 250, 300));
    CHECK(is_red(image, 550, 300));
}

TEST_CASE(
    "The colour difference under the pointer is that of the formula, and none is told where light shows no colour") {
    Canvas desk;
    ComparedPhotograph first = flat(desk.folder, "first", {120, 100, 80});
    ComparedPhotograph second = flat(desk.folder, "second", {150, 110, 60});
    const double expected =
        imaging::delta_e00(imaging::lab_from_srgb8(120, 100, 80), imaging::lab_from_srgb8(150, 110, 60));
    desk.canvas.show_photographs({400, 300}, {first, second});
    static_cast<void>(desk.seen());
    QSignalSpy told(&desk.canvas, &CompareCanvas::pointer_at);
    QTest::mouseMove(&desk.canvas, {150, 300});
    REQUIRE_FALSE(told.isEmpty());
    const QString text = told.back().at(1).toString();
    CHECK(text.startsWith(QStringLiteral("ΔE00 ")));
    // The tiles on the screen are compressed: a step of 8 bits in one channel is a quarter of a ΔE00 here.
    CHECK(text.section(u' ', 1, 1).toDouble() == Approx(expected).margin(0.5));
    second.shows_colour = false;
    desk.canvas.show_photographs({400, 300}, {first, second});
    static_cast<void>(desk.seen());
    QTest::mouseMove(&desk.canvas, {151, 300});
    CHECK(told.back().at(1).toString().isEmpty());
}

namespace {

struct ComparedDesk : PaintedDesk {
    Uuid received = placed("received.png");
    Uuid cleaned = laid("cleaned.png", "normal", "cleaned");

    // Placed as the first one lies: the same viewpoint.
    Uuid laid(const std::string& name, const std::string& light, const std::string& stage) {
        const Uuid id = take_in(painted(name, 3, {}), Face::recto, light, stage);
        side().show_photograph(id);
        side().begin_placing(false);
        click_corners();
        REQUIRE(body(id).has("face_from_photo"));
        return id;
    }
    const Comparison& question(const QString& text) {
        for (const Comparison& each : view().comparison().questions()) {
            if (each.question == text) return each;
        }
        throw std::logic_error("no such question");
    }
    void open() { QTest::keyClick(&view().easel(), Qt::Key_C); }
};

}  // namespace

TEST_CASE("What somebody wants to know names its photographs, or says what is missing") {
    ComparedDesk desk;
    desk.side().show_photograph(desk.received);
    desk.open();
    REQUIRE(desk.view().comparing());
    CHECK(desk.question(QStringLiteral("What has become of it?")).photographs ==
          std::vector{desk.received, desk.cleaned});
    CHECK(desk.question(QStringLiteral("Is this crack new?")).photographs == std::vector{desk.received, desk.cleaned});
    for (const auto* text : {"What does each light show?", "What lies behind it?", "The ones I chose"}) {
        CAPTURE(text);
        CHECK(desk.question(QString::fromLatin1(text)).photographs.empty());
        CHECK(desk.question(QString::fromLatin1(text)).why_not.size() > 20);
    }
    // It says so when it is asked, and what was seen stays.
    const auto asked = desk.view().comparison().asked();
    desk.view().comparison().ask(4);
    CHECK(desk.view().comparison().asked() == asked);
    CHECK(desk.view().comparison().said().contains(QStringLiteral("either side")));
    QTest::keyClick(&desk.view().comparison().canvas(), Qt::Key_Escape);
    CHECK_FALSE(desk.view().comparing());

    const Uuid raking = desk.laid("raking.png", "raking", "cleaned");
    const Uuid final = desk.laid("varnished.png", "normal", "varnished");
    desk.side().show_photograph(desk.cleaned);
    desk.side().set_beside(final);
    desk.open();
    CHECK(desk.question(QStringLiteral("What changed last?")).photographs == std::vector{desk.cleaned, final});
    CHECK(desk.question(QStringLiteral("What has become of it?")).photographs == std::vector{desk.received, final});
    CHECK(desk.question(QStringLiteral("What does each light show?")).photographs == std::vector{desk.cleaned, raking});
    // The two on the easel are what somebody chose, and come first.
    CHECK(desk.view().comparison().asked() == desk.view().comparison().questions().size() - 1);
    CHECK(desk.question(QStringLiteral("The ones I chose")).photographs == std::vector{desk.cleaned, final});
}

TEST_CASE("Front and back lie together once both are placed") {
    ComparedDesk desk;
    const Uuid verso = desk.take_in(desk.painted("verso.png", 5, {}), Face::verso);
    desk.side().show_photograph(verso);
    desk.side().begin_placing(false);
    desk.click_corners();
    desk.side().show_photograph(verso);  // also asked from the back
    desk.open();
    const Comparison& behind = desk.question(QStringLiteral("What lies behind it?"));
    CHECK(behind.photographs == std::vector{desk.cleaned, verso});
    CHECK(behind.in_face == Face::recto);
}

TEST_CASE("A comparison is kept in the case as a picture with its recipe, and taken back") {
    ComparedDesk desk;
    desk.side().show_photograph(desk.received);
    desk.open();
    CompareView& view = desk.view().comparison();
    CHECK(view.canvas().means() == Means::half_and_half);
    for (QToolButton* button : view.findChildren<QToolButton*>()) {
        if (button->text() == QStringLiteral("Keep in the case")) button->click();
    }
    REQUIRE(comes_true([&] { return !view.keeping().running(); }));
    REQUIRE(comes_true([&] { return desk.snapshot().of_kind("derived_picture").size() == 1; }));
    const auto snapshot = desk.snapshot();
    const casebook::Record* kept = snapshot.of_kind("derived_picture").front();
    CHECK(kept->body.text_or("what") == "comparison");
    CHECK(*kept->body.integer("width_px") >= 2400);
    CHECK(kept->body.as_json().at("from_photographs").size() == 2);
    CHECK(kept->body.as_json().at("recipe").at("files").size() == 2);
    const auto picture = imaging::read_picture(desk.session().book().original_path(kept->body.text_or("sha256")));
    REQUIRE(picture);
    CHECK(picture->size().width_px == *kept->body.integer("width_px"));
    CHECK(view.said().contains(QStringLiteral("Kept")));
    CHECK(desk.view().comparing());  // what was written does not take the comparison away
    desk.session().undo();
    CHECK(desk.snapshot().of_kind("derived_picture").empty());
}

TEST_CASE("The caption says what each photograph is and how well it lies, and names nobody") {
    ComparedDesk desk;
    desk.side().show_photograph(desk.received);
    desk.open();
    const auto snapshot = desk.snapshot();
    const Caption caption = caption_of(snapshot, desk.question(QStringLiteral("What has become of it?")),
                                       *usecases::current_frame(snapshot, Face::recto));
    CHECK(caption.title == QStringLiteral("River landscape"));
    REQUIRE(caption.lines.size() == 2);
    CHECK(caption.lines[1].contains(QStringLiteral("cleaned, normal")));
    CHECK(caption.lines[1].contains(QStringLiteral("mm")));
    for (const QString& line : caption.lines) CHECK_FALSE(line.contains(QStringLiteral("Wren")));
    QImage picture(600, 400, QImage::Format_RGB32);
    picture.fill(Qt::red);
    const QImage sheet = with_caption(picture, caption, 1.0);
    CHECK(sheet.copy(picture.rect()) == picture);
    CHECK(sheet.height() > 450);
    CHECK(sheet.pixelColor(599, sheet.height() - 1) == Qt::white);
}
