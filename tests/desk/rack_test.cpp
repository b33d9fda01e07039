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
