// The strip of photographs and their intake.
#include <QDropEvent>
#include <QFontMetrics>
#include <QImage>
#include <QLineEdit>
#include <QMimeData>
#include <fstream>
#include <nlohmann/json.hpp>

#include "forms/entries/entry.hpp"
#include "painted_desk.hpp"
#include "photographs/rights_dialog.hpp"
#include "photographs/strip_delegate.hpp"
#include "tedge/casebook/field_table.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

void drop(DeskWindow& window, const std::vector<std::filesystem::path>& files) {
    QMimeData data;
    QList<QUrl> urls;
    for (const auto& file : files) urls << QUrl::fromLocalFile(shown(to_utf8(file)));
    data.setUrls(urls);
    QDragEnterEvent enter({300, 300}, Qt::CopyAction, &data, Qt::LeftButton, {});
    QApplication::sendEvent(&window, &enter);
    REQUIRE(enter.isAccepted());
    QDropEvent event({300, 300}, Qt::CopyAction, &data, Qt::LeftButton, {});
    QApplication::sendEvent(&window, &event);
}

// A few bytes different in each, so that none is the same file as another.
std::vector<std::filesystem::path> small_photographs(const PaintedDesk& desk, int count) {
    std::vector<std::filesystem::path> files;
    imaging::Raster8 raster(48, 32, 3);
    for (int i = 0; i < count; ++i) {
        raster.at(i % 48, i / 48, 1) = 200;
        files.push_back(desk.folder / ("IMG_" + std::to_string(1000 + i) + ".png"));
        REQUIRE(imaging::write_picture(files.back(), raster, imaging::PictureFormat::png));
    }
    return files;
}

void cut_short(const std::filesystem::path& file) {
    std::filesystem::resize_file(file, std::filesystem::file_size(file) / 2);
}

// Records without files: what the strip needs.
std::vector<casebook::Record> many_records(int count) {
    std::vector<casebook::Record> records;
    CountingIds ids{9};
    for (int i = 0; i < count; ++i) {
        casebook::Record record;
        record.id = ids.next();
        record.kind = "photograph";
        record.body = casebook::Body(casebook::FieldValues()
                                         .text("face", "recto")
                                         .text("light", "raking")
                                         .text("stage", "as-received")
                                         .set_values());
        records.push_back(std::move(record));
    }
    return records;
}

std::vector<const casebook::Record*> pointers(const std::vector<casebook::Record>& records) {
    std::vector<const casebook::Record*> all;
    for (const casebook::Record& record : records) all.push_back(&record);
    return all;
}

}  // namespace

TEST_CASE("Stage, face and light are read in full under every photograph of the strip") {
    const casebook::Kind& photograph = *casebook::find_kind("photograph");
    const int room = StripDelegate::width - 8;
    const QFontMetrics when(StripDelegate::when_font());
    for (const std::string_view stage : words_of(*photograph.field("stage"))) {
        CAPTURE(stage);
        CHECK(when.horizontalAdvance(shown(stage) + " ?") <= room);
    }
    const QFontMetrics what(StripDelegate::what_font());
    for (const std::string_view face : words_of(*photograph.field("face"))) {
        for (const std::string_view light : words_of(*photograph.field("light"))) {
            CAPTURE(face, light);
            CHECK(what.horizontalAdvance(shown(std::string(face) + ", " + std::string(light))) <= room);
        }
    }
}

TEST_CASE("The strip tells what is guessed from what somebody said") {
    PaintedDesk desk;
    auto records = many_records(2);
    records[1].body = casebook::Body(
        casebook::FieldValues().text("face", "recto").text("stage", "cleaned").flag("guessed", true).set_values());
    FilmStrip& strip = desk.side().strip();
    strip.show_photographs(pointers(records));
    const auto& model = *qobject_cast<const FilmStripModel*>(strip.model());
    CHECK(model.item(0).when == "as received");
    CHECK(model.item(1).when == "cleaned ?");
    CHECK(model.item(1).tip.contains("guessed"));
}

TEST_CASE("Photographer and licence are said of many photographs at once; what they differ in stays") {
    PaintedDesk desk;
    const Uuid first = desk.take_in(desk.painted("a.png", 3, {}));
    const Uuid second = desk.take_in(desk.painted("b.png", 4, {}));
    usecases::SaidOfPhotographs before;
    before.licence = "all rights kept";
    REQUIRE(usecases::say_photographs(desk.session().acting(), {first}, before));
    const auto snapshot = desk.snapshot();
    RightsDialog dialog(desk.session(), snapshot, {first, second});
    CHECK(dialog.licence()->text().isEmpty());
    dialog.accept();  // nothing said
    CHECK(dialog.result() != QDialog::Accepted);
    dialog.photographer()->setText("Odo Tarrant");
    dialog.accept();
    CHECK(dialog.result() == QDialog::Accepted);
    for (const Uuid& id : {first, second}) {
        const auto author = desk.body(id).record("author");
        REQUIRE(author);
        CHECK(desk.body(*author).text("name") == "Odo Tarrant");
    }
    CHECK(desk.body(first).text("licence") == "all rights kept");
    CHECK_FALSE(desk.body(second).has("licence"));
}

TEST_CASE("The strip is used by keyboard: arrows, Enter shows, Ctrl+Enter sets beside") {
    PaintedDesk desk;
    FilmStrip& strip = desk.side().strip();
    const auto records = many_records(5);
    strip.show_photographs(pointers(records));
    std::vector<Uuid> shown_ones;
    std::vector<Uuid> beside;
    QObject::connect(&strip, &FilmStrip::shown_one, [&](const Uuid& id) { shown_ones.push_back(id); });
    QObject::connect(&strip, &FilmStrip::set_beside, [&](const Uuid& id) { beside.push_back(id); });
    strip.choose(records[0].id);
    QTest::keyClick(&strip, Qt::Key_Right);
    QTest::keyClick(&strip, Qt::Key_Return);
    QTest::keyClick(&strip, Qt::Key_Right);
    QTest::keyClick(&strip, Qt::Key_Return, Qt::ControlModifier);
    CHECK(shown_ones == std::vector{records[1].id});
    CHECK(beside == std::vector{records[2].id});
    QTest::keyClick(&strip, Qt::Key_Right, Qt::ShiftModifier);
    CHECK(strip.chosen() == std::vector{records[2].id, records[3].id});
    // Shown again, the choice is still there.
    strip.show_photographs(pointers(records));
    CHECK(strip.chosen() == std::vector{records[2].id, records[3].id});
}

TEST_CASE("Only photographs in sight are fetched, and two hundred of them are shown as fast as ten") {
    PaintedDesk desk;
    FilmStrip& strip = desk.side().strip();
    const auto time_ns = [&](int count) {
        const auto records = many_records(count);
        const auto all = pointers(records);
        qint64 best = std::numeric_limits<qint64>::max();
        for (int i = 0; i < 9; ++i) {
            strip.show_photographs({});
            QElapsedTimer timer;
            timer.start();
            strip.show_photographs(all);
            strip.grab();
            best = std::min(best, timer.nsecsElapsed());
        }
        return static_cast<double>(best);
    };
    time_ns(10);
    const double few = time_ns(10);
    const double many = time_ns(200);
    CAPTURE(few, many);
    CHECK(many < 6 * few);  // ten painted in both; as a ratio, for machines differ
}

TEST_CASE("A damaged file among two hundred dropped ones stops none of the others and is told in a sentence") {
    PaintedDesk desk;
    auto files = small_photographs(desk, 200);
    cut_short(files[57]);
    drop(*desk.window, files);
    IntakePanel& intake = desk.view().sheets().intake();
    CHECK(intake.model().rowCount() == 200);
    intake.begin();
    CHECK(intake.running());
    REQUIRE(comes_true([&] { return !intake.running(); }, 180'000));
    CHECK(intake.model().count(IntakeState::taken) == 199);
    CHECK(intake.model().count(IntakeState::refused) == 1);
    CHECK(desk.snapshot().of_kind("photograph").size() == 199);
    CHECK(intake.summary().startsWith(QStringLiteral("199 taken in, 1 refused.\n⊘ IMG_1057.png: ")));
    CHECK(intake.summary().endsWith(u'.'));
    CHECK(desk.side().strip().photographs().rowCount() == 199);
    // A damaged picture may be the only witness.
    intake.keep_damaged();
    REQUIRE(comes_true([&] { return !intake.running(); }));
    CHECK(desk.snapshot().of_kind("photograph").size() == 200);
    CHECK(desk.snapshot().of_kind("photograph").back()->body.has("damaged"));
}

TEST_CASE("An intake that is cancelled keeps what came in before, and the rest still waits") {
    PaintedDesk desk;
    drop(*desk.window, small_photographs(desk, 120));
    IntakePanel& intake = desk.view().sheets().intake();
    intake.begin();
    REQUIRE(comes_true([&] { return intake.model().count(IntakeState::taken) >= 3; }));
    intake.cancel();
    REQUIRE(comes_true([&] { return !intake.running(); }));
    const int taken = intake.model().count(IntakeState::taken);
    CHECK(taken >= 3);
    CHECK(taken < 120);
    CHECK(desk.snapshot().of_kind("photograph").size() == static_cast<std::size_t>(taken));
    CHECK(intake.summary().contains(QStringLiteral("Cancelled; what was taken in before stays.")));
    CHECK(static_cast<int>(intake.model().waiting().size()) == 120 - taken);
    CHECK(desk.session().book().check()->ok());
}

TEST_CASE("What one row shows goes for all rows chosen with it; a folder is dropped as the pictures in it") {
    PaintedDesk desk;
    const auto files = small_photographs(desk, 3);
    std::filesystem::create_directories(desk.folder / "card" / "DCIM");
    for (const auto& file : files) std::filesystem::rename(file, desk.folder / "card" / "DCIM" / file.filename());
    std::ofstream(desk.folder / "card" / "index.txt") << "not a picture";
    drop(*desk.window, {desk.folder / "card"});
    IntakePanel& intake = desk.view().sheets().intake();
    REQUIRE(intake.model().rowCount() == 3);
    IntakeModel& model = intake.model();
    REQUIRE(model.setData(model.index(1, IntakeModel::face_column), QStringLiteral("verso"), Qt::EditRole));
    CHECK(model.rows()[1].wanted.face == Face::verso);
    CHECK_FALSE(model.setData(model.index(1, IntakeModel::file_column), QStringLiteral("x"), Qt::EditRole));
    model.tick_all(IntakeModel::scale_column);
    REQUIRE(model.setData(model.index(2, IntakeModel::scale_column), Qt::Unchecked, Qt::CheckStateRole));
    REQUIRE(model.setData(model.index(0, IntakeModel::chart_column), Qt::Checked, Qt::CheckStateRole));
    intake.begin();
    REQUIRE(comes_true([&] { return !intake.running(); }));
    const auto snapshot = desk.snapshot();
    const auto photographs = snapshot.of_kind("photograph");
    CHECK(photographs[1]->body.text_or("face") == "verso");
    CHECK(photographs[0]->body.flag("has_scale"));
    CHECK(photographs[0]->body.flag("has_chart"));
    CHECK(photographs[1]->body.flag("has_scale"));
    CHECK_FALSE(photographs[2]->body.flag("has_scale"));
    CHECK_FALSE(model.flags(model.index(0, IntakeModel::scale_column)).testFlag(Qt::ItemIsUserCheckable));
}

TEST_CASE("The strip goes to what was just taken in, and to nothing when another case is shown") {
    PaintedDesk desk;
    FilmStrip strip(desk.window->pictures());  // one that the window does not fill
    strip.resize(600, 130);
    strip.show();
    auto records = many_records(60);
    const auto is_seen = [&](int row) {
        return strip.viewport()->rect().intersects(strip.visualRect(strip.model()->index(row, 0)));
    };
    strip.show_photographs(pointers({records.begin(), records.begin() + 55}));
    strip.choose(records[0].id);
    REQUIRE(is_seen(0));
    CHECK_FALSE(is_seen(54));
    strip.show_photographs(pointers(records));
    CHECK(is_seen(59));
    CHECK(strip.chosen() == std::vector{records[0].id});
    QCoreApplication::processEvents();
    CHECK(is_seen(59));
    // Another case: nothing came, it goes to what stands on the easel.
    const auto others = [&] {
        auto made = many_records(120);
        return std::vector(made.begin() + 60, made.end());
    }();
    strip.show_photographs(pointers(others));
    strip.mark(others[0].id, std::nullopt);
    QCoreApplication::processEvents();
    CHECK(is_seen(0));
}

TEST_CASE("What reading a picture left out is told at the intake, in the strip and in its record") {
    PaintedDesk desk;
    // A photograph is opaque: glass is laid on white, and that is said.
    const auto file = desk.folder / "glass.png";
    QImage glass(48, 32, QImage::Format_ARGB32);
    glass.fill(QColor(200, 40, 40, 120));
    REQUIRE(glass.save(shown(to_utf8(file))));
    desk.view().add_photographs({file});
    IntakePanel& intake = desk.view().sheets().intake();
    intake.begin();
    REQUIRE(comes_true([&] { return !intake.running(); }));
    const casebook::CaseSnapshot snapshot = desk.snapshot();
    REQUIRE(snapshot.of_kind("photograph").size() == 1);
    const casebook::Record& photo = *snapshot.of_kind("photograph").front();
    const QString note = shown(photo.body.text_or("read_notes"));
    CHECK(note.contains(QStringLiteral("white")));
    CHECK(intake.summary().contains(note));
    const auto& strip = desk.side().strip().photographs();
    CHECK(strip.index(0).data(Qt::ToolTipRole).toString().contains(note));
}

TEST_CASE("What the file of a photograph says of itself is shown in its form and not typed over") {
    PaintedDesk desk;
    const Uuid id = desk.take_in(desk.painted("front.png", 3, {}));
    desk.view().show_sheet(usecases::Stage::photographs);
    RecordSheet& sheet = desk.view().sheets().sheet(usecases::Stage::photographs);
    sheet.open_record(id);
    for (const char* field : {"width_px", "height_px", "media_type"}) {
        CAPTURE(field);
        FieldEditor* editor = sheet.form().editor(field);
        REQUIRE(editor != nullptr);
        CHECK_FALSE(editor->typed().isEmpty());
        CHECK_FALSE(editor->entry()->isEnabled());
    }
    CHECK(sheet.form().editor("caption")->entry()->isEnabled());
}
