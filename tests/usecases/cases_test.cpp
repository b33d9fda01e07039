#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/framing.hpp"

#include "kept_file.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;
using casebook::Record;

TEST_CASE("A case with a size has its recto in millimetres from the beginning") {
    UsecaseBook shop;
    const casebook::CaseSnapshot snapshot = shop.snapshot();
    const Record* frame = current_frame(snapshot, Face::recto);
    REQUIRE(frame != nullptr);
    CHECK(frame->body.number("width_mm") == 812.0);
    CHECK(frame->body.number("height_mm") == 610.0);
    CHECK(current_frame(snapshot, Face::verso) == nullptr);
}

TEST_CASE("A case that cannot be made in full is not made at all") {
    UsecaseBook shop;
    const auto before = must(shop.book.cases()).size();
    for (const SizeMm size : {SizeMm{0, 320}, SizeMm{400, -1}, SizeMm{1e9, 320}}) {
        const auto made = open_case(shop.acting, {"Ferry", "", size});
        REQUIRE_FALSE(made);
        CHECK(made.error().code == "face.size-out-of-range");
    }
    const auto nameless = open_case(shop.acting, {"  ", "", std::nullopt});
    REQUIRE_FALSE(nameless);
    CHECK(nameless.error().code == "case.no-title");
    CHECK(must(shop.book.cases()).size() == before);
}

TEST_CASE("A case is found by id, by the beginning of its id and by its title, when only one answers") {
    UsecaseBook shop;
    const std::string id = to_text(shop.case_id);
    CHECK(must(find_case(shop.book, id)) == shop.case_id);
    CHECK(must(find_case(shop.book, "River landscape")) == shop.case_id);
    CHECK(find_case(shop.book, "River").error().code == "case.unknown");
    CHECK(find_case(shop.book, id.substr(0, 4)).error().code == "case.unknown");  // too short to mean one picture
    must(open_case(shop.acting, {"River landscape", "", std::nullopt}));
    CHECK(find_case(shop.book, "River landscape").error().code == "case.ambiguous");
}

TEST_CASE("The card tells where it is now, who holds it and what falls due first") {
    UsecaseBook shop;
    const Uuid holder = must(shop.book.person_named("Odalind Marsh"));
    shop.add("custody", FieldValues().text("place", "saleroom").text("from", "2026-03-01").text("to", "2026-03-05"));
    shop.add("custody", FieldValues()
                            .text("place", "workshop")
                            .record("holder", holder)
                            .text("from", "2026-03-05")
                            .text("insured_by", "Lantern Mutual"));
    shop.add("deadline", FieldValues().text("what", "collect").text("on", "2026-03-09").text("done_on", "2026-03-05"));
    shop.add("deadline", FieldValues().text("what", "insurance ends").text("on", "2026-06-01"));
    shop.add("deadline", FieldValues().text("what", "return window ends").text("on", "2026-03-26"));
    const CaseCard card = card_of(shop.snapshot());
    CHECK(card.place == "workshop");
    CHECK(card.holder == "Odalind Marsh");
    CHECK(card.insured_by == "Lantern Mutual");
    CHECK(card.next_deadline_what == "return window ends");
    CHECK(card.next_deadline_on == "2026-03-26");
}

TEST_CASE("A chart or a detail does not stand for the picture where a photograph of the whole is there") {
    UsecaseBook shop;
    const auto photo = [&](const char* face, bool has_chart, std::optional<double> mm_per_px) {
        FieldValues values;
        values.text("face", face).text("light", "normal").text("stage", "as-received");
        values.text("sha256", kept_file(shop.book)).integer("width_px", 812).integer("height_px", 610);
        if (has_chart) values.flag("has_chart", true);
        Placement placement;
        if (mm_per_px) placement.face_from_photo = Homography::scaling(*mm_per_px, *mm_per_px);
        if (mm_per_px) values.placement("face_from_photo", placement);
        return shop.add("photograph", values);
    };
    const auto shown = [&] { return card_of(shop.snapshot()).picture; };
    const Uuid chart = photo("recto", true, std::nullopt);
    CHECK(shown() == chart);  // better than nothing
    const Uuid detail = photo("recto", false, 0.25);
    CHECK(shown() == detail);
    const Uuid whole = photo("recto", false, 1.0);
    CHECK(shown() == whole);
    photo("recto", true, std::nullopt);
    photo("recto", false, 0.5);  // a quarter of the face
    photo("verso", false, 1.0);
    CHECK(shown() == whole);
    const Uuid with_chart_beside = photo("recto", true, 1.05);
    CHECK(shown() == with_chart_beside);  // the whole, and the latest
    must(show_first(shop.acting, chart));
    CHECK(shown() == chart);  // somebody said so
}

TEST_CASE("A photograph of an edge is measured against the edge, not against the picture") {
    UsecaseBook shop;
    const Uuid edge =
        shop.add("face_frame", FieldValues().text("face", "edge-top").number("width_mm", 812).number("height_mm", 20));
    const auto photo = [&](int width_px) {
        Placement placement;
        placement.face_from_photo = Homography::scaling(0.1, 0.1);
        FieldValues values;
        values.text("face", "edge-top").text("light", "normal").text("stage", "as-received");
        values.text("sha256", kept_file(shop.book)).integer("width_px", width_px).integer("height_px", 200);
        values.record("face_frame", edge);
        values.placement("face_from_photo", placement);
        return shop.add("photograph", values);
    };
    const Uuid whole = photo(8120);
    photo(1500);  // a detail, and the later one
    CHECK(first_photograph(shop.snapshot(), Face::edge_top)->id == whole);
    // The rack reads only the kinds it shows, and tells the same.
    CHECK(must(cards(shop.book)).front().picture == whole);
}

TEST_CASE("The latest state is shown first, and a photograph repeats the one of the set before") {
    UsecaseBook shop;
    const auto photo = [&](const char* stage, const char* light, const char* side = nullptr) {
        FieldValues values;
        values.text("face", "recto").text("light", light).text("stage", stage);
        if (side != nullptr) values.text("raking_side", side);
        values.text("sha256", kept_file(shop.book)).integer("width_px", 812).integer("height_px", 610);
        return shop.add("photograph", values);
    };
    const auto earlier = [&](const Uuid& id) -> std::optional<Uuid> {
        const auto snapshot = shop.snapshot();
        const auto* found = earlier_shot(snapshot, *snapshot.find(id));
        return found != nullptr ? std::optional(found->id) : std::nullopt;
    };
    const Uuid cleaned = photo("cleaned", "normal");
    const Uuid received = photo("as-received", "normal");
    const Uuid again = photo("as-received", "normal");
    const Uuid saleroom = photo("saleroom", "normal");  // written last, taken before all others
    CHECK(first_photograph(shop.snapshot(), Face::recto)->id == cleaned);
    CHECK(earlier(cleaned) == again);
    CHECK(earlier(received) == saleroom);
    CHECK(earlier(saleroom) == std::nullopt);
    const Uuid left = photo("as-received", "raking", "left");
    photo("as-received", "raking", "right");
    CHECK(earlier(photo("cleaned", "raking", "left")) == left);
    CHECK(earlier(photo("cleaned", "infrared")) == std::nullopt);
}

TEST_CASE("A placement that another program wrote badly counts as none and stops no list of cases") {
    UsecaseBook shop;
    const auto photo = [&](const char* light) {
        FieldValues values;
        values.text("face", "recto").text("light", light).text("stage", "as-received");
        values.text("sha256", kept_file(shop.book)).integer("width_px", 812).integer("height_px", 610);
        return shop.add("photograph", values);
    };
    const Uuid whole = photo("normal");
    photo("raking");
    for (const char* placement : {R"({"homography": [1, 2, 3]})", R"("x")", "{}", R"({"homography": "x"})", "[]",
                                  R"({"homography": [1, 0, 0, 0, 1, 0, 0, 0, "1"]})", "null"}) {
        CAPTURE(placement);
        casebook::CaseSnapshot snapshot = shop.snapshot();
        for (Record& record : snapshot.records) {
            if (record.id != whole) continue;
            auto body = record.body.as_json();
            body["face_from_photo"] = nlohmann::json::parse(placement);
            record.body = casebook::Body(body);
        }
        CHECK(card_of(snapshot).picture == whole);
    }
}
