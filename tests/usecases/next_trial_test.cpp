#include "tedge/usecases/next_trial.hpp"

#include <catch2/catch.hpp>

#include "tedge/usecases/used_before.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using casebook::FieldValues;

namespace {

FieldValues trial(UsecaseBook& b, const char* passage, const char* agent, const char* verdict, const char* swab) {
    b.clock.advance(std::chrono::days(20));
    return FieldValues()
        .record("face_frame", b.recto())
        .region("region", Region::rectangle({10, 10}, {8, 8}).value())
        .text("passage", passage)
        .text("layer", "varnish")
        .text("agent", agent)
        .text("application", "swab")
        .number("seconds", 30)
        .text("swab_colour", "yellow")
        .text("swab_answer", swab)
        .text("verdict", verdict)
        .integer("removal", 3)
        .text("done_on", "2026-03-18");
}

}  // namespace

TEST_CASE("The next trial of a passage keeps how it was done and asks again what it showed") {
    UsecaseBook b;
    const Uuid id = b.add("trial", trial(b, "sky", "acetone 30, isooctane 70", "too-weak", "varnish"));
    const auto snapshot = b.snapshot();
    const usecases::NextTrial next = usecases::next_trial(snapshot, *snapshot.find(id));
    const nlohmann::json& set = next.values.set_values();
    CHECK(set.at("passage") == "sky");
    CHECK(set.at("layer") == "varnish");
    CHECK(set.at("seconds") == 30.0);
    CHECK(set.contains("region"));
    CHECK(set.at("agent") == "acetone 40, isooctane 60");
    for (const char* told_by_trial : {"verdict", "swab_colour", "swab_answer", "removal", "done_on"}) {
        CHECK_FALSE(set.contains(told_by_trial));
    }
    CHECK(next.why.find("to consider next") != std::string::npos);
}

TEST_CASE("Nothing stronger is proposed where a trial of the passage says stop, and the same after one that cleared") {
    UsecaseBook b;
    b.add("trial", trial(b, "foliage", "acetone 20, isooctane 80", "undecided", "undecided"));
    const Uuid weak = b.add("trial", trial(b, "foliage", "acetone 30, isooctane 70", "too-weak", "varnish"));
    const Uuid cleared = b.add("trial", trial(b, "sky", "acetone 20, isooctane 80", "cleared", "varnish"));
    const auto snapshot = b.snapshot();
    const auto stopped = usecases::next_trial(snapshot, *snapshot.find(weak));
    CHECK_FALSE(stopped.values.set_values().contains("agent"));
    CHECK(stopped.why.find("stop") != std::string::npos);
    CHECK(usecases::next_trial(snapshot, *snapshot.find(cleared)).values.set_values().at("agent") ==
          "acetone 20, isooctane 80");
    CHECK(usecases::says_stop(snapshot.of_kind("trial").front()->body));
}

TEST_CASE("The last trial of each passage, and what was written before, come newest first") {
    UsecaseBook b;
    b.add("trial", trial(b, "sky", "isooctane 100", "too-weak", "dirt"));
    const Uuid foliage = b.add("trial", trial(b, "foliage", "acetone 10, isooctane 90", "too-weak", "dirt"));
    const Uuid sky = b.add("trial", trial(b, "sky", "acetone 10, isooctane 90", "too-weak", "dirt"));
    const auto snapshot = b.snapshot();
    const auto last = usecases::last_trials(snapshot);
    REQUIRE(last.size() == 2);
    CHECK(last[0]->id == sky);
    CHECK(last[1]->id == foliage);
    CHECK(usecases::used_before(snapshot, "trial", "agent", 4) ==
          std::vector<std::string>{"acetone 10, isooctane 90", "isooctane 100"});
    CHECK(usecases::used_before(snapshot, "trial", "agent", 1).size() == 1);
}
