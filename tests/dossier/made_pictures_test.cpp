// Pictures made from photographs have a section of their own: each with what it comes from, how it was made, its scale,
// and from where on it counts.
#include <algorithm>
#include <catch2/catch.hpp>

#include "made_at.hpp"
#include "sample_case.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/dossier/extract.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;
using nlohmann::json;

namespace {

// Half a millimetre to the pixel: 2 px to a millimetre.
json half_a_millimetre() {
    return {{"homography", {0.5, 0, 0.25, 0, 0.5, 0.25, 0, 0, 1}}, {"error_mm", 0.1}};
}

struct Made {
    casebook::CaseSnapshot snapshot = test::told_case();
    Uuid before = snapshot.of_kind("photograph").at(0)->id, after = snapshot.of_kind("photograph").at(1)->id;
    std::uint8_t number = 0;

    void add(const std::string& what, json recipe, json more = json::object(),
             const std::string& kind = "derived_picture") {
        json body{{"what", what},
                  {"sha256", std::string(64, 'b')},
                  {"media_type", "image/png"},
                  {"width_px", 800},
                  {"height_px", 600},
                  {"from_photographs", {{to_text(before), "before"}, {to_text(after), "after"}}},
                  {"recipe", std::move(recipe)},
                  {"face_frame", to_text(snapshot.of_kind("face_frame").front()->id)},
                  {"face_from_picture", half_a_millimetre()}};
        body.update(more);
        casebook::Record record;
        record.id = parse_uuid("01890000-0000-7000-8000-0000000000f0").value();
        record.id.bytes[15] = static_cast<std::uint8_t>(0xf0 + number++);
        record.case_id = snapshot.picture.id;
        record.kind = kind;
        record.body = casebook::Body(std::move(body));
        snapshot.records.push_back(std::move(record));
    }
    Document composed(Reader reader) { return compose_document(Extract::of(snapshot, reader), pictures, noon); }
    std::string told(Reader reader) { return text_of(composed(reader)); }

    test::MadePictures pictures;
};

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

constexpr const char* heading = "Pictures made from the photographs\n";

}  // namespace

TEST_CASE("a difference says what it compares, as what, from where on it counts, and at what scale", "[dossier]") {
    Made made;
    made.add("difference",
             {{"map", "delta-e00"},
              {"scale", {1.4, 20.0}},
              {"scale_both_ways", false},
              {"floor", "Both are corrected by their charts. Differences below ΔE00 1.4 are no evidence of a change."}},
             {{"caption", "ΔE00 between two photographs"}});
    const std::string text = made.told(Reader::buyer);
    CHECK(has(text, std::string(heading)));
    CHECK(has(text,
              "Difference, recto\n\nΔE00 between two photographs\nMade from\n"
              "Recto, normal light, as received (before)\nRecto, normal light, varnished (after)\nHow\n"));
    CHECK(has(text, "as ΔE00; dark to bright is from 1.4 to 20. Grey is left out"));
    CHECK(has(text, "Counts from\nBoth are corrected by their charts. Differences below ΔE00 1.4 are no evidence"));
    CHECK(has(text, "Scale\n2.00 px to a millimetre of the face\n"));
    CHECK_FALSE(has(text, "Further records\nDerived pictures"));
    CHECK(has(text, "Pictures made from photographs\nThey were computed"));  // among the sources
    // A scale bar under the picture, as under any other.
    for (const Block& block : made.composed(Reader::buyer).blocks)
        if (const auto* row = std::get_if<PictureRow>(&block);
            row != nullptr && row->pictures.front().caption == "ΔE00 between two photographs")
            CHECK(*row->pictures.front().px_per_mm == Approx(2.0));
}

TEST_CASE("each sort of made picture tells its recipe in a sentence, in millimetres", "[dossier]") {
    Made made;
    made.add("crack-map", {{"tone", "light"}, {"widest_px", 14.0}, {"px_per_mm", 4.0}});
    made.add("crack-change", {{"px_per_mm", 4.0}, {"error_px", 1.0}, {"least_length_px", 20.0}});
    made.add("relief-change", {{"px_per_mm", 4.0},
                               {"error_px", 0.4},
                               {"lamp_after", {{"side", "top-left"}}},
                               {"scale_times_floor", {1.0, 5.0}}});
    made.add("weave-map", json::object(), {{"caption", "Threads counted across the face"}});
    made.add("legibility", {{"method", "principal-component"}, {"component", 2}});
    made.add("comparison", json::object());
    made.add("spectral-map", {{"method", "of a newer program"}});
    made.add("difference", {{"map", "delta-b"}, {"scale", {0.0, 20.0}}, {"scale_both_ways", true}});
    const std::string text = made.told(Reader::scholar);
    CHECK(has(text, "Fine lines lighter than the paint on both their sides, up to 3.5 mm wide, are drawn in blue"));
    CHECK(has(text, "looked for in the other, which lies on it to ± 0.25 mm. New ones are drawn in vermilion"));
    CHECK(has(text, "Counts from\nShorter pieces than 5.0 mm that differ are undecided."));
    CHECK(
        has(text, "raking light from the top left shade the relief differently, from dark to bright between 1 and 5"));
    CHECK(has(text, "Twice what the noise of the photographs and a misfit of ± 0.10 mm could make"));
    CHECK(has(text, "Grey squares are not to be trusted."));
    CHECK(has(text, "taken apart by their spread, component 3. Nothing is drawn in"));
    CHECK(has(text, "painted side by side or in one another's place."));
    CHECK(has(text, "Spectral map, recto\n"));
    CHECK_FALSE(has(text, "of a newer program"));
    CHECK(has(text, "as Δb*; blue is less, brown more, up to 20 either way."));
}

TEST_CASE("who may have no made pictures is told of none; what lies nowhere has no scale", "[dossier]") {
    Made made;
    made.add("comparison", json::object(), {{"face_from_picture", nullptr}, {"face_frame", nullptr}});
    for (const Reader reader : {Reader::carrier, Reader::insurer}) {
        CHECK_FALSE(has(made.told(reader), heading));
        CHECK_FALSE(has(made.told(reader), "Comparison"));
    }
    CHECK(has(made.told(Reader::restorer), "Comparison\n"));
    CHECK(has(made.told(Reader::restorer), "Scale\nnot placed on the face\n"));
    // A photograph that was deleted since.
    std::erase_if(made.snapshot.records, [&](const casebook::Record& record) { return record.id == made.after; });
    CHECK(has(made.told(Reader::own),
              "Made from\nRecto, normal light, as received (before)\n"
              "A photograph that is no longer among the records\n"));
}

TEST_CASE("a forecast stands apart, for those who work on the picture alone", "[dossier][forecast]") {
    Made made;
    made.add("forecast", {{"notes", json::array()}}, {{"caption", "The sky as it may look"}}, "cleaning_forecast");
    for (const Reader reader : {Reader::own, Reader::restorer}) {
        const std::string text = made.told(reader);
        CHECK(has(text, "What cleaning may show\nForecast\nNothing here has been seen."));
        CHECK(has(text, "Forecast, recto\n\nThe sky as it may look\n"));
        CHECK(has(text, "no photograph, and no promise."));
        CHECK_FALSE(has(text, heading));
    }
    for (const Reader reader : {Reader::buyer, Reader::carrier, Reader::insurer, Reader::scholar})
        CHECK_FALSE(has(made.told(reader), "may show"));
}

TEST_CASE("a made picture that bears the word of a forecast leaves for nobody who may have none",
          "[dossier][forecast]") {
    require_gui_application();
    Made made;
    made.add("comparison", json::object());
    const Uuid bearing = made.snapshot.records.back().id;
    class OneForecast final : public PictureSource {
    public:
        explicit OneForecast(const Uuid& id) : id_(id) {}
        Expected<imaging::Raster8> photograph(const Uuid& id, int longest_side_px) override {
            if (id != id_) return test::MadePictures(400).photograph(id, longest_side_px);
            return test::picture_with_the_word();
        }
        Expected<imaging::Raster8> registered(const Uuid& moving, const Uuid&, int longest_side_px) override {
            return photograph(moving, longest_side_px);
        }

    private:
        Uuid id_;
    };
    const TemporaryFolder scratch;
    const auto written_for = [&](Reader reader, const char* folder) {
        OneForecast pictures(bearing);
        const DossierRequest request{.reader = reader, .now = noon, .out = scratch.path() / folder};
        return write_dossier(made.snapshot, request, pictures);
    };
    const auto refused = written_for(Reader::buyer, "buyer");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "dossier.forecast");
    CHECK(refused.error().values.at("record") == to_text(bearing));
    CHECK(written_for(Reader::restorer, "restorer"));
}
