#include "fold.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "fixed_sources.hpp"
#include "projection.hpp"

using namespace tedge;
using namespace tedge::casebook;

namespace {

// Changes of one record, made without a book.
class Bench {
public:
    Change make(Operation operation, std::string payload, std::vector<Uuid> seen, std::int64_t ms) {
        Change change;
        change.id = ids_.next();
        change.record = record_;
        change.case_id = record_;
        change.kind = "case";
        change.operation = operation;
        change.clock = {ms, 0};
        change.public_payload = Payload{std::move(payload), {}};
        change.personal_payload = Payload{"{}", {}};
        change.seen = std::move(seen);
        return change;
    }

private:
    CountingIds ids_{1};
    Uuid record_ = CountingIds(9).next();
};

std::string set_title(std::string_view title) {
    return R"({"set":{"title":")" + std::string(title) + R"("}})";
}

}  // namespace

TEST_CASE("What a change has seen comes before it, whatever the clocks say") {
    Bench bench;
    const Change first = bench.make(Operation::create, set_title("one"), {}, 5000);
    const Change second = bench.make(Operation::patch, set_title("two"), {first.id}, 1000);
    CHECK(fold({second, first}).public_body["title"] == "two");
    CHECK(fold({second, first}).conflicts.empty());
}

TEST_CASE("Two that did not know each other clash on one path; the later shows, both are listed, resolve names both") {
    Bench bench;
    const Change first = bench.make(Operation::create, set_title("one"), {}, 1);
    const Change left = bench.make(Operation::patch, set_title("left"), {first.id}, 2);
    const Change right = bench.make(Operation::patch, set_title("right"), {first.id}, 3);
    const FoldedRecord folded = fold({first, right, left});
    CHECK(folded.public_body["title"] == "right");
    REQUIRE(folded.conflicts.size() == 1);
    CHECK(folded.conflicts[0].path == "title");
    CHECK(folded.conflicts[0].earlier == left.id);
    CHECK(folded.conflicts[0].later == right.id);
    CHECK(folded.newest.size() == 2);

    const Change settled =
        bench.make(Operation::resolve,
                   R"({"names":[")" + to_text(left.id) + R"(",")" + to_text(right.id) + R"("],"set":{"title":"left"}})",
                   {left.id, right.id}, 4);
    const FoldedRecord after = fold({settled, first, right, left});
    CHECK(after.conflicts.empty());
    CHECK(after.public_body["title"] == "left");
    CHECK(after.newest == std::vector<Uuid>{settled.id});
}

TEST_CASE("Different paths do not clash; a path and one inside it do") {
    Bench bench;
    const Change first = bench.make(Operation::create, set_title("one"), {}, 1);
    const Change left = bench.make(Operation::patch, R"({"set":{"artist":"x"}})", {first.id}, 2);
    const Change right = bench.make(Operation::patch, R"({"unset":["subject"]})", {first.id}, 2);
    CHECK(fold({first, left, right}).conflicts.empty());
    const Change whole = bench.make(Operation::patch, R"({"set":{"answers":{"a":1}}})", {first.id}, 2);
    const Change part = bench.make(Operation::patch, R"({"set":{"answers/b":2}})", {first.id}, 3);
    const Change like = bench.make(Operation::patch, R"({"set":{"answersheet":2}})", {first.id}, 3);
    CHECK(fold({first, whole, part}).conflicts.size() == 1);
    CHECK(fold({first, part, like}).conflicts.empty());
}

TEST_CASE("Deleting what another edits is a conflict too") {
    Bench bench;
    const Change first = bench.make(Operation::create, set_title("one"), {}, 1);
    const Change removed = bench.make(Operation::remove, "{}", {first.id}, 2);
    const Change edited = bench.make(Operation::patch, set_title("two"), {first.id}, 3);
    const FoldedRecord folded = fold({edited, removed, first});
    REQUIRE(folded.conflicts.size() == 1);
    CHECK(folded.conflicts[0].path.empty());
    CHECK_FALSE(folded.deleted);
    CHECK(fold({first, removed}).deleted);
}

TEST_CASE("A payload that cannot be read changes nothing and stops nothing") {
    Bench bench;
    const Change first = bench.make(Operation::create, set_title("one"), {}, 1);
    const Change broken = bench.make(Operation::patch, R"({"set":[1,2]})", {first.id}, 2);
    const Change worse = bench.make(Operation::patch, "\xff{", {broken.id}, 3);
    CHECK(fold({first, broken, worse}).public_body["title"] == "one");
}

TEST_CASE("One more edit at the end gives what folding anew gives") {
    Bench bench;
    std::vector<Change> changes{bench.make(Operation::create, set_title("0"), {}, 1)};
    FoldedRecord quick = fold(changes);
    for (int i = 1; i < 40; ++i) {
        const std::string payload =
            i % 7 == 0 ? R"({"unset":["artist"]})" : R"({"set":{"artist":")" + std::to_string(i) + R"("}})";
        const Operation operation = i % 11 == 0   ? Operation::remove
                                    : i % 11 == 1 ? Operation::restore
                                                  : Operation::patch;
        changes.push_back(
            bench.make(operation, operation == Operation::patch ? payload : "{}", {changes.back().id}, i + 1));
        apply_next(quick, changes.back());
        REQUIRE(dump_record(quick) == dump_record(fold(changes)));
    }
}

TEST_CASE("What was not admitted says nothing of the record, not even of what kind it is") {
    Bench bench;
    Change forged = bench.make(Operation::create, R"({"set":{"title":"ours now"}})", {}, 1);
    forged.kind = "finding";
    forged.admitted = false;
    const Change own = bench.make(Operation::create, R"({"set":{"title":"Winter landscape"}})", {}, 2);
    const FoldedRecord record = fold({forged, own});
    CHECK(record.kind == "case");
    CHECK(record.public_body.at("title") == "Winter landscape");
}
