#include "linked_art.hpp"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "embedded_tables.hpp"
#include "field_text.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/table.hpp"
#include "tedge/dossier/recorded_chain.hpp"
#include "tedge/provenance/attribution.hpp"
#include "tedge/provenance/civil_day.hpp"

namespace tedge::dossier {

using casebook::Record;
using nlohmann::json;

namespace {

const std::string context = "https://linked.art/ns/v1/linked-art.json";
constexpr std::int64_t last_xsd_year = 9999;  // date-times of the context have four-digit years

const Table& aat_table() {
    static const Table table = Table::parse(embedded::aat_terms_csv).value();
    return table;
}

// A term by its label. An unknown label is a programming error.
json term(const std::string& label) {
    const Table& table = aat_table();
    for (std::size_t row = 0; row < table.row_count(); ++row)
        if (table.cell(row, "label") == label && table.cell(row, "status") == "confirmed")
            return {{"id", "http://vocab.getty.edu/aat/" + table.cell(row, "aat_id").substr(4)},
                    {"type", "Type"},
                    {"_label", label}};
    throw std::logic_error("no confirmed thesaurus term: " + label);
}

json statement(const std::string& label, const std::string& text) {
    json sort = term(label);
    sort["classified_as"] = json::array({term("Brief Text")});
    return {{"type", "LinguisticObject"}, {"classified_as", json::array({std::move(sort)})}, {"content", text}};
}

json name(const std::string& label, const std::string& text) {
    return {{"type", "Name"}, {"classified_as", json::array({term(label)})}, {"content", text}};
}

std::string urn(const Uuid& id) {
    return "urn:uuid:" + to_text(id);
}

// A UUID of version 8 (RFC 9562 section 5.8) made from a text.
Uuid uuid_of(const std::string& text) {
    const auto digest = sha256(text);
    Uuid id;
    std::copy_n(digest.begin(), id.bytes.size(), id.bytes.begin());
    id.bytes[6] = static_cast<std::uint8_t>((id.bytes[6] & 0x0F) | 0x80);
    id.bytes[8] = static_cast<std::uint8_t>((id.bytes[8] & 0x3F) | 0x80);
    return id;
}

json reference(const std::string& id, const std::string& type, const std::string& label) {
    return {{"id", id}, {"type", type}, {"_label", label}};
}

json actor(const std::string& printed_name, bool group) {
    return reference(urn(uuid_of("actor\n" + printed_name)), group ? "Group" : "Person", printed_name);
}

json picture_reference(const Extract& extract) {
    return reference(urn(extract.picture().id), "HumanMadeObject", extract.picture().body.text_or("title"));
}

std::optional<json> timespan(const provenance::Edtf& date) {
    json span{{"type", "TimeSpan"}};
    const auto fits = [](provenance::DayNumber day) {
        const auto year = provenance::civil_day(day).year;
        return year >= 0 && year <= last_xsd_year;
    };
    if (date.lower && fits(*date.lower))
        span["begin_of_the_begin"] = provenance::to_iso_text(*date.lower) + "T00:00:00Z";
    if (date.upper && fits(*date.upper)) span["end_of_the_end"] = provenance::to_iso_text(*date.upper) + "T23:59:59Z";
    if (span.size() == 1) return std::nullopt;
    span["identified_by"] = json::array({name("Display Title", edtf_words(date.text))});
    return span;
}

std::optional<json> timespan(const std::string& edtf) {
    const auto date = provenance::parse_edtf(edtf);
    return date ? timespan(*date) : std::nullopt;
}

json dimension(const std::string& label, double length_mm) {
    json unit = term("millimeters");
    unit["type"] = "MeasurementUnit";
    return {{"type", "Dimension"},
            {"classified_as", json::array({term(label)})},
            {"value", length_mm},
            {"unit", std::move(unit)}};
}

// By the claim that stands last: a person where it names his own hand, a group for everything around him.
std::optional<json> maker(const Extract& extract) {
    const auto claims = extract.of_kind("attribution_claim");
    if (claims.empty()) return std::nullopt;
    const std::string qualifier = claims.back()->body.text_or("qualifier");
    const std::string artist = claims.back()->body.text_or("artist");
    if (artist.empty()) return std::nullopt;
    const auto* known = provenance::find_attribution_term(qualifier);
    const bool own_hand = qualifier.empty() || qualifier == "by" || (known != nullptr && known->order <= 1.0);
    return own_hand ? actor(artist, false) : actor(sentence_case(qualifier + " " + artist), true);
}

json production(const Extract& extract) {
    const auto& body = extract.picture().body;
    json made{{"type", "Production"}};
    if (auto span = timespan(body.text_or("date_made"))) made["timespan"] = std::move(*span);
    if (auto by = maker(extract)) made["carried_out_by"] = json::array({std::move(*by)});
    if (const std::string artist = body.text_or("artist"); !artist.empty())
        made["referred_to_by"] = json::array({statement("Production Statement", artist)});
    return made;
}

void add_statement(json& list, const std::string& label, const std::string& text) {
    if (!text.empty()) list.push_back(statement(label, text));
}

json statements(const Extract& extract) {
    const auto& body = extract.picture().body;
    json list = json::array();
    add_statement(list, "Material Statement", body.text_or("technique"));
    const auto width = body.number("width_mm");
    const auto height = body.number("height_mm");
    if (width && height) add_statement(list, "Dimension Statement", format_size_height_first(*height, *width));
    add_statement(list, "Description", body.text_or("subject"));
    add_statement(list, "Description", body.text_or("distinguishing"));
    for (const Record* survey : extract.of_kind("survey"))
        add_statement(list, "Condition Statement", survey->body.text_or("summary"));
    for (const Record* inscription : extract.of_kind("inscription"))
        add_statement(list, "Inscription", inscription->body.text_or("transcription"));
    if (const auto chain = recorded_chain(extract); !chain.empty())
        add_statement(list, "Provenance Statement", provenance::statement(chain).text());
    return list;
}

bool is_cleaning(const std::string& act) {
    return act == "surface-cleaning" || act == "varnish-removal";
}

json modifications(const Extract& extract) {
    json list = json::array();
    for (const std::string_view kind : {"treatment_step", "structure_step"})
        for (const Record* step : extract.of_kind(kind)) {
            if (step->body.flag("planned")) continue;
            const std::string act = step->body.text_or("act");
            json change{{"type", "Modification"}, {"_label", sentence_case(word_text(act))}};
            if (is_cleaning(act)) change["technique"] = json::array({term("Cleaning")});
            if (auto span = timespan(step->body.text_or("done_on"))) change["timespan"] = std::move(*span);
            json told = json::array();
            add_statement(told, "Description", step->body.text_or("text"));
            add_statement(told, "Material Statement", step->body.text_or("materials"));
            if (!told.empty()) change["referred_to_by"] = std::move(told);
            list.push_back(std::move(change));
        }
    return list;
}

json object_document(const Extract& extract) {
    const auto& body = extract.picture().body;
    json sort = term("Painting");
    sort["classified_as"] = json::array({term("Type of Work")});
    json object{{"@context", context},
                {"id", urn(extract.picture().id)},
                {"type", "HumanMadeObject"},
                {"_label", body.text_or("title")},
                {"classified_as", json::array({std::move(sort), term("Artwork")})},
                {"identified_by", json::array({name("Primary Name", body.text_or("title"))})}};
    if (const std::string stock = body.text_or("stock_number"); !stock.empty())
        object["identified_by"].push_back(
            {{"type", "Identifier"}, {"classified_as", json::array({term("Stock Number")})}, {"content", stock}});
    json dimensions = json::array();
    if (const auto height = body.number("height_mm")) dimensions.push_back(dimension("Height", *height));
    if (const auto width = body.number("width_mm")) dimensions.push_back(dimension("Width", *width));
    if (!dimensions.empty()) object["dimension"] = std::move(dimensions);
    if (auto told = statements(extract); !told.empty()) object["referred_to_by"] = std::move(told);
    if (auto made = production(extract); made.size() > 1) object["produced_by"] = std::move(made);
    if (auto changes = modifications(extract); !changes.empty()) object["modified_by"] = std::move(changes);
    return object;
}

bool holds_for_others(provenance::LinkKind kind) {
    return kind != provenance::LinkKind::owner;
}

json provenance_document(const Extract& extract, const provenance::ChainLink& link, std::size_t number) {
    const bool custody = holds_for_others(link.kind);
    const std::string label = (custody ? "In the hands of " : "Owned by ") + link.owner;
    json transfer{{"type", custody ? "TransferOfCustody" : "Acquisition"}, {"_label", label}};
    transfer[custody ? "transferred_custody_of" : "transferred_title_of"] = json::array({picture_reference(extract)});
    transfer[custody ? "transferred_custody_to" : "transferred_title_to"] =
        json::array({actor(link.owner, link.kind != provenance::LinkKind::owner)});
    json activity{{"@context", context},
                  {"id", urn(uuid_of("provenance\n" + to_text(extract.picture().id) + "\n" + std::to_string(number)))},
                  {"type", "Activity"},
                  {"_label", label},
                  {"classified_as", json::array({term("Provenance Activity")})},
                  {"part", json::array({std::move(transfer)})}};
    if (link.from)
        if (auto span = timespan(*link.from)) activity["timespan"] = std::move(*span);
    json told = json::array();
    add_statement(told, "Provenance Statement", provenance::statement({link}).text());
    activity["referred_to_by"] = std::move(told);
    return activity;
}

std::string two_digits(std::size_t number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
}

}  // namespace

std::vector<NamedFile> linked_art_files(const Extract& extract) {
    std::vector<NamedFile> files{{"linked-art/object.json", object_document(extract).dump(1) + "\n"}};
    std::size_t number = 0;
    for (const auto& link : recorded_chain(extract)) {
        ++number;
        files.emplace_back("linked-art/provenance-" + two_digits(number) + ".json",
                           provenance_document(extract, link, number).dump(1) + "\n");
    }
    return files;
}

}  // namespace tedge::dossier
