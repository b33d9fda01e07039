// Cases as plain snapshots, without a casebook: one told by hand, and random ones with a mark in every field.
#pragma once

#include <map>
#include <nlohmann/json.hpp>

#include "fixed_sources.hpp"
#include "sample_document.hpp"
#include "tedge/casebook/snapshot.hpp"
#include "tedge/dossier/picture_source.hpp"
#include "tedge/imaging/forecast_sheet.hpp"

namespace tedge::test {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

class CaseBuilder {
public:
    CaseBuilder() {
        snapshot.picture.id = ids.next();
        snapshot.picture.kind = "case";
    }
    void picture(json body) { snapshot.picture.body = Body(std::move(body)); }
    Uuid add(std::string_view kind, json body) {
        Record record;
        record.id = ids.next();
        record.case_id = snapshot.picture.id;
        record.kind = std::string(kind);
        record.body = Body(std::move(body));
        record.first_written = record.last_written = parse_instant("2027-01-01T09:00:00Z").value();
        (kind == "person" ? snapshot.people : snapshot.records).push_back(record);
        return record.id;
    }

    CountingIds ids{3};
    CaseSnapshot snapshot;
};

// Bears the word of a forecast in its pixels.
inline Expected<imaging::Raster8> picture_with_the_word() {
    imaging::CleaningForecast forecast;
    forecast.picture = imaging::Raster8(480, 360, 3);
    forecast.uncertainty = imaging::RasterF(48, 36, 1);
    forecast.cell_px = 10;
    return imaging::uncertainty_sheet(forecast);
}

// Painted on demand.
class MadePictures final : public dossier::PictureSource {
public:
    explicit MadePictures(int largest_px = 1200) : largest_px_(largest_px) {}
    Expected<imaging::Raster8> photograph(const Uuid&, int longest_side_px) override {
        const int width = std::min(longest_side_px, largest_px_);
        return made_picture(width, width * 3 / 4);
    }
    Expected<imaging::Raster8> registered(const Uuid& moving, const Uuid&, int longest_side_px) override {
        return photograph(moving, longest_side_px);
    }

private:
    int largest_px_;
};

inline json rectangle_json(double x, double y, double width, double height) {
    return json::parse(Region::rectangle({x, y}, {width, height}).value().to_geojson());
}

// A photograph of 1200 × 900 px that shows a face of 824 × 618 mm and nothing else.
inline json placement_json(double error_mm = 0.2) {
    const double s = 824.0 / 1200.0;
    return {{"homography", {s, 0, 0.5 * s, 0, s, 0.5 * s, 0, 0, 1}}, {"error_mm", error_mm}};
}

inline json photograph_json(const std::string& face, const std::string& light, const std::string& stage,
                            const Uuid& frame) {
    return {{"face", face},
            {"light", light},
            {"stage", stage},
            {"width_px", 1200},
            {"height_px", 900},
            {"sha256", std::string(64, 'a')},
            {"face_frame", to_text(frame)},
            {"face_from_photo", placement_json()},
            {"file_name", "IMG_0001 Secretcam.jpg"}};
}

inline CaseSnapshot told_case() {
    CaseBuilder made;
    const Uuid restorer =
        made.add("person", {{"name", "Ottoline Marsh"}, {"role", "restorer"}, {"address", "3 Hidden Lane"}});
    const Uuid viewer = made.add("person", {{"name", "Percival Quill"}, {"role", "viewer"}});
    made.picture({{"title", "Wooded river at evening, with a ferry"},
                  {"artist", "Follower of Aart van der Linne"},
                  {"date_made", "1660~"},
                  {"technique", "Oil on plain-weave canvas, lined"},
                  {"subject", "A river between wooded banks towards evening; a ferry with cattle half across."},
                  {"distinguishing", "A repaired tear above the ferry."},
                  {"width_mm", 824.0},
                  {"height_mm", 618.0},
                  {"stock_number", "TE-0017"},
                  {"asking_price", {{"minor", 1850000}, {"currency", "GBP"}}},
                  {"private_note", "The widow would take much less."}});
    const Uuid frame = made.add("face_frame", {{"face", "recto"}, {"width_mm", 824.0}, {"height_mm", 618.0}});
    const Uuid before = made.add("photograph", photograph_json("recto", "normal", "as-received", frame));
    json varnished = photograph_json("recto", "normal", "varnished", frame);
    varnished["face_from_photo"] = placement_json(0.12);  // as its registration below laid it
    const Uuid after = made.add("photograph", varnished);
    made.add("photograph", photograph_json("recto", "raking", "as-received", frame));
    made.add("registration",
             {{"reference", to_text(before)}, {"moving", to_text(after)}, {"usable", true}, {"error_mm", 0.12}});
    made.add("survey", {{"surveyed_on", "2026-01-14"},
                        {"surveyor", to_text(restorer)},
                        {"face", "recto"},
                        {"condition", "fair"},
                        {"loose_paint", "mapped"},
                        {"summary", "Sound under a thick yellowed varnish; loose paint along the upper edge."},
                        {"note", "Bench note: keep the left key for dating."}});
    made.add("finding", {{"face_frame", to_text(frame)},
                         {"region", rectangle_json(60, 20, 140, 60)},
                         {"layer", "paint"},
                         {"term", "flaking"},
                         {"unstable", true},
                         {"severity", "moderate"}});
    made.add("finding", {{"face_frame", to_text(frame)},
                         {"region", rectangle_json(400, 250, 60, 90)},
                         {"layer", "support"},
                         {"term", "tear, repaired"},
                         {"unstable", true},
                         {"consolidated_on", "2026-02-02"},
                         {"severity", "severe"},
                         {"text", "43 mm, mended with threads from behind."}});
    made.add("trial", {{"face_frame", to_text(frame)},
                       {"region", rectangle_json(700, 80, 15, 15)},
                       {"passage", "sky"},
                       {"layer", "varnish"},
                       {"agent", "isooctane 80, ethanol 20"},
                       {"application", "rolled swab"},
                       {"seconds", 30},
                       {"passes", 2},
                       {"swab_colour", "yellow-brown"},
                       {"swab_answer", "varnish"},
                       {"verdict", "cleared"},
                       {"done_on", "2026-01-20"},
                       {"done_by", to_text(restorer)},
                       {"delta_e00_inside", 14.2},
                       {"delta_e00_outside", 0.4}});
    made.add("treatment_step", {{"act", "varnish-removal"},
                                {"materials", "Isooctane and ethanol, 4 to 1, on cotton"},
                                {"text", "Varnish reduced evenly, a thin layer left over the darks."},
                                {"done_on", "2026-02-10"},
                                {"done_by", to_text(restorer)},
                                {"hours", 31.5}});
    made.add("treatment_step", {{"act", "final-varnish"}, {"planned", true}, {"materials", "Dammar, thin"}});
    made.add("structure_step",
             {{"act", "keying-out"}, {"text", "Keyed out by a quarter turn."}, {"done_on", "2026-02-20"}});
    made.add("picture_frame", {{"description", "Ebonised ripple frame, nineteenth century"}, {"rebate_depth_mm", 18}});
    made.add("provenance_link", {{"order", 1},
                                 {"owner", "Hendrik Tolle"},
                                 {"life", "1640/1701"},
                                 {"role", "owner"},
                                 {"place", "Zwolle"},
                                 {"from", "1662"},
                                 {"to", "1701"},
                                 {"direct_to_next", "no"},
                                 {"source", "Inventory of 1701, no. 12"}});
    made.add("provenance_link", {{"order", 2},
                                 {"owner", "Brandt & Lowe"},
                                 {"role", "dealer"},
                                 {"place", "London"},
                                 {"from", "1928"},
                                 {"transfer", "with"},
                                 {"direct_to_next", "unknown"},
                                 {"private_note", "Their ledger smells of invention."}});
    made.add("attribution_claim", {{"qualifier", "follower of"},
                                   {"artist", "Aart van der Linne"},
                                   {"claimed_by", "Dr Mirabel Stone"},
                                   {"claimed_on", "2025-11"},
                                   {"evidence_for", "Handling of the foliage."}});
    made.add("inscription", {{"face_frame", to_text(frame)},
                             {"region", rectangle_json(40, 560, 70, 20)},
                             {"kind", "signature"},
                             {"transcription", "A v Linne f"},
                             {"reading", "doubtful"}});
    made.add("custody", {{"place", "Unit 4, strong room"},
                         {"holder", to_text(restorer)},
                         {"from", "2026-01-10"},
                         {"insured_value", {{"minor", 2200000}, {"currency", "GBP"}}}});
    made.add("viewing_note", {{"viewer", to_text(viewer)}, {"text", "Dirtier than the saleroom admits."}});
    made.add("measurement",
             {{"what", "Threads to the centimetre, warp"}, {"value", 14.2}, {"unit", "1/cm"}, {"uncertainty", 0.4}});
    return made.snapshot;
}

}  // namespace tedge::test
