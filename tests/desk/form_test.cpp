#include <QApplication>
#include <QDropEvent>
#include <QLineEdit>
#include <QMimeData>
#include <QPlainTextEdit>
#include <QTest>
#include <QTimer>
#include <QUrl>
#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "forms/override_dialog.hpp"
#include "kept_file.hpp"
#include "sheets/record_sheet.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

Region patch() {
    return Region::rectangle({400, 300}, {12, 9}).value();
}

FieldValues trial(FormBook& b, const char* agent, const char* verdict) {
    return FieldValues()
        .record("face_frame", b.recto())
        .region("region", patch())
        .text("passage", "sky")
        .text("layer", "varnish")
        .text("agent", agent)
        .text("swab_answer", "varnish")
        .text("verdict", verdict);
}

// What gate 7 asks for before any trial, and nothing else.
void open_trial_gate(FormBook& b) {
    for (const char* face : {"recto", "verso"}) {
        b.add("photograph", FieldValues()
                                .text("face", face)
                                .text("light", "normal")
                                .text("stage", "as-received")
                                .text("sha256", kept_file(b.session->book()))
                                .flag("has_scale", true));
    }
    b.add("survey",
          FieldValues().text("surveyed_on", "2026-03-03").text("face", "recto").text("loose_paint", "none-found"));
}

}  // namespace

TEST_CASE("A trial is recorded by tapping, on targets of 44 px or more (WCAG 2.1, 2.5.5)") {
    FormBook b;
    open_trial_gate(b);
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.resize(420, 600);
    form.show();
    form.begin_new(b.case_id, kind("trial"));
    form.set_place(b.recto(), patch());
    for (const auto& [field, said] : {std::pair{"passage", "sky"}, std::pair{"layer", "varnish"},
                                      std::pair{"swab_colour", "yellow"}, std::pair{"swab_answer", "tinted varnish"},
                                      std::pair{"verdict", "too weak"}, std::pair{"done_on", "today"}}) {
        CAPTURE(field, said);
        QPushButton* target = word(form, field, said);
        REQUIRE(target != nullptr);
        CHECK(target->width() >= 44);
        CHECK(target->height() >= 44);
        QTest::mouseClick(target, Qt::LeftButton);
    }
    form.editor("agent")->set_typed("acetone 30, isooctane 70");
    form.save();
    const auto snapshot = b.snapshot();
    REQUIRE(snapshot.of_kind("trial").size() == 1);
    const casebook::Body& written = snapshot.of_kind("trial").front()->body;
    CHECK(written.text("swab_answer") == "tinted-varnish");
    CHECK(written.text("verdict") == "too-weak");
    CHECK(written.text("done_on") == "2026-03-03");
    CHECK(written.region("region")->area_mm2() == Approx(108));
    // A second tap takes a word back.
    form.edit(*snapshot.of_kind("trial").front());
    word(form, "verdict", "too weak")->click();
    CHECK(form.editor("verdict")->typed().isEmpty());
}

TEST_CASE("Again on the same passage: the next mixture, the same place, and nothing of what the last one showed") {
    FormBook b;
    open_trial_gate(b);
    b.add("trial", trial(b, "acetone 30, isooctane 70", "too-weak"));
    Drafts drafts = b.drafts();
    RecordSheet sheet(usecases::Stage::trials, *b.session, drafts);
    sheet.show_case(b.snapshot());
    QPushButton* again = button(sheet, "Again: sky");
    REQUIRE(again != nullptr);
    CHECK(says(sheet, "to consider next: acetone 40, isooctane 60"));
    CHECK(again->minimumHeight() >= 44);
    again->click();
    RecordForm& form = sheet.form();
    CHECK(form.editor("agent")->typed() == "acetone 40, isooctane 60");
    CHECK(form.editor("verdict")->typed().isEmpty());
    CHECK(says(form, "As in the last one"));
    word(form, "verdict", "cleared")->click();
    form.save();
    const auto snapshot = b.snapshot();
    REQUIRE(snapshot.of_kind("trial").size() == 2);
    CHECK(snapshot.of_kind("trial").back()->body.text("agent") == "acetone 40, isooctane 60");
    CHECK(snapshot.of_kind("trial").back()->body.text("passage") == "sky");
}

TEST_CASE("A form begun before another change came is told as a conflict, field by field, also after a night") {
    FormBook b;
    const Uuid id = b.add("viewing_note", FieldValues().text("text", "thin in the sky"));
    const casebook::Record as_seen = b.session->book().record(id).value();
    const auto other_writes = [&] {
        REQUIRE(usecases::change_record(b.session->acting(), id, FieldValues().text("text", "thin everywhere")));
    };
    Drafts drafts = b.drafts();
    QStringList told;
    SECTION("in one sitting") {
        RecordForm form(*b.session, drafts);
        QObject::connect(&form, &RecordForm::overtaken, [&](const Uuid&, const QStringList& labels) { told = labels; });
        form.edit(as_seen);
        other_writes();
        form.editor("text")->set_typed("sound");
        form.save();
    }
    SECTION("half typed, the program closed, and opened again") {
        {
            RecordForm form(*b.session, drafts);
            form.edit(as_seen);
            form.editor("text")->set_typed("sound");
        }
        other_writes();
        Drafts next_day = b.drafts();
        RecordForm form(*b.session, next_day);
        QObject::connect(&form, &RecordForm::overtaken, [&](const Uuid&, const QStringList& labels) { told = labels; });
        form.edit(b.session->book().record(id).value());
        CHECK(form.editor("text")->typed() == "sound");
        form.save();
    }
    CHECK(told == QStringList{"What was seen"});
    CHECK(b.session->book().conflicts()->size() == 1);
    CHECK(b.session->book().record(id)->body.text("text") == "sound");
}

TEST_CASE("A field that was not touched is not written, whatever came in between") {
    FormBook b;
    const Uuid id = b.add("viewing_note", FieldValues().text("text", "thin").text("quality", "even"));
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.edit(b.session->book().record(id).value());
    REQUIRE(usecases::change_record(b.session->acting(), id, FieldValues().text("quality", "uneven")));
    form.editor("text")->set_typed("sound");
    form.save();
    CHECK(b.session->book().record(id)->body.text("quality") == "uneven");
    CHECK(b.session->book().conflicts()->empty());
}

TEST_CASE("Half-typed forms survive closing, with their place and with what was emptied; giving up leaves nothing") {
    FormBook b;
    const Uuid id = b.add("finding", FieldValues()
                                         .record("face_frame", b.recto())
                                         .region("region", patch())
                                         .text("layer", "paint")
                                         .text("term", "flaking")
                                         .text("text", "along the tear"));
    {
        Drafts drafts = b.drafts();
        RecordForm form(*b.session, drafts);
        form.begin_new(b.case_id, kind("finding"));
        form.editor("term")->set_typed("los");
        form.set_place(b.recto(), patch());
        // Another record is opened at once: nothing waits for a timer.
        form.edit(b.session->book().record(id).value());
        form.editor("text")->set_typed("");
    }
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("finding"));
    CHECK(form.editor("term")->typed() == "los");
    CHECK(says(form, "Place drawn"));
    CHECK(says(form, "Half typed"));
    form.give_up();
    CHECK(b.drafts().of_form(RecordForm::form_name(b.case_id, kind("finding"))).isEmpty());
    form.edit(b.session->book().record(id).value());
    CHECK(form.editor("text")->typed().isEmpty());
    form.save();
    CHECK_FALSE(b.session->book().record(id)->body.has("text"));
    CHECK(b.drafts().of_form(shown(to_text(id))).isEmpty());
}

TEST_CASE("What is needed and missing is named beside its field, and nothing is written") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("finding"));
    form.editor("severity")->set_typed("severe");
    form.save();
    CHECK(form.editor("term")->fault().contains("needed"));
    CHECK(form.editor("layer")->fault().contains("needed"));
    CHECK(says(form, "draw it on the picture first"));
    CHECK(b.snapshot().of_kind("finding").empty());
}

TEST_CASE("A closed gate says why before the act, leads to the sheet that opens it, and is passed by name and reason") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.set_own_sheet(usecases::Stage::trials);
    std::optional<usecases::Stage> led_to;
    QObject::connect(&form, &RecordForm::sheet_wanted, [&](usecases::Stage stage) { led_to = stage; });
    form.begin_new(b.case_id, kind("trial"));
    form.set_place(b.recto(), patch());
    REQUIRE_FALSE(form.gate().closing().empty());
    CHECK(says(form.gate(), "⊘"));
    QPushButton* go = button(form.gate(), "Go to: survey");
    REQUIRE(go != nullptr);
    CHECK(go->isVisibleTo(&form));
    go->click();
    CHECK(led_to == usecases::Stage::survey);

    for (const auto& [field, text] :
         {std::pair{"passage", "sky"}, std::pair{"layer", "varnish"}, std::pair{"agent", "isooctane 100"}})
        form.editor(field)->set_typed(text);
    form.save();
    CHECK(b.snapshot().of_kind("trial").empty());

    // The dialog asks for both.
    bool asked = false;
    QTimer::singleShot(0, [&] {
        auto* dialog = qobject_cast<OverrideDialog*>(QApplication::activeModalWidget());
        REQUIRE(dialog != nullptr);
        CHECK(dialog->name()->text() == "Ada Wren");
        CHECK(says(*dialog, "Not in the order of the work"));
        dialog->accept();
        CHECK(dialog->isVisible());
        CHECK(says(*dialog, "needs a name and a reason"));
        dialog->reason()->setPlainText("the owner wants to see it before Friday");
        asked = true;
        dialog->accept();
    });
    button(form.gate(), "Pass it by name and reason …")->click();
    CHECK(asked);
    const auto snapshot = b.snapshot();
    REQUIRE(snapshot.of_kind("trial").size() == 1);
    REQUIRE_FALSE(snapshot.of_kind("gate_override").empty());
    for (const casebook::Record* passed : snapshot.of_kind("gate_override")) {
        CHECK(passed->body.record("act") == snapshot.of_kind("trial").front()->id);
        CHECK(passed->body.text("reason") == "the owner wants to see it before Friday");
    }
}

TEST_CASE("A name that the casebook does not know becomes a person when the form is saved, not before") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("custody"));
    const auto people = b.session->book().people()->size();
    form.editor("holder")->set_typed("Ines Falk");
    CHECK(says(*form.editor("holder"), "New in this casebook"));
    form.editor("place")->set_typed("the workshop");
    form.editor("from")->set_typed("12 March 2026");
    CHECK(b.session->book().people()->size() == people);
    form.save();
    const auto snapshot = b.snapshot();
    const casebook::Body& written = snapshot.of_kind("custody").front()->body;
    CHECK(written.text("from") == "2026-03-12");
    CHECK(snapshot.find(*written.record("holder"))->body.text("name") == "Ines Falk");
}

TEST_CASE("While a client looks a form keeps what is typed in the fields it hides") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("trial"));
    form.editor("note")->set_typed("she must not read this");
    b.session->set_client_looks(true);
    CHECK_FALSE(form.editor("note")->isVisibleTo(&form));
    b.session->set_client_looks(false);
    CHECK(form.editor("note")->typed() == "she must not read this");
}

TEST_CASE("Outcomes that the program writes are shown, not edited") {
    FormBook b;
    const Uuid id = b.add("ceiling", FieldValues()
                                         .value("plan", nlohmann::json::object())
                                         .value("report", nlohmann::json::object())
                                         .money("limit", {100'000, Currency::parse("GBP").value()})
                                         .text("fixed_at", "2026-03-04T20:15:00Z"));
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.edit(b.session->book().record(id).value());
    CHECK_FALSE(form.editor("limit")->entry()->isEnabled());
    form.editor("limit")->set_typed("1 GBP");
    form.save();
    CHECK(b.session->book().record(id)->body.money("limit")->minor == 100'000);
}

TEST_CASE("A viewer's answers are tapped one by one, each with a remark; not seen is an answer too") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.resize(420, 600);
    form.show();
    form.begin_new(b.case_id, kind("viewing_note"));
    QTest::mouseClick(word(form, "answers/lined", "no"), Qt::LeftButton);
    QTest::mouseClick(word(form, "answers/ultraviolet", "not seen"), Qt::LeftButton);
    QPushButton* loose = word(form, "answers/loose-paint", "yes");
    REQUIRE(loose != nullptr);
    CHECK(loose->height() >= 44);
    QTest::mouseClick(loose, Qt::LeftButton);
    auto* remark = form.editor("answers/loose-paint")->findChild<QLineEdit*>();
    REQUIRE(remark != nullptr);
    REQUIRE(remark->isVisibleTo(&form));
    QTest::keyClicks(remark, "lower left: do not stand it there");
    form.save();
    REQUIRE(b.snapshot().of_kind("viewing_note").size() == 1);
    const casebook::Record note = *b.snapshot().of_kind("viewing_note").front();
    CHECK(note.body.keys("answers") == std::vector<std::string>{"lined", "loose-paint", "ultraviolet"});
    CHECK(note.body.text("answers/loose-paint/answer") == "yes");
    CHECK(note.body.text("answers/loose-paint/note") == "lower left: do not stand it there");
    CHECK(note.body.text("answers/ultraviolet/answer") == "not-seen");

    // One answer changed and one taken back leave the third, and a question of somebody's own, alone.
    casebook::Edit own;
    own.operation = casebook::Operation::patch;
    own.record = note.id;
    own.values.value("answers/who-asked", {{"answer", "yes"}});
    REQUIRE(b.session->book().commit(b.session->acting().author, {own}));
    form.edit(b.session->book().record(note.id).value());
    CHECK(form.editor("answers/loose-paint")->typed() == "yes: lower left: do not stand it there");
    QTest::mouseClick(word(form, "answers/lined", "yes"), Qt::LeftButton);
    QTest::mouseClick(word(form, "answers/ultraviolet", "not seen"), Qt::LeftButton);
    form.save();
    const casebook::Body after = b.session->book().record(note.id).value().body;
    CHECK(after.keys("answers") == std::vector<std::string>{"lined", "loose-paint", "who-asked"});
    CHECK(after.text("answers/lined/answer") == "yes");

    // A remark alone is no answer.
    form.begin_new(b.case_id, kind("viewing_note"));
    form.editor("answers/tear")->set_typed(": by the left edge");
    form.save();
    CHECK(form.editor("answers/tear")->fault().contains("yes, no or not seen"));
    CHECK(b.snapshot().of_kind("viewing_note").size() == 1);
}

TEST_CASE("A document's file is dropped on its form, kept by its digest and handed out again whole") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.show();
    const auto letter = b.folder / "letter from the saleroom.txt";
    REQUIRE(write_file_durably(letter, "The lot may be viewed from Monday."));
    form.begin_new(b.case_id, kind("document"));
    form.editor("title")->set_typed("Letter from the saleroom");
    QMimeData data;
    data.setUrls({QUrl::fromLocalFile(QString::fromStdString(letter.string()))});
    QDragEnterEvent enter(QPoint(5, 5), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QDropEvent drop(QPointF(5, 5), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
    QWidget* entry = form.editor("sha256")->entry();
    while (!entry->acceptDrops()) entry = entry->parentWidget();
    QApplication::sendEvent(entry, &enter);
    QApplication::sendEvent(entry, &drop);
    form.save();
    REQUIRE(b.snapshot().of_kind("document").size() == 1);
    const casebook::Record document = *b.snapshot().of_kind("document").front();
    const auto digest = document.body.text("sha256");
    REQUIRE(digest);
    CHECK(*digest == to_hex(sha256("The lot may be viewed from Monday.")));
    CHECK(read_file(b.session->book().original_path(*digest)).value() == "The lot may be viewed from Monday.");

    // A file that is gone is named, and nothing is recorded.
    form.begin_new(b.case_id, kind("document"));
    form.editor("title")->set_typed("Another");
    form.editor("sha256")->set_typed(QString::fromStdString((b.folder / "gone.pdf").string()));
    form.save();
    CHECK(form.editor("sha256")->fault().contains("gone.pdf"));
    CHECK(b.snapshot().of_kind("document").size() == 1);
}

TEST_CASE("What the picture is called and how large it is are put right in a form of their own") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.edit(b.snapshot().picture);
    REQUIRE(form.editor("title") != nullptr);
    CHECK(form.editor("title")->typed() == "River landscape");
    form.editor("title")->set_typed("River landscape with a ferry");
    form.editor("width_mm")->set_typed("81.5 cm");
    form.save();
    const casebook::Body after = b.snapshot().picture.body;
    CHECK(after.text("title") == "River landscape with a ferry");
    CHECK(after.number("width_mm") == Approx(815.0));
    CHECK(after.number("height_mm") == 610.0);
}

TEST_CASE(
    "Who types on with Tab gets from field to field: no blank presses a button, the figure comes before the currency") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.resize(420, 700);
    form.show();
    QApplication::setActiveWindow(&form);
    form.begin_new(b.case_id, kind("viewing_note"));
    form.editor("viewed_on")->entry()->setFocus();
    QTest::keyClicks(QApplication::focusWidget(), "4 march 2026");
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    QTest::keyClicks(QApplication::focusWidget(), "Tobit Crake");
    CHECK(form.editor("viewed_on")->typed() == "4 march 2026");
    CHECK(form.editor("viewer")->typed() == "Tobit Crake");

    form.begin_new(b.case_id, kind("cost_line"));
    form.editor("name")->entry()->setFocus();
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    for (const char* figure : {"100", "200", "300"}) {
        QTest::keyClicks(QApplication::focusWidget(), figure);
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    }
    CHECK(form.editor("estimate")->typed() == "100 – 200 – 300 GBP");
}

TEST_CASE("What is typed without a pause is kept all the same") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.show();
    form.begin_new(b.case_id, kind("finding"));
    auto* text = form.editor("text")->findChild<QPlainTextEdit*>();
    for (int i = 0; i < 12; ++i) {
        QTest::keyClicks(text, "flaking ");
        QTest::qWait(100);  // less than the pause that the form waits for
    }
    const Drafts as_found_after_a_crash = b.drafts();
    CHECK(as_found_after_a_crash.of_form(RecordForm::form_name(b.case_id, kind("finding"))).value("text").size() > 20);
}

TEST_CASE("Tab goes through a form as it is read, through what was unfolded, and on to saving") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.resize(420, 600);
    form.show();
    form.begin_new(b.case_id, kind("lot"));
    REQUIRE(QTest::qWaitForWindowActive(&form));
    const auto tab = [&] {
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        return QApplication::focusWidget();
    };
    const auto stands_in = [&](const QWidget* widget, const char* field) {
        return widget != nullptr && form.editor(field)->isAncestorOf(widget);
    };
    CHECK(stands_in(QApplication::focusWidget(), "saleroom"));
    CHECK(stands_in(tab(), "sale"));
    QPushButton* terms = nullptr;
    for (QPushButton* each : form.findChildren<QPushButton*>()) {
        if (each->text().contains(QStringLiteral("Terms of the sale"))) terms = each;
    }
    REQUIRE(terms != nullptr);
    terms->setFocus();
    terms->click();
    CHECK(stands_in(tab(), "terms/premium"));
    CHECK(stands_in(tab(), "terms/premium_includes_vat"));
    const QPushButton* save = button(form, "Save");
    REQUIRE(save != nullptr);
    int steps = 0;
    while (QApplication::focusWidget() != save && steps < 60) {
        tab();
        ++steps;
        CHECK(form.isAncestorOf(QApplication::focusWidget()));
    }
    CHECK(steps < 60);

    form.begin_new(b.case_id, kind("trial"));
    CHECK(stands_in(QApplication::focusWidget(), "passage"));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab, Qt::ShiftModifier);
    CHECK(QApplication::focusWidget() == button(form, "Draw the place on the picture"));
}
