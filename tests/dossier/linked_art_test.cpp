// Against the shapes that the schemas of Linked Art 1.0 ask for (https://linked.art/api/1.0/schema/, CC BY 4.0): the
// required keys, the allowed keys, the types of nested entities. The whole schemas are too large to carry here.
#include "linked_art.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "region_annotations.hpp"
#include "sample_case.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;
using nlohmann::json;

namespace {

std::set<std::string> keys_of(const json& object) {
    std::set<std::string> keys;
    for (const auto& [key, value] : object.items()) keys.insert(key);
    return keys;
}

void collect_terms(const json& value, std::vector<std::pair<std::string, std::string>>& terms) {
    if (value.is_object() && value.contains("id") &&
        value["id"].get<std::string>().starts_with("http://vocab.getty.edu/"))
        terms.emplace_back(value["id"].get<std::string>(), value["_label"].get<std::string>());
    if (value.is_structured())
        for (const auto& item : value) collect_terms(item, terms);
}

}  // namespace

TEST_CASE("the picture is a HumanMadeObject of Linked Art", "[linked-art]") {
    const auto extract = Extract::of(test::told_case(), Reader::buyer);
    const auto files = linked_art_files(extract);
    REQUIRE(files.size() == 3);
    const json object = json::parse(files[0].second);
    CHECK(keys_of(object) == std::set<std::string>{"@context", "id", "type", "_label", "classified_as", "identified_by",
                                                   "dimension", "referred_to_by", "produced_by", "modified_by"});
    CHECK(object["@context"] == "https://linked.art/ns/v1/linked-art.json");
    CHECK(object["type"] == "HumanMadeObject");
    CHECK(object["classified_as"][0]["classified_as"][0]["id"] == "http://vocab.getty.edu/aat/300435443");
    CHECK(object["dimension"][0] == json::parse(R"({"type":"Dimension","value":618.0,
        "classified_as":[{"id":"http://vocab.getty.edu/aat/300055644","type":"Type","_label":"Height"}],
        "unit":{"id":"http://vocab.getty.edu/aat/300379097","type":"MeasurementUnit","_label":"millimeters"}})"));
    CHECK(object["produced_by"]["timespan"]["begin_of_the_begin"] == "1660-01-01T00:00:00Z");
    CHECK(object["produced_by"]["timespan"]["end_of_the_end"] == "1660-12-31T23:59:59Z");
    CHECK(object["produced_by"]["carried_out_by"][0]["type"] == "Group");  // a follower is not the artist
    CHECK(object["modified_by"].size() == 2);                              // what is only planned has not happened
    for (const auto& statement : object["referred_to_by"]) {
        CHECK(statement["type"] == "LinguisticObject");
        CHECK(statement["classified_as"][0]["classified_as"][0]["id"] == "http://vocab.getty.edu/aat/300418049");
        CHECK(keys_of(statement) == std::set<std::string>{"type", "classified_as", "content"});
    }
}

TEST_CASE("the provenance is activities of Linked Art", "[linked-art]") {
    const auto extract = Extract::of(test::told_case(), Reader::scholar);
    const auto files = linked_art_files(extract);
    const json first = json::parse(files[1].second);
    CHECK(keys_of(first) == std::set<std::string>{"@context", "id", "type", "_label", "classified_as", "part",
                                                  "referred_to_by", "timespan"});
    CHECK(first["classified_as"][0]["id"] == "http://vocab.getty.edu/aat/300055863");
    CHECK(first["part"][0]["type"] == "Acquisition");
    CHECK(first["part"][0]["transferred_title_of"][0]["type"] == "HumanMadeObject");
    CHECK(first["part"][0]["transferred_title_to"][0]["_label"] == "Hendrik Tolle");
    const json second = json::parse(files[2].second);
    CHECK(second["part"][0]["type"] == "TransferOfCustody");  // a dealer holds it
    CHECK(second["part"][0].contains("transferred_custody_of"));
}

TEST_CASE("every thesaurus number written is one that the table confirms", "[linked-art]") {
    const auto csv = read_file(std::filesystem::path(TEDGE_SOURCE_DIR) / "resources/reference/aat_terms.csv");
    REQUIRE(csv);
    const auto table = Table::parse(*csv);
    REQUIRE(table);
    std::set<std::pair<std::string, std::string>> confirmed;
    for (std::size_t row = 0; row < table->row_count(); ++row)
        if (table->cell(row, "status") == "confirmed")
            confirmed.emplace("http://vocab.getty.edu/aat/" + table->cell(row, "aat_id").substr(4),
                              table->cell(row, "label"));
    std::vector<std::pair<std::string, std::string>> terms;
    for (const auto& [name, text] : linked_art_files(Extract::of(test::told_case(), Reader::own)))
        collect_terms(json::parse(text), terms);
    CHECK(terms.size() > 20);
    for (const auto& written : terms) {
        INFO(written.first << " " << written.second);
        CHECK(confirmed.contains(written));
    }
}

TEST_CASE("places are Web Annotations in pixels of the picture", "[annotations]") {
    const auto extract = Extract::of(test::told_case(), Reader::buyer);
    const auto* photograph = extract.of_kind("photograph").front();
    const auto text = annotation_page(extract, *photograph, "pictures/01.jpg", {600, 450});
    REQUIRE(text);
    const json page = json::parse(*text);
    CHECK(page["@context"] == "http://www.w3.org/ns/anno.jsonld");
    CHECK(page["type"] == "AnnotationPage");
    REQUIRE(page["items"].size() == 4);  // two findings, a trial, an inscription
    const json& first = page["items"][0];
    CHECK(first["type"] == "Annotation");
    CHECK(first["target"]["source"] == "../pictures/01.jpg");
    CHECK(first["target"]["selector"]["type"] == "SvgSelector");
    // 60 to 200 mm of 824 and 20 to 80 mm of 618, on 600 × 450 px: by hand 43.69, 145.63, 14.56, 58.25.
    const std::string svg = first["target"]["selector"]["value"].get<std::string>();
    for (const std::string corner : {"43.69,14.56", "145.63,14.56", "145.63,58.25", "43.69,58.25"}) {
        INFO(svg);
        CHECK(svg.find(corner) != std::string::npos);
    }
}
