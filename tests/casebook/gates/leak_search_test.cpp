// The rule of leak_search.hpp, case by case. Names and sums are invented; that a bare number may be a year or a width
// is common sense of the trade.
#include "tedge/casebook/leak_search.hpp"

#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;
using nlohmann::json;

namespace {

using Fields = std::vector<std::string>;

Fields found(const CaseSnapshot& snapshot, const std::string& text, Reader reader = Reader::buyer) {
    Fields fields;
    for (const Leak& leak : find_leaks(snapshot, reader, {{"text", text}}))
        fields.push_back(leak.kind + "." + leak.field);
    return fields;
}

// One record of one kind with one field.
CaseSnapshot holding(const char* kind, const char* field, json value) {
    CaseSnapshot snapshot;
    snapshot.picture.kind = "case";
    Record record;
    record.kind = kind;
    record.body = Body(json{{field, std::move(value)}});
    (record.kind == "person" ? snapshot.people : snapshot.records).push_back(record);
    return snapshot;
}

bool leaks(const CaseSnapshot& snapshot, const std::string& text) {
    return !found(snapshot, text).empty();
}

json pounds(std::int64_t minor) {
    return {{"minor", minor}, {"currency", "GBP"}};
}

}  // namespace

TEST_CASE("A whole name is found in every spelling of its letters, and no other name") {
    const auto person = holding("person", "name", "Jürgen Ødegård");
    for (const char* text : {"by Jürgen Ødegård.", "JÜRGEN ØDEGÅRD", "“Jürgen\n\tØdegård”", "Jürgen\u00a0Ødegård’s",
                             R"({"by":"Jürgen Ødegård"})", R"(said \"Jürgen Ødegård\")", "Jürgen Ødegård"}) {
        CAPTURE(text);
        CHECK(leaks(person, text));
    }
    for (const char* text : {"Jürgen Ødegårdsen", "Jürgen", "Ødegård", "Hansjürgen Ødegård"}) {
        CAPTURE(text);
        CHECK_FALSE(leaks(person, text));
    }
    CHECK(leaks(holding("person", "name", "Ольга Рябова"), "ОЛЬГА РЯБОВА"));
    CHECK(leaks(holding("person", "name", "Νίκος Βλάχος"), "του Νίκος Βλάχος,"));
}

TEST_CASE("A name of one word is a name as it is written or in capitals: a marsh is a landscape") {
    const auto person = holding("person", "name", "Marsh");
    CHECK(leaks(person, "cleaned by Marsh in 2024"));
    CHECK(leaks(person, "CLEANED BY MARSH"));
    CHECK_FALSE(leaks(person, "a marsh at evening"));
    CHECK_FALSE(leaks(person, "Marshes"));
    CHECK_FALSE(leaks(holding("person", "name", "Li"), "Li"));  // two letters stand anywhere
    CHECK(leaks(holding("person", "telephone", "0555 012345"), "ring 0555 012345"));
    CHECK(leaks(holding("person", "mail", "ute@hain.example"), "to: UTE@hain.example"));
}

TEST_CASE("A sum is found however it is written") {
    const auto asking = holding("case", "asking_price", pounds(1'850'000));
    for (const char* text :
         {"18,500", "18 500", "18.500", "18500", "18,500.00", "18500.00", "18.500,00", "GBP 18,500", "£18,500",
          "£ 18500", "18 500 GBP", "18500gbp", "18'500", "18\u202f500", R"({"minor":1850000})",
          R"({"minor": 1850000, "currency": "GBP"})", R"(x,"{""minor"":1850000}",y)"}) {
        CAPTURE(text);
        CHECK(leaks(asking, text));
    }
    for (const char* text : {"118,500", "18,500,000", "18,500.50", "£18,500.50", "1185000", "18501", "no. 18-500",
                             R"({"minor":18500001})", R"({"width":1850000})"}) {
        CAPTURE(text);
        CHECK_FALSE(leaks(asking, text));
    }
}

TEST_CASE("A bare number that may be a year, a width or a time is no sum") {
    const auto hammer = holding("purchase", "hammer", pounds(164'000));
    for (const char* text : {"1,640", "£1640", "1640.00", "GBP 1 640", "€1.640"}) {
        CAPTURE(text);
        CHECK(leaks(hammer, text));
    }
    for (const char* text : {"about 1640", "1.640 m", "1 640 × 812 mm", "1640s", "1640/41"}) {
        CAPTURE(text);
        CHECK_FALSE(leaks(hammer, text));
    }
    const auto small = holding("cost_line", "actual", pounds(1'250));
    CHECK(leaks(small, "£12.50"));
    CHECK(leaks(small, "12.50 GBP"));
    CHECK_FALSE(leaks(small, "at 12.50 in the room, 12.50 kg"));
    const auto estimate =
        holding("cost_line", "estimate", {{"low", 30'000}, {"likely", 45'000}, {"high", 90'000}, {"currency", "GBP"}});
    CHECK(leaks(estimate, "450.00"));
    CHECK(leaks(estimate, R"({"high": 90000})"));
    CHECK_FALSE(leaks(estimate, "300 × 450 mm, 900 g"));
}

TEST_CASE("Notes are found whole and by the sentence, everyday words are not") {
    const auto note =
        holding("case", "private_note", "Good.\nSeller was in a hurry; might go lower (ask Ute). Oil on canvas.");
    CHECK(leaks(note, "We heard that SELLER WAS\nIN A HURRY."));
    CHECK(leaks(note, R"(Good.\nSeller was in a hurry; might go lower (ask Ute). Oil on canvas.)"));
    CHECK_FALSE(leaks(note, "Good. Oil on canvas. Ask Ute."));
    CHECK(leaks(holding("case", "left_out", "Widow needs money"), "the widow needs money"));
    CHECK_FALSE(leaks(holding("case", "left_out", "Good"), "in good condition"));
    CHECK(leaks(holding("person", "address", "3 Hidden Lane\nMarshton"), "at 3 Hidden Lane"));
}

TEST_CASE("A line tells something where it names something") {
    CHECK(leaks(holding("custody", "place", "Unit 4, strong room"), "kept in unit 4, strong room"));
    CHECK(leaks(holding("lot", "saleroom", "Brandt & Lowe"), "bought at Brandt & Lowe"));
    CHECK(leaks(holding("purchase", "invoice_number", "A-22317"), "our A-22317"));
    CHECK(leaks(holding("photograph", "file_name", "trials.jpg"), "from trials.jpg"));
    CHECK_FALSE(leaks(holding("photograph", "file_name", "trials.jpg"), "pictures/01-trials.jpg"));
    for (const char* everyday : {"Relining", "Varnish removal", "cleaning and retouching", "Research", "12"}) {
        CAPTURE(everyday);
        CHECK_FALSE(leaks(holding("cost_line", "name", everyday), std::string("The work: ") + everyday + ", done."));
    }
}

TEST_CASE("Maps: notes as notes, figures only beside a currency") {
    const json answers = {{"tear", {{"answer", "yes"}, {"note", "old glue behind it"}}}};
    CHECK(leaks(holding("viewing_note", "answers", answers), "there is old glue behind it"));
    CHECK_FALSE(leaks(holding("viewing_note", "answers", answers), "yes: a tear"));
    const auto plan = holding("ceiling", "plan", {{"target", {{"profit", 4000}, {"loss_probability", 0.2}}}});
    CHECK(leaks(plan, "at least £4,000 for us"));
    CHECK_FALSE(leaks(plan, "4,000 threads, 4000 px"));
}

TEST_CASE("What this reader is told, or any buyer, is no secret") {
    CaseSnapshot snapshot = holding("person", "name", "Hendrik Tolle");
    CHECK(found(snapshot, "Hendrik Tolle") == Fields{"person.name"});
    CHECK(found(snapshot, "Hendrik Tolle", Reader::restorer).empty());
    Record owner;
    owner.kind = "provenance_link";
    owner.body = Body(json{{"owner", "Hendrik Tolle"}});
    snapshot.records.push_back(owner);
    CHECK(found(snapshot, "Hendrik Tolle").empty());
    // told, but as part of something longer: nobody meant to publish the name
    snapshot.records[0].body = Body(json{{"owner", "sold to Hendrik Tolle in May"}});
    CHECK(found(snapshot, "sold to Hendrik Tolle in May") == Fields{"person.name"});
    CHECK(found(snapshot, "sold to Hendrik Tolle in May", Reader::carrier) == Fields{"person.name"});
    CHECK(found(holding("provenance_link", "source", "Inventory of 1701, no. 12"), "Inventory of 1701, no. 12",
                Reader::carrier)
              .empty());
}

TEST_CASE("The saleroom's wording is told where the claim is recorded, its catalogue text is not") {
    CaseSnapshot snapshot = holding("lot", "catalogue_attribution", "Follower of E. Brandt the Elder");
    CHECK(found(snapshot, "Catalogued as follower of E. Brandt the Elder.") == Fields{"lot.catalogue_attribution"});
    Record claim;
    claim.kind = "attribution_claim";
    claim.body = Body(json{{"qualifier", "follower of"}, {"artist", "E. Brandt the Elder"}});
    snapshot.records.push_back(claim);
    CHECK(found(snapshot, "Catalogued as follower of E. Brandt the Elder.").empty());
    CHECK(found(snapshot, "Catalogued as follower of E. Brandt the Elder.", Reader::carrier) ==
          Fields{"lot.catalogue_attribution"});
}

TEST_CASE("Bytes that are no UTF-8 are searched all the same") {
    CHECK(leaks(holding("person", "name", "Ute Hain"), "\xff\xfe Ute Hain \xc3"));
    CHECK_FALSE(leaks(holding("person", "name", "Ute Hain"), std::string("\xe2\x82")));
}
