#include "tedge/casebook/field_table.hpp"

#include <catch2/catch.hpp>
#include <set>

using namespace tedge::casebook;

TEST_CASE("Every field is named once, has a label and known words") {
    for (const Kind* kind : all_kinds()) {
        std::set<std::string_view> names;
        for (const Field& field : kind->fields) {
            CAPTURE(kind->name, field.name);
            CHECK(names.insert(field.name).second);
            CHECK_FALSE(field.label.empty());
            CHECK((field.type == FieldType::word) == !field.words.empty());
            // What names nobody stays in the book; all else the house itself may read.
            CHECK((field.readers == nobody || field.readers.contains(Reader::own)));
            CHECK(field.since <= kind->schema);
        }
    }
    CHECK(all_kinds().size() == 38);
}

TEST_CASE("Money, ceilings and private notes never name a buyer") {
    const std::set<std::string_view> inside{
        "ceiling", "purchase",   "cost_line",     "lot",          "viewing_note", "document",          "deadline",
        "custody", "person",     "gate_override", "quality_note", "comparable",   "cleaning_forecast", "payment",
        "share",   "commission", "sale",          "return",       "house"};
    for (const Kind* kind : all_kinds()) {
        for (const Field& field : kind->fields) {
            CAPTURE(kind->name, field.name);
            const bool is_money = field.type == FieldType::money || field.type == FieldType::money_estimate;
            const bool is_note = field.name == "note" || field.name == "private_note";
            if (is_money || is_note || inside.contains(kind->name)) CHECK_FALSE(field.readers.contains(Reader::buyer));
        }
    }
}

TEST_CASE("A note of suspicion and the price code are nobody's to have, and no search finds them") {
    for (const Field& field : find_kind("suspicion")->fields) {
        CAPTURE(field.name);
        CHECK(field.readers == nobody);
        CHECK_FALSE(field.searched);
    }
    CHECK(find_kind("house")->field("price_code")->readers == nobody);
    CHECK_FALSE(find_kind("house")->field("price_code")->searched);
}

TEST_CASE("Kinds and fields are found by name") {
    REQUIRE(find_kind("trial") != nullptr);
    CHECK(find_kind("trial")->field("agent")->label == "Agent");
    CHECK(find_kind("trial")->field("agents") == nullptr);
    CHECK(find_kind("trials") == nullptr);
    CHECK((Readers(Reader::own) | Reader::buyer).contains(Reader::buyer));
    CHECK_FALSE(Readers(Reader::own).contains(Reader::buyer));
}

TEST_CASE("The questions of a viewing stand beside the field table: each a path into the map, with words to answer") {
    const auto questions = parts_asked("viewing_note", "answers");
    CHECK(questions.size() >= 12);
    std::set<std::string_view> paths;
    for (const Field& question : questions) {
        CAPTURE(question.name);
        CHECK(paths.insert(question.name).second);
        CHECK(question.name.starts_with("answers/"));
        CHECK_FALSE(question.label.empty());
        CHECK(words_of(question) == std::vector<std::string_view>{"yes", "no", "not-seen"});
        CHECK_FALSE(question.readers.contains(Reader::buyer));
    }
    CHECK(parts_asked("viewing_note", "text").empty());
    CHECK(parts_asked("lot", "answers").empty());
}
