#include "tedge/dossier/extract.hpp"

#include <catch2/catch.hpp>

#include "sample_case.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;

TEST_CASE("an extract holds what the field tables name for its reader and nothing else", "[extract]") {
    const auto snapshot = test::told_case();
    const auto buyer = Extract::of(snapshot, Reader::buyer);
    CHECK(buyer.picture().body.text_or("title") == "Wooded river at evening, with a ferry");
    CHECK_FALSE(buyer.picture().body.has("asking_price"));
    CHECK_FALSE(buyer.picture().body.has("private_note"));
    CHECK(buyer.of_kind("viewing_note").empty());
    CHECK(buyer.of_kind("custody").empty());
    CHECK(buyer.people().empty());
    REQUIRE(buyer.of_kind("trial").size() == 1);
    CHECK_FALSE(buyer.of_kind("trial").front()->body.has("done_by"));
    CHECK_FALSE(buyer.of_kind("treatment_step").front()->body.has("hours"));
    CHECK_FALSE(buyer.of_kind("photograph").front()->body.has("file_name"));

    const auto restorer = Extract::of(snapshot, Reader::restorer);
    REQUIRE(restorer.people().size() == 1);  // the viewer is named only in what he may not have
    CHECK(restorer.people().front().body.text_or("name") == "Ottoline Marsh");
    CHECK_FALSE(restorer.people().front().body.has("address"));
    CHECK(restorer.of_kind("survey").front()->body.has("note"));

    const auto carrier = Extract::of(snapshot, Reader::carrier);
    CHECK(carrier.of_kind("provenance_link").empty());
    CHECK_FALSE(carrier.of_kind("finding").empty());
    REQUIRE(carrier.of_kind("custody").size() == 1);
    CHECK_FALSE(carrier.of_kind("custody").front()->body.has("insured_value"));
}

TEST_CASE("who may not read of treatments is not told of danger that one of them ended", "[extract]") {
    auto made = test::told_case();
    const auto flaking = std::ranges::find_if(made.records, [](const auto& record) {
        return record.kind == "finding" && record.body.text_or("term") == "flaking";
    });
    REQUIRE(flaking != made.records.end());
    const casebook::Record finding = *flaking;
    CHECK(Extract::of(made, Reader::carrier).is_open_danger(finding));
    casebook::Record step = finding;
    step.id = parse_uuid("01a215c8-0000-7000-8000-0000000000f1").value();
    step.kind = "treatment_step";
    nlohmann::json said = finding.body.as_json();
    said["act"] = "consolidation";
    said["done_on"] = to_text(finding.first_written).substr(0, 10);
    step.body = casebook::Body(std::move(said));
    made.records.push_back(step);
    const auto carrier = Extract::of(made, Reader::carrier);
    CHECK(carrier.of_kind("treatment_step").empty());
    CHECK_FALSE(carrier.is_open_danger(finding));
    CHECK(carrier.consolidated_on(finding) == step.body.text_or("done_on"));
}

TEST_CASE("unknown kinds, deleted records and unknown fields do not leave", "[extract]") {
    test::CaseBuilder made;
    made.picture({{"title", "A"}, {"a_field_of_tomorrow", "x"}});
    made.add("kind_of_tomorrow", {{"title", "x"}});
    made.add("finding", {{"term", "flaking"}});
    made.snapshot.records.back().deleted = true;
    for (const auto reader : {Reader::own, Reader::buyer}) {
        const auto extract = Extract::of(made.snapshot, reader);
        CHECK(extract.records().empty());
        CHECK_FALSE(extract.picture().body.has("a_field_of_tomorrow"));
    }
}
