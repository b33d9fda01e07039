// Names, firms and addresses: written down at the desk, personal, and for nobody outside.
#include "people/people_dialog.hpp"

#include <QLineEdit>
#include <QListWidget>
#include <QTest>
#include <catch2/catch.hpp>

#include "client_screen.hpp"
#include "desk_window.hpp"
#include "form_fixture.hpp"

using namespace tedge;
using namespace tedge::desk;

TEST_CASE("A person's firm and address are written at the desk, and taken back") {
    FormBook b;
    const Uuid ute = b.session->book().person_named("Ute Hain").value();
    Drafts drafts = b.drafts();
    PeopleDialog dialog(*b.session, drafts);
    dialog.show();
    REQUIRE(dialog.list().count() == 2);  // and whoever works here
    dialog.open_person(ute);
    RecordForm& form = dialog.form();
    for (const char* field : {"name", "role", "firm", "address", "telephone", "mail"})
        CHECK(form.editor(field) != nullptr);
    form.editor("firm")->set_typed(QStringLiteral("Hain & Daughter"));
    form.editor("address")->set_typed(QStringLiteral("3 Quay Row\nMorven"));
    form.save();
    const auto body = [&] { return b.session->book().record(ute)->body; };
    CHECK(body().text("firm") == "Hain & Daughter");
    CHECK(body().text("address") == "3 Quay Row\nMorven");
    CHECK(dialog.list().currentItem()->text() == QStringLiteral("Ute Hain · Hain & Daughter"));
    CHECK_FALSE(form.isVisible());
    b.session->undo();
    CHECK_FALSE(body().has("firm"));
}

TEST_CASE("Somebody new is written down without a case, and found by the firm") {
    FormBook b;
    Drafts drafts = b.drafts();
    PeopleDialog dialog(*b.session, drafts);
    dialog.begin_new();
    dialog.form().save();
    CHECK(dialog.form().editor("name")->fault().contains(QStringLiteral("needed")));
    dialog.form().editor("name")->set_typed(QStringLiteral("Otto Brandt"));
    dialog.form().editor("firm")->set_typed(QStringLiteral("Brandt Carriers"));
    dialog.form().save();
    CHECK(b.session->book().people()->size() == 2);
    dialog.findChild<QLineEdit*>()->setText(QStringLiteral("carriers"));
    int seen = 0;
    for (int row = 0; row < dialog.list().count(); ++row) seen += dialog.list().item(row)->isHidden() ? 0 : 1;
    CHECK(seen == 1);
}

TEST_CASE("Nothing that is known of a person may be given to a buyer or seen by a client") {
    for (const casebook::Field& field : kind("person").fields) {
        CAPTURE(field.name);
        for (const auto outside :
             {casebook::Reader::buyer, casebook::Reader::carrier, casebook::Reader::insurer, casebook::Reader::scholar})
            CHECK_FALSE(field.readers.contains(outside));
        CHECK((field.personal || field.name == "role"));
        CHECK(hidden_from_client(field));
    }
    FormBook b;
    DeskWindow window(std::move(b.session));
    window.show();
    QPushButton* people = button(window.rack(), QStringLiteral("People"));
    REQUIRE(people != nullptr);
    CHECK(people->isVisible());
    window.session().set_client_looks(true);
    CHECK_FALSE(people->isVisible());
}
