#include <catch2/catch.hpp>

#include "tedge/provenance/ownership_chain.hpp"

using namespace tedge::provenance;

namespace {

Edtf date(const char* text) {
    return parse_edtf(text).value();
}

// Invented people and firms.
OwnershipChain invented_chain() {
    ChainLink first;
    first.owner = "Joris Aalders";
    first.place = "Haarlem";
    first.born = date("1610");
    first.died = date("1672");
    first.from = date("/1650");
    first.to = date("1672");
    first.direct_to_next = DirectTransfer::yes;
    first.notes = {{"Listed in the inventory of 1650", "town archive, no. 12"}};
    ChainLink second;
    second.owner = "Maria Aalders";
    second.transfer = "by descent to his daughter";
    second.direct_to_next = DirectTransfer::no;
    ChainLink sale;
    sale.owner = "Veilinghuis De Waag";
    sale.kind = LinkKind::saleroom;
    sale.place = "Amsterdam";
    sale.from = date("1810-05-12");
    sale.details = "lot 45";
    sale.direct_to_next = DirectTransfer::yes;
    ChainLink last;
    last.owner = "Brandt & Zoon";
    last.kind = LinkKind::dealer;
    last.transfer = "bought by";
    last.doubt = Doubt::probably;
    last.notes = {{"Name in the margin of the catalogue", ""}, {"", "ledger, fol. 3"}};
    return {first, second, sale, last};
}

}  // namespace

TEST_CASE("A statement follows the printed conventions") {
    const Statement result = statement(invented_chain());
    CHECK(result.chain ==
          "Joris Aalders [1610–1672], Haarlem, by 1650 until 1672; [1] by descent to his daughter Maria Aalders. "
          "(Veilinghuis De Waag, Amsterdam, 12 May 1810, lot 45); probably bought by (Brandt & Zoon). [2] [3]");
    CHECK(result.notes == std::vector<std::string>{"[1] Listed in the inventory of 1650 (town archive, no. 12)",
                                                   "[2] Name in the margin of the catalogue", "[3] ledger, fol. 3"});
    CHECK(result.text().ends_with(
        "\n\n[1] Listed in the inventory of 1650 (town archive, no. 12)\n[2] Name in the margin of "
        "the catalogue\n[3] ledger, fol. 3"));
}

TEST_CASE("A semicolon stands only where the transfer is known to be direct") {
    OwnershipChain chain = invented_chain();
    for (const DirectTransfer direct : {DirectTransfer::no, DirectTransfer::unknown}) {
        chain[0].direct_to_next = direct;
        CHECK(statement(chain).chain.find("until 1672. [1] By descent") != std::string::npos);
    }
}

TEST_CASE("Joint owners stand in one sentence; doubt begins a sentence with a capital") {
    ChainLink one;
    one.owner = "Aalders";
    one.doubt = Doubt::possibly;
    ChainLink other;
    other.owner = "Brandt";
    other.joint_with_previous = true;
    CHECK(statement({one, other}).chain == "Possibly Aalders, jointly with Brandt.");
    CHECK(statement({}).text().empty());
}
