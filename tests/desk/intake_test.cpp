// Two hundred photographs put right by keyboard, the shot list beside them, and a folder that a camera writes into.
#include <QLabel>
#include <QLineEdit>
#include <QScrollBar>

#include <algorithm>

#include "painted_desk.hpp"
#include "photographs/intake_table.hpp"
#include "photographs/missing_panel.hpp"
#include "tedge/usecases/say_photographs.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

std::filesystem::path small_photograph(const std::filesystem::path& folder, const std::string& name, int number) {
    imaging::Raster8 raster(48, 32, 3);
    for (int i = 0; i < 48; ++i) raster.at(i, i % 32, 0) = static_cast<std::uint8_t>(90 + i);
    raster.at(number % 48, number / 48, 1) = 200;
    REQUIRE(imaging::write_picture(folder / name, raster, imaging::PictureFormat::png));
    return folder / name;
}

struct IntakeDesk : PaintedDesk {
    IntakePanel& intake = view().sheets().intake();
    IntakeTable& table = intake.table();
    int keys = 0;

    void add(int count) {
        std::vector<std::filesystem::path> files;
        for (int i = 0; i < count; ++i)
            files.push_back(small_photograph(folder.path(), "IMG_" + std::to_string(1000 + i) + ".png", i));
        view().add_photographs(files);
        REQUIRE(intake.model().rowCount() == count);
    }
    void press(Qt::Key key, Qt::KeyboardModifiers with = {}) {
        ++keys;
        QTest::keyClick(&table, key, with);
    }
    // From the first row of a group on, extended over it.
    void choose_next(int count) {
        for (int i = 1; i < count; ++i) press(Qt::Key_Down, Qt::ShiftModifier);
    }
    [[nodiscard]] const usecases::NewPhotograph& shot(int row) const {
        return intake.model().rows()[static_cast<std::size_t>(row)].wanted;
    }
};

}  // namespace

TEST_CASE("Two hundred files are put right by keyboard with little more than a key a file, and taken in so") {
    IntakeDesk desk;
    desk.add(200);
    desk.press(Qt::Key_A, Qt::ControlModifier);
    desk.press(Qt::Key_H, Qt::ShiftModifier);  // half-cleaned, all of them
    desk.press(Qt::Key_S);                     // with a scale
    desk.press(Qt::Key_Home, Qt::ControlModifier);
    const auto group = [&](int count, const std::vector<std::pair<Qt::Key, Qt::KeyboardModifiers>>& said) {
        desk.choose_next(count);
        for (const auto& [key, with] : said) desk.press(key, with);
        desk.press(Qt::Key_Down);
    };
    group(50, {{Qt::Key_R, {}}, {Qt::Key_N, {}}});
    group(50, {{Qt::Key_R, {}}, {Qt::Key_Left, Qt::ControlModifier}});
    group(50, {{Qt::Key_V, {}}, {Qt::Key_N, {}}});
    group(50, {{Qt::Key_R, {}}, {Qt::Key_U, {}}});
    CHECK(desk.keys <= 230);
    CHECK(desk.intake.model().guessed() == 0);
    CHECK(desk.shot(0).face == Face::recto);
    CHECK(desk.shot(60).light == "raking");
    CHECK(desk.shot(60).raking_side == "left");
    CHECK(desk.shot(120).face == Face::verso);
    CHECK(desk.shot(199).light == "ultraviolet");
    for (int row = 0; row < 200; ++row) {
        CHECK(desk.shot(row).stage == "half-cleaned");
        CHECK(desk.shot(row).has_scale);
    }
    desk.press(Qt::Key_Return, Qt::ControlModifier);
    REQUIRE(comes_true([&] { return !desk.intake.running(); }, 180'000));
    CHECK(desk.intake.model().count(IntakeState::taken) == 200);
    const auto snapshot = desk.snapshot();
    for (const casebook::Record* photograph : snapshot.of_kind("photograph"))
        CHECK_FALSE(photograph->body.flag("guessed"));
}

TEST_CASE("Same as above, fill down, edges in turn, confirm and go on, leave out: one key each") {
    IntakeDesk desk;
    desk.add(6);
    CHECK(desk.table.chosen_rows() == std::vector{0});
    desk.press(Qt::Key_E);
    CHECK(desk.shot(0).face == Face::edge_top);
    desk.press(Qt::Key_E);
    CHECK(desk.shot(0).face == Face::edge_right);
    desk.press(Qt::Key_K);
    desk.press(Qt::Key_Up, Qt::ControlModifier);
    desk.press(Qt::Key_Down);
    desk.press(Qt::Key_Equal);
    CHECK(desk.shot(1).face == Face::edge_right);
    CHECK(desk.shot(1).raking_side == "top");
    desk.press(Qt::Key_N);
    CHECK(desk.shot(1).raking_side.empty());  // no other light has a side
    desk.choose_next(3);
    desk.press(Qt::Key_D);
    CHECK(desk.shot(3).light == "normal");
    CHECK(desk.shot(3).face == Face::edge_right);
    desk.press(Qt::Key_Down);
    CHECK_FALSE(desk.shot(4).guesses.empty());
    desk.press(Qt::Key_Return);
    CHECK(desk.shot(4).guesses.empty());
    CHECK(desk.table.chosen_rows() == std::vector{5});
    desk.press(Qt::Key_Delete);
    CHECK(desk.intake.model().rowCount() == 5);
    // Two stages of one initial take turns.
    desk.press(Qt::Key_F, Qt::ShiftModifier);
    const std::string first = desk.shot(4).stage;
    desk.press(Qt::Key_F, Qt::ShiftModifier);
    CHECK(desk.shot(4).stage != first);
}

TEST_CASE("A guess is shown as one, with its reason, and recorded as one until somebody confirms it") {
    IntakeDesk desk;
    desk.view().add_photographs({small_photograph(desk.folder.path(), "mill uv.png", 3)});
    const QModelIndex light = desk.intake.model().index(0, IntakeModel::light_column);
    CHECK(light.data(IntakeModel::guess_role).toBool());
    CHECK(light.data(Qt::ToolTipRole).toString().contains(QStringLiteral("the name says uv")));
    desk.intake.begin();
    REQUIRE(comes_true([&] { return !desk.intake.running(); }));
    CHECK(desk.snapshot().of_kind("photograph").front()->body.flag("guessed"));
    desk.view().sheets().missing().confirm_guesses();
    CHECK_FALSE(desk.snapshot().of_kind("photograph").front()->body.flag("guessed"));
}

TEST_CASE("Small pictures come lazily, those in sight before those far down") {
    IntakeDesk desk;
    desk.add(200);
    desk.table.grab();
    const auto has_small = [&](int row) {
        return !desk.intake.model().rows()[static_cast<std::size_t>(row)].small.isNull();
    };
    REQUIRE(comes_true([&] { return has_small(0); }));
    desk.table.scrollToBottom();
    desk.table.grab();
    REQUIRE(comes_true([&] { return has_small(199); }));
    CHECK_FALSE(has_small(150));
    REQUIRE(comes_true([&] { return !desk.intake.looking(); }));
    CHECK(has_small(150));
}

TEST_CASE("Nothing of the intake lies sideways out of sight, at any size of the window") {
    IntakeDesk desk;
    desk.add(3);
    for (const QSize size : {QSize(1440, 900), QSize(1024, 640), QSize(900, 600)}) {
        desk.window->resize(size);
        QCoreApplication::processEvents();
        desk.table.grab();
        int width = 0;
        for (int column = 0; column < IntakeModel::column_count; ++column) width += desk.table.columnWidth(column);
        CAPTURE(size.width(), width, desk.table.viewport()->width());
        CHECK(width <= desk.table.viewport()->width());
        CHECK(desk.table.columnWidth(IntakeModel::chart_column) >= 28);
    }
    CHECK(desk.table.horizontalScrollBar()->maximum() == 0);
}

TEST_CASE("What is missing stands on the sheet with its caution; why a shot is not needed takes it off") {
    IntakeDesk desk;
    MissingPanel& missing = desk.view().sheets().missing();
    const auto all_text = [&] {
        QString text;
        for (const QLabel* label : missing.findChildren<QLabel*>()) text += label->text() + u'\n';
        return text;
    };
    CHECK(all_text().contains(QStringLiteral("What is still missing: 5")));
    CHECK(all_text().contains(QStringLiteral("eyes and skin")));
    missing.not_needed({"recto", "ultraviolet", "as-received"}, QStringLiteral("no lamp in the house"));
    CHECK(all_text().contains(QStringLiteral("What is still missing: 4")));
    desk.session().undo();
    CHECK(all_text().contains(QStringLiteral("What is still missing: 5")));
    desk.take_in(small_photograph(desk.folder.path(), "front.png", 1));
    CHECK(all_text().contains(QStringLiteral("What is still missing: 4")));
}

TEST_CASE("New pictures in a watched folder come in by themselves as the next shots that are missing") {
    IntakeDesk desk;
    const auto tether = desk.folder / "tether";
    std::filesystem::create_directory(tether);
    small_photograph(tether, "before.png", 1);
    desk.intake.watch(tether);
    REQUIRE(desk.intake.watching());
    const auto shots = [&] { return desk.snapshot().of_kind("photograph").size(); };
    small_photograph(tether, "one.png", 2);
    small_photograph(tether, "two.png", 3);
    REQUIRE(comes_true([&] { return shots() == 2 && !desk.intake.running(); }));
    const auto snapshot = desk.snapshot();
    const auto photographs = snapshot.of_kind("photograph");
    CHECK(photographs[0]->body.text_or("face") == "frame-front");  // as the list of a picture as received begins
    CHECK(photographs[1]->body.text_or("face") == "recto");
    CHECK(photographs[0]->body.flag("guessed"));
    CHECK(desk.side().strip().photographs().rowCount() == 2);
    // A folder that vanishes is told in a sentence, and nothing is watched any more.
    std::filesystem::remove_all(tether);
    REQUIRE(comes_true([&] { return !desk.intake.watching(); }));
    const auto labels = desk.intake.findChildren<QLabel*>();
    CHECK(std::ranges::any_of(
        labels, [](const QLabel* label) { return label->text().startsWith(QStringLiteral("There is no folder")); }));
    CHECK(shots() == 2);
}

TEST_CASE("Who took them and their licence are said once for all, and are the next intake's default") {
    IntakeDesk desk;
    desk.add(3);
    const auto lines = desk.intake.findChildren<QLineEdit*>();
    REQUIRE(lines.size() == 2);
    lines[0]->setText(QStringLiteral("Odile Brannock"));
    lines[1]->setText(QStringLiteral("all rights with the photographer"));
    desk.intake.begin();
    REQUIRE(comes_true([&] { return !desk.intake.running(); }));
    const auto snapshot = desk.snapshot();
    for (const casebook::Record* photograph : snapshot.of_kind("photograph"))
        CHECK(photograph->body.text_or("licence") == "all rights with the photographer");
    CHECK(usecases::usual_rights(desk.session().book(), desk.case_id).photographer == "Odile Brannock");
}
