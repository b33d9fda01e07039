// What may yet be seen is never told to a buyer: neither the record of a cleaning forecast nor its file leaves.
#include <catch2/catch.hpp>

#include "quick_files.hpp"
#include "sample_case.hpp"
#include "tedge/base/files.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/dossier/extract.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;
namespace fs = std::filesystem;

namespace {

const std::string forecast_sha256(64, 'f');
const std::string forecast_caption = "The sky as it may look";

casebook::CaseSnapshot case_with_forecast() {
    auto snapshot = test::told_case();
    const Uuid photograph = snapshot.of_kind("photograph").front()->id;
    casebook::Record record;
    record.id = parse_uuid("01890000-0000-7000-8000-0000000000f0").value();
    record.case_id = snapshot.picture.id;
    record.kind = "cleaning_forecast";
    record.body = casebook::Body(nlohmann::json{{"what", "forecast"},
                                                {"sha256", forecast_sha256},
                                                {"media_type", "image/jpeg"},
                                                {"width_px", 1200},
                                                {"height_px", 900},
                                                {"from_photographs", {{to_text(photograph), "before"}}},
                                                {"recipe", {{"method", "coat fitted"}}},
                                                {"caption", forecast_caption}});
    snapshot.records.push_back(std::move(record));
    return snapshot;
}

}  // namespace

TEST_CASE("A cleaning forecast is told to those who work on the picture and to nobody else", "[forecast]") {
    const auto snapshot = case_with_forecast();
    for (const Reader reader : {Reader::own, Reader::restorer})
        CHECK(Extract::of(snapshot, reader).of_kind("cleaning_forecast").size() == 1);
    for (const Reader reader : {Reader::buyer, Reader::carrier, Reader::insurer, Reader::scholar})
        CHECK(Extract::of(snapshot, reader).of_kind("cleaning_forecast").empty());
}

TEST_CASE("A photograph that bears the word of a forecast leaves for nobody who may have no forecast", "[forecast]") {
    require_gui_application();
    // Every photograph of the case shows one, as it might from a book that knew no better.
    class Forecasts final : public PictureSource {
    public:
        Expected<imaging::Raster8> photograph(const Uuid&, int) override { return test::picture_with_the_word(); }
        Expected<imaging::Raster8> registered(const Uuid& moving, const Uuid&, int longest_side_px) override {
            return photograph(moving, longest_side_px);
        }
    };
    const auto snapshot = test::told_case();
    const TemporaryFolder scratch;
    const auto written_for = [&](Reader reader, const char* folder) {
        Forecasts pictures;
        const DossierRequest request{
            .reader = reader, .now = parse_instant("2027-03-03T12:00:00Z").value(), .out = scratch.path() / folder};
        return write_dossier(snapshot, request, pictures);
    };
    for (const Reader reader : {Reader::buyer, Reader::insurer, Reader::scholar}) {
        const auto written = written_for(reader, "outside");
        REQUIRE_FALSE(written);
        CHECK(written.error().code == "dossier.forecast");
        CHECK_FALSE(written.error().next.empty());
    }
    CHECK(fs::is_empty(scratch.path() / "outside"));
    CHECK(written_for(Reader::own, "own"));
}

TEST_CASE("Nothing of a cleaning forecast is in a buyer's dossier", "[forecast]") {
    require_gui_application();
    const auto snapshot = case_with_forecast();
    const auto files_for = [&](Reader reader, const fs::path& out) {
        test::MadePictures pictures(200);
        const DossierRequest request{
            .reader = reader, .now = parse_instant("2027-03-03T12:00:00Z").value(), .out = out};
        return write_dossier(snapshot, request, pictures).value();
    };
    const auto mentions = [](const fs::path& bag) {
        std::vector<std::string> names;
        for (const auto& entry : fs::recursive_directory_iterator(bag)) {
            if (!entry.is_regular_file()) continue;
            const std::string bytes = read_file(entry.path()).value();
            const std::string name = to_utf8(entry.path().filename());
            for (const std::string& secret :
                 {forecast_sha256, forecast_caption, std::string("cleaning_forecast"), std::string("0000000000f0")})
                if (bytes.find(secret) != std::string::npos || name.find(secret) != std::string::npos)
                    names.push_back(name);
        }
        return names;
    };
    const TemporaryFolder scratch;
    CHECK(mentions(files_for(Reader::buyer, scratch.path() / "buyer").bag).empty());
    // The same search finds it where it may be.
    CHECK_FALSE(mentions(files_for(Reader::restorer, scratch.path() / "restorer").bag).empty());
}
