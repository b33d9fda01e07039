// The rack reads the card of the picture that was changed, and stays what a whole reading would give.
#include <QSignalSpy>
#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "rack/rack_model.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

QStringList told(const RackModel& model) {
    QStringList all;
    for (int row = 0; row < model.rowCount(); ++row) {
        const RackCard& card = model.card(row);
        all << model.index(row).data(Qt::AccessibleTextRole).toString() + shown(card.card.next_deadline_on) +
                   shown(card.card.place);
    }
    return all;
}

}  // namespace

TEST_CASE("After an act one card is read again; order, undo and names are as if all had been read") {
    FormBook desk;
    for (const char* title : {"Still life with a jug", "A mill"})
        REQUIRE(usecases::open_case(desk.session->acting(), {title, "", std::nullopt}));
    SmallPictures pictures(*desk.session);
    RackModel model(*desk.session, pictures);
    const QSignalSpy resets(&model, &QAbstractItemModel::modelReset);
    const QSignalSpy cards(&model, &QAbstractItemModel::dataChanged);
    const auto as_read_anew = [&] { return told(RackModel(*desk.session, pictures)); };
    const auto act = [&](std::string_view kind, const FieldValues& values) {
        desk.session->did(usecases::add_record(desk.session->acting(), desk.case_id, kind, values).value(), "act");
        CHECK(told(model) == as_read_anew());
    };
    act("custody", FieldValues().text("place", "workshop").text("from", "2026-03-05"));
    CHECK(cards.count() == 1);
    CHECK(resets.count() == 0);
    act("deadline", FieldValues().text("what", "return window ends").text("on", "2026-03-26"));
    desk.session->undo();
    CHECK(told(model) == as_read_anew());
    desk.session->undo();
    CHECK(told(model) == as_read_anew());
    // A person belongs to no case: whoever is renamed may stand on any card, so all are read.
    const auto before = resets.count();
    const Uuid ada = desk.session->acting().author;
    desk.session->did(
        usecases::change_record(desk.session->acting(), ada, FieldValues().text("name", "Ada Wrenfield")).value(),
        "name");
    CHECK(resets.count() == before + 1);
    CHECK(told(model) == as_read_anew());
}

TEST_CASE("A card tells the day first and short, says what is overdue, and has the rest in its tip") {
    FormBook desk;  // in March 2026 (FixedClock)
    SmallPictures pictures(*desk.session);
    RackModel model(*desk.session, pictures);
    const auto add = [&](std::string_view kind, const FieldValues& values) {
        desk.session->did(usecases::add_record(desk.session->acting(), desk.case_id, kind, values).value(), "act");
    };
    const auto tip = [&] { return model.index(0).data(Qt::ToolTipRole).toString(); };
    CHECK(model.deadline_shown(0).isEmpty());
    CHECK(tip().contains(QStringLiteral("whereabouts not recorded")));
    add("custody", FieldValues()
                       .text("place", "the workshop")
                       .record("holder", desk.session->book().person_named("Ute Hain").value())
                       .text("from", "2026-03-01"));
    CHECK(tip().contains(QStringLiteral("the workshop · with Ute Hain · no insurer recorded")));
    const std::string today = to_text(desk.clock.now()).substr(0, 10);
    const std::string year = today.substr(0, 4);
    add("deadline", FieldValues().text("what", "return window ends").text("on", year + "-12-28"));
    CHECK(model.deadline_shown(0) == QStringLiteral("28 Dec: return window ends"));
    CHECK_FALSE(model.is_overdue(0));
    CHECK(tip().contains(QStringLiteral("28 Dec: return window ends")));
    add("deadline", FieldValues().text("what", "pay").text("on", "2025-12-03"));
    CHECK(model.deadline_shown(0) == QStringLiteral("△ overdue 3 Dec 2025: pay"));
    desk.session->set_client_looks(true);
    CHECK(model.deadline_shown(0).isEmpty());
    CHECK_FALSE(tip().contains(QStringLiteral("Ute Hain")));
    CHECK(tip().contains(QStringLiteral("the workshop")));
}
