#include "tedge/casebook/gates.hpp"

#include <fstream>
#include <regex>
#include <set>

#include "paper_case.hpp"

using namespace tedge;
using namespace tedge::casebook;

TEST_CASE("Each act meets its gates, and an act that nothing guards meets none") {
    Act act;
    const std::vector<std::pair<const char*, std::vector<int>>> expected{
        {"facing", {4}}, {"trial", {7, 8}}, {"dossier", {22}}, {"deadline", {}}};
    for (const auto& [kind, gates] : expected) {
        act.kind = kind;
        CAPTURE(kind);
        CHECK(gates_before(act) == gates);
    }
    CHECK_THROWS_AS(ask_gate(99, CaseSnapshot{}, act), std::out_of_range);
}

TEST_CASE("A gate asked twice answers the same and leaves the case as it was") {
    PaperCase paper;
    paper.finding(paper.recto, rectangle(0, 0, 10, 10), "flaking", true);
    const Act act = paper.act("trial", FieldValues()
                                           .record("face_frame", paper.recto)
                                           .region("region", rectangle(5, 5, 5, 5))
                                           .text("passage", "sky")
                                           .text("layer", "varnish")
                                           .text("agent", "isooctane 100"));
    const std::size_t records = paper.snapshot.records.size();
    const auto first = ask_gates(paper.snapshot, act);
    const auto second = ask_gates(paper.snapshot, act);
    REQUIRE(first.size() == 2);
    for (std::size_t i = 0; i < first.size(); ++i) {
        CHECK(first[i].sentence() == second[i].sentence());
        CHECK(first[i].missing.size() == second[i].missing.size());
    }
    CHECK(paper.snapshot.records.size() == records);
}

TEST_CASE("What the gates are said to look at is what their sources ask for") {
    std::set<std::string> asked{"photograph"};  // through any_photograph
    const std::filesystem::path folder = std::filesystem::path(TEDGE_SOURCE_DIR) / "src/casebook/gates";
    const std::regex of_kind("of_kind\\(\"([a-z_]+)\"\\)");
    std::vector<std::filesystem::path> sources{folder / "../findings.cpp"};  // whether a place is consolidated
    for (const auto& entry : std::filesystem::directory_iterator(folder)) sources.push_back(entry.path());
    for (const std::filesystem::path& source : sources) {
        if (source.filename() == "gate_22_leaving.cpp") continue;
        std::ifstream file(source);
        const std::string text{std::istreambuf_iterator<char>(file), {}};
        for (std::sregex_iterator found(text.begin(), text.end(), of_kind), none; found != none; ++found) {
            asked.insert((*found)[1]);
        }
    }
    const auto kinds = kinds_asked_by_gates();
    CHECK(asked == std::set<std::string>(kinds.begin(), kinds.end()));
}
