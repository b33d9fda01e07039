#include "tedge/usecases/provenance.hpp"

#include <catch2/catch.hpp>

#include "tedge/dossier/recorded_chain.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using casebook::FieldValues;

TEST_CASE("Owners are a chain in their own order, whatever order they were written in") {
    UsecaseBook b;
    b.add("provenance_link", FieldValues()
                                 .number("order", 2)
                                 .text("owner", "Pellow & Siddick")
                                 .text("role", "dealer")
                                 .text("from", "1926")
                                 .text("to", "1926")
                                 .text("source", "stock book, no. 412"));
    b.add("provenance_link", FieldValues()
                                 .number("order", 1)
                                 .text("owner", "A. Brindlemere")
                                 .text("life", "1810/1871")
                                 .text("from", "1847~")
                                 .text("to", "1871")
                                 .text("direct_to_next", "no"));
    b.add("provenance_link", FieldValues()
                                 .number("order", 3)
                                 .text("owner", "private collection")
                                 .text("from", "1951~")
                                 .text("to", "about the war")
                                 .text("doubt", "probably")
                                 .text("private_note", "Mrs Y"));
    const usecases::RecordedProvenance recorded = usecases::recorded_provenance(b.snapshot());
    REQUIRE(recorded.chain.size() == 3);
    CHECK(recorded.chain[0].owner == "A. Brindlemere");
    CHECK(recorded.chain[0].died.has_value());
    CHECK(recorded.chain[0].direct_to_next == provenance::DirectTransfer::no);
    CHECK(recorded.chain[1].kind == provenance::LinkKind::dealer);
    CHECK(recorded.chain[1].notes.front().text == "stock book, no. 412");
    CHECK(recorded.chain[2].doubt == provenance::Doubt::probably);
    // What is no date is not lost: it stands in words.
    CHECK_FALSE(recorded.chain[2].to.has_value());
    CHECK(recorded.chain[2].details == "about the war");
    // 1871 to 1926 nobody is named: a definite gap by the dates.
    const auto is_gap = [](const provenance::ChainFinding& f) {
        return f.kind == provenance::FindingKind::definite_gap && f.links == std::vector<std::size_t>{0, 1};
    };
    CHECK(std::ranges::any_of(recorded.findings, is_gap));
}

TEST_CASE("Desk and dossier print the same chain where the reader may have all of it") {
    UsecaseBook b;
    b.add("provenance_link", FieldValues().number("order", 1).text("owner", "Jan Visser").text("from", "1650~"));
    b.add("provenance_link", FieldValues().number("order", 2).text("owner", "M. Oort").text("from", "1701"));
    const auto snapshot = b.snapshot();
    const auto scholar = dossier::recorded_chain(dossier::Extract::of(snapshot, casebook::Reader::scholar));
    CHECK(provenance::statement(usecases::recorded_provenance(snapshot).chain).text() ==
          provenance::statement(scholar).text());
}
