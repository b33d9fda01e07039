// Figures by own arithmetic: limit 8,500 (all-in 11,050, profit 4,458.33) by the certain plan; the last dozen bids by
// the published table of tests/reference/bid_increments.csv.
#include "tedge/usecases/bid_cards.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "pdf_text.hpp"
#include "sold_lot.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
using casebook::FieldValues;
using dossier::CardFact;
using dossier::CardTable;

namespace {

template <class Part>
const Part& only_part(const dossier::CardSide& side) {
    const Part* found = nullptr;
    for (const auto& part : side.parts)
        if (const auto* one = std::get_if<Part>(&part)) found = one;
    REQUIRE(found != nullptr);
    return *found;
}

std::string words_on(const dossier::Card& card) {
    std::string words = card.title;
    for (const auto& side : card.sides)
        for (const auto& part : side.parts) {
            if (const auto* fact = std::get_if<CardFact>(&part)) words += "\n" + fact->label + ": " + fact->value;
            if (const auto* note = std::get_if<dossier::CardNote>(&part)) words += "\n" + note->text;
            if (const auto* table = std::get_if<CardTable>(&part))
                for (const auto& row : table->rows)
                    for (const auto& cell : row) words += "\n" + cell;
        }
    return words;
}

}  // namespace

TEST_CASE("the pocket card names lot, limit, a dozen bids, all-in and the hour there, and nothing that tells",
          "[cards]") {
    SoldLot s;
    const auto cards = must(usecases::bid_cards(s.snapshot()));
    const auto& side = cards.pocket.sides.at(0);
    CHECK(only_part<CardTable>(side).rows == std::vector<std::vector<std::string>>{{"4,000", "4,200", "4,500"},
                                                                                   {"4,800", "5,000", "5,500"},
                                                                                   {"6,000", "6,500", "7,000"},
                                                                                   {"7,500", "8,000", "8,500"}});
    const std::string words = words_on(cards.pocket);
    for (const char* wanted : {"Lot: 212", "Limit: GBP 8,500", "All-in at the limit: GBP 11,050",
                               "Quay Rooms, Old Pictures", "5 March 2026, 14:30\nEurope/London (GMT)"})
        CHECK(words.find(wanted) != std::string::npos);
    // As drawn: neither profit nor chance, target, plan, title of the picture or name.
    const auto files = must(
        usecases::write_bid_cards(s.book, s.case_id, s.folder / "cards", dossier::CardGround::light, s.clock.now()));
    REQUIRE(files.pdfs.size() == 2);
    CHECK(files.pngs.size() == 3);
    const std::string drawn = must(dossier::text_in_pdf(must(read_file(files.pdfs[0]))));
    CHECK(drawn.find("11,050") != std::string::npos);
    for (const char* secret : {"4,458", "4458", "rofit", "loss", "chance", "%", "20,000", "3,000", "master", "cleaning",
                               "River", "Ada", "Wren", "seen twice", "target"})
        CHECK(drawn.find(secret) == std::string::npos);
    CHECK(usecases::write_bid_cards(s.book, s.case_id, s.folder / "cards", dossier::CardGround::light, s.clock.now())
              .error()
              .code == "cards.exists");
    CHECK(must(usecases::write_bid_cards(s.book, s.case_id, s.folder / "cards", dossier::CardGround::light,
                                         s.clock.now(), {}, usecases::OldCards::are_replaced))
              .pdfs.size() == 2);
    CHECK(
        must(usecases::write_bid_cards(s.book, s.case_id, s.folder / "cards", dossier::CardGround::dark, s.clock.now()))
            .pdfs[0]
            .filename() == "pocket-card-dark.pdf");
}

TEST_CASE("the desk card shows profit and chance of loss at each bid, what was assumed, who fixed it", "[cards]") {
    SoldLot s;
    const auto cards = must(usecases::bid_cards(s.snapshot()));
    REQUIRE(cards.desk.sides.size() == 2);
    const auto& table = only_part<CardTable>(cards.desk.sides[0]);
    REQUIRE(table.rows.size() == 11);
    REQUIRE(table.marked_row == 6);
    CHECK(table.rows[6] == std::vector<std::string>{"8,500", "11,050", "4,458.33", "0.0 %"});
    CHECK(table.rows[7][0] == "9,000");
    // S − 1.2 C: sold at 20,000 with costs of 3,000 it pays up to 16,400 in all, which is 12,615.38 by the hammer.
    CHECK(table.rows[10][0] == "11,000");
    const std::string words = words_on(cards.desk);
    for (const char* wanted :
         {"by the master: 100.0 %, 20,000", "cleaning: 3,000", "profit 4,000; cash 16,000", "the target that binds",
          "Ada Wren, 3 March 2026", "seen twice", "River landscape, lot 212", "Nothing was learnt since it was fixed."})
        CHECK(words.find(wanted) != std::string::npos);
}

TEST_CASE("a limit that does not know what was learnt since says so on the desk card", "[cards]") {
    SoldLot s;
    s.add("viewing_note", FieldValues().text("text", "skinned in the face"));
    const std::string words = words_on(must(usecases::bid_cards(s.snapshot())).desk);
    CHECK(words.find("Out of date: A viewing note was written after the limit was fixed.") != std::string::npos);
    CHECK(
        must(usecases::write_bid_cards(s.book, s.case_id, s.folder / "cards", dossier::CardGround::dark, s.clock.now()))
            .out_of_date);
}

TEST_CASE("without limit or lot there are no cards", "[cards]") {
    BoughtPicture b;
    CHECK(usecases::bid_cards(b.snapshot()).error().code == "cards.no-limit");
    b.fixed();
    CHECK(usecases::bid_cards(b.snapshot()).error().code == "cards.no-lot");
}
