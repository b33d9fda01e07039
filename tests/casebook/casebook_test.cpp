#include "tedge/casebook/casebook.hpp"

#include <nlohmann/json.hpp>

#include "book_fixture.hpp"
#include "kept_file.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/number_list.hpp"
#include "tedge/casebook/placed_by.hpp"

using namespace tedge;
using namespace tedge::casebook;

TEST_CASE("A case holds what was written, and its history tells who wrote it and when") {
    Book b;
    const Uuid id = b.add_case("River landscape with a ferry");
    must(b.change(id, Operation::patch,
                  FieldValues().text("artist", "Circle of Joost van Ellen").number("width_mm", 812)));
    const Record record = must(b.book.record(id));
    CHECK(record.case_id == id);
    CHECK(record.body.text("title") == "River landscape with a ferry");
    CHECK(record.body.number("width_mm") == 812.0);
    const auto history = must(b.book.history(id));
    REQUIRE(history.size() == 2);
    CHECK(history[0].author == b.author);
    CHECK(history[1].seen == std::vector<Uuid>{history[0].id});
    CHECK(history[1].number == 2);
    CHECK(history[1].previous == history[0].hash);
}

TEST_CASE("Payloads are canonical JSON: sorted keys, no spaces; personal fields apart") {
    Book b;
    const Uuid id = b.add(Uuid{}, "person", FieldValues().text("role", "restorer").text("name", "Ute Hain"));
    const Change change = must(b.book.history(id)).front();
    CHECK(change.public_payload->text == R"({"set":{"role":"restorer"}})");
    CHECK(change.personal_payload->text == R"({"set":{"name":"Ute Hain"}})");
    CHECK(change.public_payload->salt != change.personal_payload->salt);
}

TEST_CASE("What does not fit the field table is refused by field and reason, and nothing is written") {
    Book b;
    const Uuid id = b.add_case();
    const auto before = must(b.book.all_changes()).size();
    const auto refuse = [&](const FieldValues& values, std::string_view field) {
        const auto result = b.change(id, Operation::patch, values);
        REQUIRE_FALSE(result.has_value());
        CHECK(result.error().code == "casebook.bad-field");
        CHECK(result.error().values.at("field") == field);
        CHECK_FALSE(result.error().next.empty());
    };
    refuse(FieldValues().text("tittle", "x"), "tittle");
    refuse(FieldValues().text("width_mm", "wide"), "width_mm");
    refuse(FieldValues().text("state", "lost"), "state");
    refuse(FieldValues().text("title", "two\nlines"), "title");
    refuse(FieldValues().text("title", "\xff"), "title");
    refuse(FieldValues().number("asking_price", 100), "asking_price");
    refuse(FieldValues().text("title/sub", "x"), "title/sub");
    refuse(FieldValues().unset("title"), "title");

    Edit nameless;
    nameless.kind = "case";
    CHECK(b.book.commit(b.author, {nameless}).error().code == "casebook.missing-field");
    Edit unknown;
    unknown.kind = "sculpture";
    CHECK(b.book.commit(b.author, {unknown}).error().code == "casebook.unknown-kind");
    CHECK(b.change(CountingIds(99).next(), Operation::patch, FieldValues().text("title", "x")).error().code ==
          "casebook.no-such-record");
    CHECK(must(b.book.all_changes()).size() == before);
}

TEST_CASE("Several edits are one act: all or none") {
    Book b;
    const Uuid id = b.add_case();
    Edit good;
    good.operation = Operation::patch;
    good.record = id;
    good.values.text("artist", "Joost van Ellen");
    Edit bad = good;
    bad.values.text("state", "lost");
    CHECK_FALSE(b.book.commit(b.author, {good, bad}).has_value());
    CHECK_FALSE(must(b.book.record(id)).body.has("artist"));
}

TEST_CASE("A deleted record can be restored as it was") {
    Book b;
    const Uuid id = b.add_case();
    must(b.change(id, Operation::remove));
    CHECK(must(b.book.cases()).empty());
    CHECK(must(b.book.record(id)).deleted);
    must(b.change(id, Operation::restore));
    CHECK(must(b.book.cases()).size() == 1);
}

TEST_CASE("Items of a map are set and unset one by one") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid note =
        b.add(id, "viewing_note", FieldValues().text("answers/support", "canvas").text("answers/glue", "no"));
    must(b.change(note, Operation::patch, FieldValues().text("answers/smell", "damp").unset("answers/glue")));
    const Body body = must(b.book.record(note)).body;
    CHECK(body.keys("answers") == std::vector<std::string>{"smell", "support"});
    CHECK(body.text("answers/smell") == "damp");
}

TEST_CASE("Values of every type come back as they went in") {
    Book b;
    const Uuid id = b.add_case();
    const Money price{892307, Currency::parse("GBP").value()};
    must(b.change(id, Operation::patch, FieldValues().money("asking_price", price)));
    CHECK(must(b.book.record(id)).body.money("asking_price") == price);
    const Uuid cost =
        b.add(id, "cost_line",
              FieldValues().text("name", "lining").money_estimate("estimate", {300, 400, 900}, price.currency));
    CHECK(must(b.book.record(cost)).body.money_estimate("estimate")->minor == Estimate<std::int64_t>{300, 400, 900});

    Placement placement = placement_filling({4000, 3000}, {812, 610});
    placement.error_mm = 0.05;
    placement.displacement =
        BsplineDisplacement::make({-50, -50}, 100, 12, 9, std::vector<PointMm>(108, {0.25, -0.5})).value();
    const Uuid photo = b.add(id, "photograph",
                             FieldValues()
                                 .text("face", "recto")
                                 .text("light", "normal")
                                 .text("stage", "as-received")
                                 .text("sha256", kept_file(b.book))
                                 .placement("face_from_photo", placement));
    const auto back = must(b.book.record(photo)).body.placement("face_from_photo");
    REQUIRE(back);
    CHECK(back->face_from_photo == placement.face_from_photo);
    CHECK(back->displacement == placement.displacement);
    CHECK(back->error_mm == 0.05);
    // A list is one of numbers where nothing else is in it.
    CHECK(numbers_at(must(b.book.record(photo)).body, "face_from_photo/homography")->size() == 9);
    CHECK_FALSE(numbers_at(must(b.book.record(photo)).body, "face_from_photo"));
    CHECK_FALSE(numbers_at(Body(nlohmann::json{{"list", {1, "two"}}}), "list"));
    CHECK_FALSE(numbers_at(Body(nlohmann::json{{"list", {1, 2}}}), "other"));
    // Where it comes from a registration it names that by its record.
    CHECK_FALSE(names_registration(must(b.book.record(photo))));
    FieldValues lies;
    must(b.change(photo, Operation::patch, place_by(lies, placement, cost)));
    CHECK(registration_named(must(b.book.record(photo))) == cost);
    CHECK(must(b.book.record(photo)).body.placement("face_from_photo")->displacement == placement.displacement);
    nlohmann::json nameless = must(b.book.record(photo)).body.as_json().at("face_from_photo");
    nameless["registration"] = "the second one";
    CHECK_FALSE(b.change(photo, Operation::patch, FieldValues().value("face_from_photo", nameless)));
}

TEST_CASE("Everything is found by its words, with accents or without") {
    Book b;
    const Uuid id = b.add_case("Nature morte à l'écritoire");
    b.add(id, "provenance_link",
          FieldValues().number("order", 1).text("owner", "Comtesse de Brouvelle").text("source", "letter, 3 May 1891"));
    CHECK(must(b.book.search("ecritoire")).size() == 1);
    CHECK(must(b.book.search("nature ecri")).size() == 1);
    CHECK(must(b.book.search("b")).size() == 1);  // Brouvelle
    CHECK(must(b.book.search("b", 0)).empty());
    CHECK(must(b.book.search("1891")).front().kind == "provenance_link");
    CHECK(must(b.book.search("nature absent")).empty());
    for (const char* odd : {"", "\"", "a\" OR b", "NEAR(", "*", "   "}) CHECK(b.book.search(odd).has_value());
    must(b.change(id, Operation::patch, FieldValues().text("title", "Still life")));
    CHECK(must(b.book.search("ecritoire")).empty());
}

TEST_CASE("Places are found by box on their own face only") {
    Book b;
    const Uuid id = b.add_case();
    const Uuid recto = b.add_face(id);
    const Uuid other = b.add_face(id);
    const auto finding = [&](const Uuid& face, double x) {
        return b.add(id, "finding",
                     FieldValues()
                         .record("face_frame", face)
                         .region("region", Region::rectangle({x, 10}, {20, 20}).value())
                         .text("layer", "paint")
                         .text("term", "flaking"));
    };
    const Uuid left = finding(recto, 10);
    finding(recto, 500);
    finding(other, 10);
    CHECK(must(b.book.placed_in(recto, {{0, 0}, {100, 100}})) == std::vector<Uuid>{left});
    must(b.change(left, Operation::remove));
    CHECK(must(b.book.placed_in(recto, {{0, 0}, {100, 100}})).empty());
}

TEST_CASE("An original is stored once, read-only by its name, and found again") {
    Book b;
    must(write_file_durably(b.folder / "photo.jpg", "not really a picture"));
    const StoredFile first = must(b.book.store_original(b.folder / "photo.jpg"));
    const StoredFile second = must(b.book.store_original(b.folder / "photo.jpg"));
    CHECK_FALSE(first.already);
    CHECK(second.already);
    CHECK(first.sha256 == second.sha256);
    CHECK(must(read_file(b.book.original_path(first.sha256))) == "not really a picture");
    CHECK(b.book.store_original(b.folder / "none.jpg").error().code == "files.missing");
}

TEST_CASE("A person is made once however often the name is used") {
    Book b;
    CHECK(must(b.book.person_named("Ada Wren")) == b.author);
    CHECK(must(b.book.person_named("Ute Hain")) != b.author);
    CHECK(must(b.book.people()).size() == 2);
}

TEST_CASE("A snapshot is of one case, without what was deleted") {
    Book b;
    const Uuid one = b.add_case("One");
    const Uuid two = b.add_case("Two");
    b.add_face(one);
    must(b.change(b.add_face(one), Operation::remove));
    b.add_face(two);
    const CaseSnapshot snapshot = must(b.book.snapshot(one));
    CHECK(snapshot.picture.body.text("title") == "One");
    CHECK(snapshot.records.size() == 1);
    CHECK(snapshot.of_kind("face_frame").size() == 1);
    CHECK(snapshot.find(b.author) != nullptr);
    CHECK(b.book.snapshot(b.author).error().code == "casebook.no-such-record");
}
