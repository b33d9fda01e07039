#include <catch2/catch.hpp>

#include "tedge/provenance/ownership_chain.hpp"

using namespace tedge::provenance;

TEST_CASE("A chain is read from JSON with every field") {
    const auto chain = read_chain(R"({"title": "ignored here", "links": [
        {"owner": "Joris Aalders", "kind": "dealer", "transfer": "sold to", "place": "Haarlem", "details": "no. 5",
         "from": "1650~", "to": "1672", "born": "1610", "died": "", "direct_to_next": "no", "doubt": "possibly",
         "estate": true, "notes": [{"text": "Inventory", "source": "archive"}, "hearsay"]},
        {"owner": "Brandt", "direct_to_next": true, "joint_with_previous": true, "from": null}]})");
    REQUIRE(chain.has_value());
    REQUIRE(chain->size() == 2);
    const ChainLink& first = chain->front();
    CHECK(first.owner == "Joris Aalders");
    CHECK(first.kind == LinkKind::dealer);
    CHECK(first.transfer == "sold to");
    CHECK(first.place == "Haarlem");
    CHECK(first.details == "no. 5");
    CHECK(first.from.value().approximate);
    CHECK(first.to.value().text == "1672");
    CHECK(first.born.has_value());
    CHECK_FALSE(first.died.has_value());
    CHECK(first.direct_to_next == DirectTransfer::no);
    CHECK(first.doubt == Doubt::possibly);
    CHECK(first.estate);
    REQUIRE(first.notes.size() == 2);
    CHECK(first.notes[0].source == "archive");
    CHECK(first.notes[1].text == "hearsay");
    CHECK(chain->back().direct_to_next == DirectTransfer::yes);
    CHECK(chain->back().joint_with_previous);
    CHECK_FALSE(chain->back().from.has_value());
}

TEST_CASE("What is wrong in the file is said with its place") {
    const auto code = [](const char* text) { return read_chain(text).error().code; };
    CHECK(code("{") == "provenance.not-json");
    CHECK(code("") == "provenance.not-json");
    CHECK(code("[]") == "provenance.no-links");
    CHECK(code(R"({"links": 3})") == "provenance.no-links");
    CHECK(code(R"({"links": [3]})") == "provenance.wrong-type");
    CHECK(code(R"({"links": [{}]})") == "provenance.no-owner");
    CHECK(code(R"({"links": [{"owner": 3}]})") == "provenance.wrong-type");
    CHECK(code(R"({"links": [{"owner": "A", "form": "1907"}]})") == "provenance.unknown-field");
    CHECK(code(R"({"links": [{"owner": "A", "kind": "thief"}]})") == "provenance.unknown-word");
    CHECK(code(R"({"links": [{"owner": "A", "estate": "yes"}]})") == "provenance.wrong-type");
    CHECK(code(R"({"links": [{"owner": "A", "notes": "one"}]})") == "provenance.wrong-type");
    CHECK(code(R"({"links": [{"owner": "A", "notes": [{"text": 1}]}]})") == "provenance.wrong-type");
    const auto bad_date = read_chain(R"({"links": [{"owner": "A"}, {"owner": "B", "from": "about 1907"}]})");
    CHECK(bad_date.error().code == "edtf.not-edtf");
    CHECK(bad_date.error().values.at("link") == "2");
    CHECK(bad_date.error().values.at("field") == "from");
}
