// What two people wrote differently, from the rack and the head of the case to the decision.
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QRadioButton>
#include <QTest>
#include <QTimer>
#include <catch2/catch.hpp>

#include "desk_window.hpp"
#include "form_fixture.hpp"
#include "forms/entries/entry.hpp"
#include "forms/field_editor.hpp"
#include "kept_file.hpp"
#include "settling/contested_choice.hpp"
#include "settling/settling_dialog.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

struct ContestedDesk : FormBook {
    Uuid finding = add("finding", FieldValues()
                                      .text("term", "flaking")
                                      .text("severity", "slight")
                                      .record("face_frame", recto())
                                      .text("layer", "paint")
                                      .region("region", Region::rectangle({10, 10}, {40, 30}).value())
                                      .text("text", "lifting edges"));

    // Another program writes while a form stood open here.
    void write_apart(const FieldValues& before, const FieldValues& after) { write_apart(finding, before, after); }
    void write_apart(const Uuid& record, const FieldValues& before, const FieldValues& after) {
        const auto seen = session->book().record(record)->newest_changes;
        clock.advance(std::chrono::seconds(2));
        auto other = casebook::Casebook::open(folder / "book", {&clock, &ids}).value();
        const Uuid ute = other.person_named("Ute Hain").value();
        REQUIRE(usecases::change_record({other, ute, clock}, record, before, "under the lens"));
        clock.advance(std::chrono::seconds(2));
        REQUIRE(usecases::change_record(session->acting(), record, after, {}, seen));
    }
    std::size_t open_conflicts() { return session->book().conflicts()->size(); }
    casebook::Body body() { return session->book().record(finding)->body; }
};

}  // namespace

TEST_CASE("On a small screen the dialog of settling stays inside the window") {
    ContestedDesk desk;
    desk.write_apart(FieldValues().text("severity", "severe"), FieldValues().text("severity", "moderate"));
    QWidget window;
    window.resize(900, 600);
    const SettlingDialog dialog(*desk.session, desk.snapshot(), &window);
    CHECK(dialog.height() <= 550);
    CHECK(dialog.width() <= 850);
}

TEST_CASE("Both sides are told in words, with who, when, why and what each makes of the record") {
    ContestedDesk desk;
    desk.write_apart(FieldValues().text("severity", "severe"), FieldValues().text("severity", "moderate"));
    SettlingDialog dialog(*desk.session, desk.snapshot());
    REQUIRE(dialog.boxes().size() == 1);
    for (const char* said : {"severe", "moderate", "Why: under the lens", "It then reads: "}) {
        CAPTURE(said);
        CHECK(says(dialog, QString::fromLatin1(said)));
    }
    const auto choices = dialog.boxes().front()->contested().front()->choices();
    REQUIRE(choices.size() == 3);  // one, the other, neither
    CHECK(choices[0]->text().startsWith(QStringLiteral("Ute Hain, ")));
    CHECK(choices[1]->text().startsWith(QStringLiteral("Ada Wren, ")));
    CHECK(choices[1]->text().endsWith(QStringLiteral("(shows now)")));
    CHECK(choices[0]->text().contains(QStringLiteral("2026")));
    CHECK_FALSE(choices[0]->isChecked());  // nobody is led to one of them
}

TEST_CASE("One is chosen with the reason by the keyboard alone, and taken back by undo") {
    ContestedDesk desk;
    desk.write_apart(FieldValues().text("severity", "severe"), FieldValues().text("severity", "moderate"));
    SettlingDialog dialog(*desk.session, desk.snapshot());
    dialog.show();
    REQUIRE(QTest::qWaitForWindowActive(&dialog));
    SettlingBox& box = *dialog.boxes().front();
    QWidget* first = box.contested().front()->choices().front();
    CHECK(dialog.focusWidget() == first);
    QTest::keyClick(first, Qt::Key_Space);
    box.settle();
    CHECK(box.fault().contains(QStringLiteral("why")));  // a decision without a reason is none
    CHECK(desk.open_conflicts() == 1);
    // Past the other choices to the reason: no mouse is needed.
    for (int i = 0; i < 6 && dialog.focusWidget() != box.why(); ++i) QTest::keyClick(dialog.focusWidget(), Qt::Key_Tab);
    REQUIRE(dialog.focusWidget() == box.why());
    QTest::keyClicks(box.why(), "looked at it together");
    QTest::keyClick(box.why(), Qt::Key_Tab);
    QTest::keyClick(dialog.focusWidget(), Qt::Key_Space);
    CHECK(box.is_settled());
    CHECK(desk.open_conflicts() == 0);
    CHECK(desk.body().text("severity") == "severe");
    desk.session->undo();
    CHECK(desk.body().text("severity") == "moderate");
    CHECK(desk.open_conflicts() == 0);
}

TEST_CASE("A third value is written where neither is right") {
    ContestedDesk desk;
    desk.write_apart(FieldValues().text("text", "cupping"), FieldValues().text("text", "tenting"));
    SettlingDialog dialog(*desk.session, desk.snapshot());
    SettlingBox& box = *dialog.boxes().front();
    ContestedChoice& choice = *box.contested().front();
    box.why()->setPlainText(QStringLiteral("both, in places"));
    box.settle();
    CHECK(desk.open_conflicts() == 1);  // nothing chosen yet
    choice.choices().back()->click();
    box.settle();
    CHECK(desk.open_conflicts() == 1);  // nothing written yet
    choice.another()->set_typed(QStringLiteral("cupping and tenting"));
    box.settle();
    CHECK(desk.open_conflicts() == 0);
    CHECK(desk.body().text("text") == "cupping and tenting");
}

TEST_CASE("Head and rack say that a case is told differently, until it is settled; a client is told nothing") {
    ContestedDesk desk;
    desk.write_apart(FieldValues().text("severity", "severe"), FieldValues().text("severity", "moderate"));
    DeskWindow window(std::move(desk.session));
    window.resize(1280, 860);
    window.show();
    window.open_case(desk.case_id);
    REQUIRE(QTest::qWaitForWindowActive(&window));
    QPushButton& told = window.case_view().head().contested();
    CHECK(told.isVisible());
    CHECK(told.text() == QStringLiteral("△ 1 told differently"));
    auto& list = *window.rack().findChild<QAbstractItemView*>();
    const auto card = [&] { return list.model()->index(0, 0).data(Qt::AccessibleTextRole).toString(); };
    CHECK(card().endsWith(QStringLiteral("1 record told differently")));
    window.session().set_client_looks(true);
    CHECK_FALSE(told.isVisible());
    window.session().set_client_looks(false);
    bool was_there = false;
    QTimer::singleShot(0, &window, [&] {
        auto* dialog = qobject_cast<SettlingDialog*>(QApplication::activeModalWidget());
        REQUIRE(dialog != nullptr);
        was_there = true;
        SettlingBox& box = *dialog->boxes().front();
        box.contested().front()->choices().front()->click();
        box.why()->setPlainText(QStringLiteral("agreed"));
        box.settle();
        dialog->reject();
    });
    QTest::keyClick(&window, Qt::Key_F8);
    CHECK(was_there);
    CHECK_FALSE(told.isVisible());
    CHECK_FALSE(card().contains(QStringLiteral("differently")));
}

TEST_CASE("Of two files one is chosen; another is chosen in the document's own form, which keeps it") {
    ContestedDesk desk;
    const Uuid letter = desk.add(
        "document", FieldValues().text("title", "Letter").text("sha256", kept_file(desk.session->book(), "a")));
    desk.write_apart(letter, FieldValues().text("sha256", kept_file(desk.session->book(), "b")),
                     FieldValues().text("sha256", kept_file(desk.session->book(), "c")));
    SettlingDialog dialog(*desk.session, desk.snapshot());
    REQUIRE(dialog.boxes().size() == 1);
    const ContestedChoice& choice = *dialog.boxes().front()->contested().front();
    CHECK(choice.choices().size() == 2);
    CHECK(choice.another() == nullptr);
}

TEST_CASE("A name typed beside a choice is nobody's while one of the sides is chosen") {
    ContestedDesk desk;
    const Uuid bea = desk.session->book().person_named("Bea Orr").value();
    const Uuid cyr = desk.session->book().person_named("Cyr Amble").value();
    const Uuid cost = desk.add("cost_line", FieldValues().text("name", "carrier"));
    desk.write_apart(cost, FieldValues().record("payee", bea), FieldValues().record("payee", cyr));
    SettlingDialog dialog(*desk.session, desk.snapshot());
    REQUIRE(dialog.boxes().size() == 1);
    SettlingBox& box = *dialog.boxes().front();
    ContestedChoice& choice = *box.contested().front();
    choice.another()->set_typed(QStringLiteral("Dov Lund"));
    box.why()->setPlainText(QStringLiteral("by the invoice"));
    const auto people = [&] { return desk.snapshot().people.size(); };
    const std::size_t before = people();
    SECTION("a side") {
        choice.choices().front()->click();
        box.settle();
        CHECK(desk.session->book().record(cost)->body.record("payee") == bea);
        CHECK(people() == before);
    }
    SECTION("the name") {
        choice.choices().back()->click();
        box.settle();
        const auto payee = desk.session->book().record(cost)->body.record("payee");
        REQUIRE(payee);
        CHECK(desk.session->book().record(*payee)->body.text("name") == "Dov Lund");
    }
    CHECK(desk.open_conflicts() == 0);
}
