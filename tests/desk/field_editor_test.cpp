// One field of a form while somebody types.
#include "forms/field_editor.hpp"

#include <QLineEdit>
#include <QScrollArea>
#include <QTest>
#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "forms/entries/entry.hpp"

using namespace tedge;
using namespace tedge::desk;

TEST_CASE("What is said back while typing moves no other field") {
    FormBook b;
    Drafts drafts = b.drafts();
    const auto [name, field, typed] =
        GENERATE(table<const char*, const char*, const char*>({{"case", "width_mm", "32 1/4 in"},
                                                               {"case", "width_mm", "about so"},
                                                               {"case", "date_made", "1650~"},
                                                               {"purchase", "bought_on", "5 mar 2026"},
                                                               {"purchase", "seller", "Ute Hain"},
                                                               {"purchase", "hammer", "12000 GBP"},
                                                               {"cost_line", "estimate", "300 – 400 – 900 GBP"}}));
    CAPTURE(name, field, typed);
    RecordForm form(*b.session, drafts);
    form.resize(GENERATE(300, 420), 700);
    form.show();
    form.begin_new(b.case_id, kind(name));
    QCoreApplication::processEvents();
    QWidget& body = *form.editor(field)->parentWidget();
    QList<int> before;
    const auto places = [&] {
        QCoreApplication::processEvents();
        QList<int> tops;
        for (const FieldEditor* each : body.findChildren<FieldEditor*>()) tops << each->y();
        return tops;
    };
    before = places();
    REQUIRE(before.size() > 3);
    form.editor(field)->set_typed(QString::fromUtf8(typed));
    CHECK((says(*form.editor(field), QStringLiteral("= ")) || says(*form.editor(field), QStringLiteral("⊘ ")) ||
           says(*form.editor(field), QStringLiteral("New "))));
    CHECK(places() == before);
}

TEST_CASE("No form is wider than the narrowest sheet") {
    FormBook b;
    Drafts drafts = b.drafts();
    for (const casebook::Kind* each : casebook::all_kinds()) {
        if (each->book_wide) continue;
        CAPTURE(each->name);
        RecordForm form(*b.session, drafts);
        form.resize(290, 700);  // CaseSheets is never narrower
        form.show();
        form.begin_new(b.case_id, *each);
        QCoreApplication::processEvents();
        const auto* area = form.findChild<QScrollArea*>();
        CHECK(area->widget()->width() <= area->viewport()->width());
    }
}

TEST_CASE("Today is offered where a day is past or present, never where it is set ahead") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    const auto [name, field, is_offered] =
        GENERATE(table<const char*, const char*, bool>({{"document", "destroy_after", false},
                                                        {"deadline", "on", false},
                                                        {"deadline", "done_on", true},
                                                        {"purchase", "return_window_ends", false},
                                                        {"purchase", "paid_on", true},
                                                        {"custody", "from", true}}));
    CAPTURE(name, field);
    form.begin_new(b.case_id, kind(name));
    CHECK((button(*form.editor(field), "today") != nullptr) == is_offered);
}

TEST_CASE("An example of a measure is as large as what is measured") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("picture_frame"));
    const auto example = [&](std::string_view field) {
        return qobject_cast<QLineEdit*>(form.editor(field)->entry())->placeholderText();
    };
    CHECK(example("sight_width_mm").startsWith("812"));
    CHECK(example("rebate_depth_mm") == "12, 1.2 cm, 1/2 in");
    // What is shown as an example can be typed.
    form.editor("rebate_depth_mm")->set_typed("1/2 in");
    CHECK(form.editor("rebate_depth_mm")->fault().isEmpty());
}
