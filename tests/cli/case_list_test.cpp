// The list of all cases, read at once, says of each what the case read by itself says.
#include <catch2/catch.hpp>

#include "fixed_sources.hpp"
#include "kept_file.hpp"
#include "tedge/usecases/cases.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using casebook::Edit;
using casebook::FieldValues;

namespace {

std::string described(const usecases::CaseCard& card) {
    std::string text = to_text(card.id) + "|" + card.title + "|" + card.artist + "|" + card.place + "|" + card.holder +
                       "|" + card.insured_by + "|" + card.next_deadline_on + "|" + card.next_deadline_what + "|" +
                       (card.picture ? to_text(*card.picture) : "") + "|" + std::string(to_text(card.stages.now)) + "|";
    for (const bool done : card.stages.done) text += done ? '1' : '0';
    return text;
}

// A house in which each kind of record decides over the card of one case.
struct House {
    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids;
    casebook::Casebook book = casebook::Casebook::create(folder / "book", {&clock, &ids}).value();
    Uuid author = book.person_named("Ada Wren").value();

    Uuid commit(const Uuid& case_id, std::string_view kind, const FieldValues& values) {
        clock.advance(std::chrono::milliseconds(5));
        Edit edit;
        edit.case_id = case_id;
        edit.kind = kind;
        edit.values = values;
        const auto made = book.commit(author, {edit});
        INFO(kind << ": " << (made ? "" : made.error().message));
        REQUIRE(made.has_value());
        return made->front();
    }
    Uuid add_case_with(std::string_view kind, const FieldValues& values) {
        const Uuid id = commit(Uuid{}, "case", FieldValues().text("title", std::string("with ") + std::string(kind)));
        commit(id, kind, values);
        return id;
    }
};

FieldValues photograph(House& house, std::string_view face, std::string_view light, std::string_view stage) {
    return FieldValues()
        .text("face", face)
        .text("light", light)
        .text("stage", stage)
        .text("sha256", kept_file(house.book));
}

void fill(House& house) {
    house.add_case_with("lot", FieldValues().text("saleroom", "Harrow and Pike"));
    const Uuid moved =
        house.add_case_with("custody", FieldValues().text("place", "the van").text("from", "2026-03-01"));
    house.commit(moved, "custody",
                 FieldValues().text("place", "the bench").text("from", "2026-03-03").record("holder", house.author));
    house.add_case_with("survey", FieldValues().text("face", "recto").text("surveyed_on", "2026-03-03"));
    const Uuid pictured = house.add_case_with("photograph", photograph(house, "recto", "normal", "saleroom"));
    house.commit(pictured, "photograph", photograph(house, "verso", "raking", "as-received"));
    house.add_case_with("treatment_step", FieldValues().text("act", "filling").flag("planned", true));
    house.add_case_with("picture_frame", FieldValues().text("description", "gilt, carved"));
    house.add_case_with("provenance_link", FieldValues().number("order", 1).text("owner", "the painter's heirs"));
    house.add_case_with("attribution_claim", FieldValues().text("qualifier", "circle of").text("artist", "a master"));
    house.add_case_with("document", FieldValues().text("title", "For a buyer").text("sort", "dossier"));
    const Uuid due = house.add_case_with("deadline", FieldValues().text("what", "varnish").text("on", "2026-06-01"));
    house.commit(due, "deadline", FieldValues().text("what", "sooner").text("on", "2026-05-01"));
}

}  // namespace

TEST_CASE("Every card of the list is the card of its case") {
    House house;
    fill(house);
    const auto cards = usecases::cards(house.book);
    REQUIRE(cards.has_value());
    const auto cases = house.book.cases().value();
    REQUIRE(cards->size() == cases.size());
    for (std::size_t i = 0; i < cases.size(); ++i) {
        CHECK(described((*cards)[i]) == described(usecases::card_of(house.book.snapshot(cases[i].id).value())));
    }
}
