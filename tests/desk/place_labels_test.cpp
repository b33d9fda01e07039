// One name for one place: on the easel, in the lists beside it, in the dossier.
#include "easel/place_labels.hpp"

#include <QToolBar>

#include "easel/easel_content.hpp"
#include "painted_desk.hpp"
#include "sheets/record_list.hpp"
#include "tedge/dossier/extract.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

struct LabelledDesk : PaintedDesk {
    Uuid photo = placed("recto.png");

    // Past the gates: what they think of the order of these is not asked here.
    Uuid commit(std::string_view kind, const FieldValues& values) {
        clock.advance(std::chrono::seconds(1));
        casebook::Edit edit;
        edit.case_id = case_id;
        edit.kind = kind;
        edit.values = values;
        const Uuid id = session().book().commit(session().acting().author, {edit}).value().front();
        emit session().changed();
        return id;
    }
    Uuid frame_of(Face face) {
        const auto before = snapshot();
        if (const casebook::Record* frame = usecases::current_frame(before, face)) return frame->id;
        return commit("face_frame",
                      FieldValues().text("face", to_text(face)).number("width_mm", 840).number("height_mm", 640));
    }
    Uuid add(std::string_view kind, Face face, FieldValues values, double at_mm) {
        values.record("face_frame", frame_of(face))
            .region("region", Region::rectangle({at_mm, at_mm}, {40, 40}).value());
        return commit(kind, values);
    }
    Uuid finding(Face face, double at_mm) {
        return add("finding", face, FieldValues().text("term", "loss").text("layer", "paint"), at_mm);
    }
    [[nodiscard]] QStringList listed(usecases::Stage stage) {
        QStringList lines;
        auto* list = view().sheets().sheet(stage).findChild<RecordList*>();
        for (int row = 0; row < list->count(); ++row) lines << list->item(row)->text();
        return lines;
    }
};

}  // namespace

TEST_CASE("Findings bear one number over all faces, that of the dossier; others are told apart by a letter") {
    LabelledDesk desk;
    const Uuid first = desk.finding(Face::recto, 100);
    const Uuid trial =
        desk.add("trial", Face::recto,
                 FieldValues().text("passage", "sky").text("layer", "varnish").text("agent", "water"), 300);
    const Uuid behind = desk.finding(Face::verso, 100);
    const Uuid last = desk.finding(Face::recto, 500);
    const auto snapshot = desk.snapshot();
    const auto labels = place_labels(snapshot);
    CHECK(labels.at(first) == QStringLiteral("1"));
    CHECK(labels.at(behind) == QStringLiteral("2"));
    CHECK(labels.at(last) == QStringLiteral("3"));
    CHECK(labels.at(trial) == QStringLiteral("T1"));

    // The dossier numbers the findings of its reader's extract as they stand there.
    for (const casebook::Reader reader : {casebook::Reader::buyer, casebook::Reader::restorer}) {
        const auto extract = dossier::Extract::of(snapshot, reader);
        int number = 0;
        for (const casebook::Record* told : extract.of_kind("finding"))
            CHECK(labels.at(told->id) == QString::number(++number));
        CHECK(number == 3);
    }
    // What lies on the back is seen through, at the same place from the other side (840 mm wide).
    QStringList on_recto;
    for (const Overlay& overlay : overlays_on(snapshot, *usecases::current_frame(snapshot, Face::recto))) {
        on_recto << overlay.label;
        CHECK(overlay.from_behind == (overlay.record == behind));
        if (!overlay.from_behind) continue;
        const double left_mm = snapshot.find(behind)->body.region("region")->bounds().min.x_mm;
        CHECK(overlay.region.bounds().max.x_mm == Approx(840 - left_mm));
    }
    on_recto.sort();
    CHECK(on_recto ==
          QStringList{QStringLiteral("(2)"), QStringLiteral("1"), QStringLiteral("3"), QStringLiteral("T1")});
    desk.view().show_sheet(usecases::Stage::survey);
    CHECK(desk.listed(usecases::Stage::survey).filter(QStringLiteral("2 · Loss")).size() == 1);
    CHECK(desk.listed(usecases::Stage::trials).filter(QStringLiteral("T1 · Sky")).size() == 1);
}

TEST_CASE("P takes the places from the picture and brings them back; a record that is chosen still lights up") {
    LabelledDesk desk;
    const Uuid finding = desk.finding(Face::recto, 300);
    desk.side().show_photograph(desk.photo);
    Easel& easel = desk.view().easel();
    const auto image = [&] {
        QImage seen;
        comes_true([&] {
            seen = easel.grab().toImage();
            return !easel.waiting_for_tiles();
        });
        return seen;
    };
    Uuid touched;
    QObject::connect(&easel, &Easel::record_touched, [&](const Uuid& id) { touched = id; });
    const QPoint there = easel.frame().to_screen({320, 320}).toPoint();
    const QImage with = image();
    QTest::keyClick(&easel, Qt::Key_P);
    CHECK_FALSE(easel.shows_places());
    const QImage without = image();
    CHECK(with != without);
    QTest::mouseClick(&easel, Qt::LeftButton, {}, there);
    CHECK(touched != finding);
    desk.side().highlight(finding);
    CHECK(image() != without);
    // Taken from the strip as well, and the button follows the key.
    QTest::keyClick(&desk.side().strip(), Qt::Key_P);
    CHECK(easel.shows_places());
    for (const QAction* tool : desk.side().tools().actions())
        if (tool->text() == QStringLiteral("Places")) CHECK(tool->isChecked());
    QTest::mouseClick(&easel, Qt::LeftButton, {}, there);
    CHECK(touched == finding);
}
