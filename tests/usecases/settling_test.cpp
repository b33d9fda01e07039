#include "tedge/usecases/settling.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "kept_file.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using casebook::Casebook;
using casebook::FieldValues;
using usecases::Settlement;

namespace {

// The house and the bench: two copies of one book that are written to apart from each other.
struct TwoBooks {
    UsecaseBook house;
    FixedClock clock;
    CountingIds ids{9};
    Uuid note = house.add("viewing_note", FieldValues().text("text", "thin in the sky").text("quality", "even"));
    Casebook bench = copied();
    usecases::Acting restorer{bench, must(bench.person_named("Ute Hain")), clock};

    Casebook copied() {
        Casebook made = must(Casebook::create(house.folder / "bench", {&clock, &ids}));
        must(made.merge_from(house.book));
        return made;
    }
    void both_write(const FieldValues& at_house, const FieldValues& at_bench) {
        house.clock.advance(std::chrono::seconds(5));
        clock.advance(std::chrono::seconds(9));
        must(usecases::change_record(house.acting, note, at_house, "seen by daylight"));
        must(usecases::change_record(restorer, note, at_bench, "seen under the lens"));
        exchange();
    }
    void exchange() {
        must(house.book.merge_from(bench));
        must(bench.merge_from(house.book));
    }
    casebook::Disagreement contested() {
        auto all = must(usecases::disagreements(house.book, house.case_id));
        REQUIRE(all.size() == 1);
        return all.front();
    }
    casebook::Record now() { return must(house.book.record(note)); }
};

// Every change, record and conflict with its bytes.
std::string state_of(Casebook& book) {
    std::string text;
    std::set<Uuid> records;
    for (const casebook::Change& change : must(book.all_changes())) {
        records.insert(change.record);
        text += to_text(change.id) + to_hex(change.hash) + change.public_payload.value().text +
                change.personal_payload.value().text + "\n";
    }
    for (const Uuid& id : records) {
        const casebook::Record record = must(book.record(id));
        text += to_text(id) + (record.deleted ? " deleted " : " ") + record.body.canonical_json();
        for (const Uuid& newest : record.newest_changes) text += to_text(newest);
        text += to_text(record.last_written) + "\n";
    }
    for (const casebook::Conflict& c : must(book.conflicts())) {
        text += to_text(c.record) + c.path + to_text(c.earlier) + to_text(c.later) + "\n";
    }
    return text;
}

}  // namespace

TEST_CASE("What two people wrote differently is told with who, when, why and both values") {
    TwoBooks books;
    books.both_write(FieldValues().text("text", "thin everywhere"), FieldValues().text("text", "sound"));
    const casebook::Disagreement found = books.contested();
    CHECK(found.kind == "viewing_note");
    REQUIRE(found.contested.size() == 1);
    CHECK(found.contested[0].path == "text");
    REQUIRE(found.contested[0].sides.size() == 2);
    const casebook::Side& first = found.contested[0].sides[0];
    const casebook::Side& second = found.contested[0].sides[1];
    CHECK(first.author == books.house.acting.author);
    CHECK(second.author == books.restorer.author);
    CHECK(first.at < second.at);
    CHECK(first.reason == "seen by daylight");
    CHECK(first.wrote.text("text") == "thin everywhere");
    CHECK(second.wrote.text("text") == "sound");
    CHECK(casebook::shows(books.now(), second, "text"));
    CHECK_FALSE(casebook::shows(books.now(), first, "text"));
}

TEST_CASE("Settled in one book and merged, both agree byte for byte and nothing is contested") {
    TwoBooks books;
    books.both_write(FieldValues().text("text", "thin everywhere").text("quality", "uneven"),
                     FieldValues().text("text", "sound").unset("quality"));
    CHECK(must(books.bench.conflicts()).size() == 2);
    Settlement settlement = usecases::taking(books.contested(), books.now(), std::nullopt, "looked again together");
    const auto from = GENERATE(0, 1, 2);
    std::string expected = "sound";
    if (from == 0) {  // the first one's word
        expected = "thin everywhere";
        settlement = usecases::taking(books.contested(), books.now(), books.contested().contested[0].sides[0].change,
                                      "looked again together");
    }
    if (from == 2) {  // neither's
        expected = "thin by the horizon";
        settlement.values.text("text", expected);
    }
    const auto done = must(usecases::settle_conflict(books.house.acting, settlement));
    CHECK(books.now().body.text("text") == expected);
    CHECK(books.now().body.has("quality") == (from == 0));
    CHECK(must(books.house.book.conflicts()).empty());
    books.exchange();
    CHECK(must(books.bench.conflicts()).empty());
    CHECK(state_of(books.house.book) == state_of(books.bench));
    const auto history = must(books.bench.history(books.note));
    const auto settling = std::ranges::find(history, casebook::Operation::resolve, &casebook::Change::operation);
    REQUIRE(settling != history.end());
    CHECK(settling->author == books.house.acting.author);
    CHECK(settling->reason == "looked again together");

    must(usecases::take_back(books.house.acting, done.inverse));
    CHECK(books.now().body.text("text") == "sound");
    CHECK_FALSE(books.now().body.has("quality"));
    CHECK(must(books.house.book.conflicts()).empty());
    for (Casebook* book : {&books.house.book, &books.bench}) CHECK(must(book->rebuild()));
}

TEST_CASE("Two who settle it differently are told of that in turn") {
    TwoBooks books;
    books.both_write(FieldValues().text("text", "thin everywhere"), FieldValues().text("text", "sound"));
    const casebook::Disagreement found = books.contested();
    const auto first = usecases::taking(found, books.now(), found.contested[0].sides[0].change, "seen again");
    const auto as_shown = usecases::taking(found, books.now(), std::nullopt, "no doubt of it");
    must(usecases::settle_conflict(books.house.acting, first));
    must(usecases::settle_conflict(books.restorer, as_shown));
    books.exchange();
    const casebook::Disagreement again = books.contested();
    REQUIRE(again.contested.size() == 1);
    CHECK(again.contested[0].sides.size() == 2);
    CHECK(again.contested[0].sides[0].reason == "seen again");
}

TEST_CASE("Who wrote twice is heard once, with the last word; both are named") {
    TwoBooks books;
    must(usecases::change_record(books.house.acting, books.note, FieldValues().text("text", "thin, I think")));
    books.both_write(FieldValues().text("text", "thin everywhere"), FieldValues().text("text", "sound"));
    const casebook::Disagreement found = books.contested();
    REQUIRE(found.contested[0].sides.size() == 2);
    CHECK(found.contested[0].sides[0].wrote.text("text") == "thin everywhere");
    CHECK(found.changes.size() == 3);
    must(usecases::settle_conflict(books.house.acting, usecases::taking(found, books.now(), std::nullopt, "agreed")));
    CHECK(must(books.house.book.conflicts()).empty());
}

TEST_CASE("A record that one took away and the other went on with stays or goes, as decided") {
    TwoBooks books;
    books.house.clock.advance(std::chrono::seconds(5));
    books.clock.advance(std::chrono::seconds(9));
    const bool removal_is_later = GENERATE(false, true);
    const bool stays = GENERATE(false, true);
    auto& removes = removal_is_later ? books.restorer : books.house.acting;
    auto& writes = removal_is_later ? books.house.acting : books.restorer;
    must(usecases::remove_record(removes, books.note));
    must(usecases::change_record(writes, books.note, FieldValues().text("text", "sound")));
    books.exchange();
    CHECK(books.now().deleted == removal_is_later);
    Settlement settlement = usecases::taking(books.contested(), books.now(), std::nullopt, "asked both");
    settlement.stays = stays;
    const auto done = must(usecases::settle_conflict(books.house.acting, settlement));
    CHECK(books.now().deleted != stays);
    CHECK(must(books.house.book.conflicts()).empty());
    books.exchange();
    CHECK(state_of(books.house.book) == state_of(books.bench));
    if (stays == removal_is_later) {  // the decision turned what showed
        must(usecases::take_back(books.house.acting, done.inverse));
        CHECK(books.now().deleted == removal_is_later);
    }
}

TEST_CASE("A decision without reason, without a word on all of it, or too late, is refused") {
    TwoBooks books;
    books.both_write(FieldValues().text("text", "thin").text("quality", "uneven"),
                     FieldValues().text("text", "sound").text("quality", "fine"));
    const Settlement whole = usecases::taking(books.contested(), books.now(), std::nullopt, "agreed");
    const auto refusal = [&](const Settlement& settlement) {
        const auto done = usecases::settle_conflict(books.house.acting, settlement);
        return done ? std::string() : done.error().code;
    };
    Settlement silent = whole;
    silent.reason = "  ";
    CHECK(refusal(silent) == "conflict.no-reason");
    Settlement half = whole;
    half.values = FieldValues().text("text", "sound");
    CHECK(refusal(half) == "conflict.undecided");
    Settlement more = whole;
    more.values.text("note", "and by the way");
    CHECK(refusal(more) == "conflict.not-contested");
    CHECK(must(books.house.book.conflicts()).size() == 2);  // nothing of it was written
    CHECK(refusal(whole).empty());
    CHECK(refusal(whole) == "conflict.settled");
}

TEST_CASE("A decision that changes what shows is asked of the gates; one that keeps it is not") {
    UsecaseBook shop;
    const Uuid frame = shop.recto();
    const auto step = shop.add("structure_step", FieldValues().text("act", "patch"));
    const auto seen = must(shop.book.record(step)).newest_changes;
    casebook::Edit lining;  // past the gates, as it may come from another book
    lining.operation = casebook::Operation::patch;
    lining.record = step;
    lining.values.text("act", "lining");
    must(shop.book.commit(shop.acting.author, {lining}));
    shop.clock.advance(std::chrono::seconds(1));
    must(usecases::change_record(shop.acting, step, FieldValues().text("act", "keying-out"), {}, seen));
    const auto found = must(usecases::disagreements(shop.book, shop.case_id)).front();
    const auto now = must(shop.book.record(step));
    REQUIRE(now.body.text("act") == "keying-out");
    const auto& sides = found.contested.front().sides;
    const auto lined = std::ranges::find_if(sides, [](const auto& side) { return side.wrote.text("act") == "lining"; });
    REQUIRE(lined != sides.end());
    const auto refused = usecases::settle_conflict(shop.acting, usecases::taking(found, now, lined->change, "agreed"));
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "gate.closed");
    CHECK(usecases::settle_conflict(shop.acting, usecases::taking(found, now, std::nullopt, "agreed")));
    CHECK(shop.recto() == frame);
}

TEST_CASE("A face that carries something is not let go by settling either") {
    UsecaseBook shop;
    const Uuid frame = shop.recto();
    shop.add("finding", FieldValues()
                            .record("face_frame", frame)
                            .region("region", square(20, 20, 10))
                            .text("layer", "paint")
                            .text("term", "flaking"));
    const auto seen = must(shop.book.record(frame)).newest_changes;
    must(usecases::change_record(shop.acting, frame, FieldValues().text("epoch_why", "cut")));
    must(usecases::change_record(shop.acting, frame, FieldValues().text("epoch_why", "measured again"), {}, seen));
    const auto found = must(usecases::disagreements(shop.book, shop.case_id)).front();
    Settlement gone = usecases::taking(found, must(shop.book.record(frame)), std::nullopt, "agreed");
    gone.values = {};
    gone.stays = false;
    const auto refused = usecases::settle_conflict(shop.acting, gone);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "face.stood-on");
    CHECK(shop.recto() == frame);
}

TEST_CASE("Two who put the size right differently: what lies on the face has the size that is settled") {
    TwoBooks books;
    UsecaseBook& house = books.house;
    const Uuid recto = house.recto();
    const Uuid photograph =
        house.add("photograph", FieldValues()
                                    .text("face", "recto")
                                    .text("light", "normal")
                                    .text("sha256", kept_file(house.book))
                                    .text("stage", "as-received")
                                    .record("face_frame", recto)
                                    .placement("face_from_photo", {Homography::scaling(0.2, 0.2), {}, 0.1}));
    const double right_px = 812 / 0.2;
    const auto right_edge_mm = [&] {
        return must(house.book.record(photograph)).body.placement("face_from_photo")->to_face({right_px, 10}).x_mm;
    };
    books.exchange();
    house.clock.advance(std::chrono::seconds(5));
    books.clock.advance(std::chrono::seconds(9));
    must(usecases::change_record(house.acting, recto, FieldValues().number("width_mm", 700)));
    must(usecases::change_record(books.restorer, recto, FieldValues().number("width_mm", 600)));
    books.exchange();
    CHECK(right_edge_mm() == Approx(600));  // the later one's act, whole
    const auto all = must(usecases::disagreements(house.book, house.case_id));
    const auto of_size = std::ranges::find(all, recto, &casebook::Disagreement::record);
    REQUIRE(of_size != all.end());
    const Uuid first = of_size->contested.front().sides[0].change;
    Settlement settlement = usecases::taking(*of_size, must(house.book.record(recto)), first, "measured again");
    must(usecases::settle_conflict(house.acting, settlement));
    const double settled = must(house.book.record(recto)).body.number("width_mm").value();
    CHECK(right_edge_mm() == Approx(settled));
    CHECK(settled == 700);
}
