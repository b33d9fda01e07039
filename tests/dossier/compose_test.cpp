#include "tedge/dossier/compose.hpp"
#include "tedge/casebook/leak_search.hpp"
#include "tedge/dossier/extract.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "archive_check.hpp"
#include "made_at.hpp"
#include "pdf_text.hpp"
#include "planted_marks.hpp"
#include "quick_files.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/casebook/leak_search.hpp"
#include "tedge/dossier/bag_verifier.hpp"
#include "tedge/dossier/extract.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;
namespace fs = std::filesystem;

namespace {

DossierFiles must_write(const casebook::CaseSnapshot& snapshot, Reader reader, const fs::path& out,
                        int largest_px = 1200) {
    require_gui_application();
    test::MadePictures pictures(largest_px);
    DossierRequest request{.reader = reader, .now = noon, .out = out};
    request.heads.push_back({snapshot.picture.id, snapshot.picture.id, 12, {}});
    request.heads.push_back({snapshot.picture.id, Uuid{}, 7, {}});
    auto files = write_dossier(snapshot, request, pictures);
    if (!files) FAIL(files.error().code << ": " << files.error().message << " " << files.error().values["where"]);
    return *files;
}

// Everything in the bag that is not a picture; of the PDF each object decompressed and the words of its pages.
std::string everything_readable(const DossierFiles& files) {
    std::string all;
    for (const auto& entry : fs::recursive_directory_iterator(files.bag)) {
        if (!entry.is_regular_file()) continue;
        const std::string bytes = test::got(entry.path());
        const bool is_pdf = entry.path().extension() == ".pdf";
        all += is_pdf ? test::view_of(bytes).decoded + text_in_pdf(bytes).value() : bytes;
        all += entry.path().filename().string() + "\n";
    }
    return all;
}

void place_anew(casebook::CaseSnapshot& snapshot, const Uuid& photograph, const nlohmann::json& placement) {
    const auto found = std::ranges::find(snapshot.records, photograph, &casebook::Record::id);
    REQUIRE(found != snapshot.records.end());
    auto body = found->body.as_json();
    body["face_from_photo"] = placement;
    found->body = casebook::Body(body);
}

}  // namespace

TEST_CASE("a dossier is an archival PDF and a valid bag, for every reader", "[dossier]") {
    const auto reader =
        GENERATE(Reader::own, Reader::buyer, Reader::restorer, Reader::carrier, Reader::insurer, Reader::scholar);
    const TemporaryFolder scratch;
    const auto files = must_write(test::told_case(), reader, scratch.path() / "out");
    const std::string pdf = test::got(files.pdf);
    if (const char* keep = std::getenv("TEDGE_KEEP_DOSSIERS"))
        fs::copy(scratch.path() / "out", keep, fs::copy_options::recursive | fs::copy_options::overwrite_existing);
    CHECK(test::archive_faults(pdf) == std::vector<std::string>{});
    CHECK(test::view_of(pdf).pages == files.pages);
    CHECK(test::got(files.bag / "data/dossier.pdf") == pdf);
    const auto report = verify_bag(files.bag);
    REQUIRE(report);
    CHECK(report->problems == std::vector<BagProblem>{});
    CHECK(report->valid);
}

TEST_CASE("the sections of a dossier follow from what its reader may have", "[dossier]") {
    const auto sections = [](Reader reader) {
        test::MadePictures pictures;
        const auto extract = Extract::of(test::told_case(), reader);
        std::vector<std::string> titles;
        for (const auto& block : compose_document(extract, pictures, noon).blocks)
            if (const auto* heading = std::get_if<Heading>(&block); heading && heading->level == 1)
                titles.push_back(heading->text);
        return titles;
    };
    using Titles = std::vector<std::string>;
    CHECK(sections(Reader::buyer) == Titles{"Identification", "Photographs", "Condition",
                                            "The same place, before and after", "Measurements", "Cleaning trials",
                                            "Treatment", "Structure", "Frame", "Provenance", "Attribution",
                                            "Inscriptions and marks", "Care and cautions", "Named as unfinished",
                                            "Sources, and how sure they are"});
    CHECK(sections(Reader::carrier) == Titles{"Identification", "For the journey", "Photographs", "Condition", "Frame",
                                              "Whereabouts", "Care and cautions", "Named as unfinished",
                                              "Sources, and how sure they are", "Handed over and received"});
}

namespace {

std::vector<PictureRow> rows_under(const Document& document, std::string_view title) {
    std::vector<PictureRow> rows;
    bool inside = false;
    for (const auto& block : document.blocks) {
        if (const auto* heading = std::get_if<Heading>(&block))
            inside = heading->level == 1 ? heading->text == title : inside;
        if (const auto* row = std::get_if<PictureRow>(&block); row && inside) rows.push_back(*row);
    }
    return rows;
}

}  // namespace

TEST_CASE("only the registration that a photograph lies by lays it over another", "[dossier]") {
    const auto told = [](const casebook::CaseSnapshot& snapshot) {
        test::MadePictures pictures;
        std::vector<std::string> captions;
        const auto document = compose_document(Extract::of(snapshot, Reader::buyer), pictures, noon);
        for (const auto& row : rows_under(document, "The same place, before and after"))
            for (const auto& picture : row.pictures)
                if (picture.caption.find("Laid over it") != std::string::npos) captions.push_back(picture.caption);
        return captions;
    };
    auto snapshot = test::told_case();
    const casebook::Record registration = *snapshot.of_kind("registration").front();
    const Uuid varnished = *registration.body.record("moving");
    auto named = test::placement_json(0.4);
    named["registration"] = to_text(registration.id);

    SECTION("the placement names it, whatever error it says of itself") {
        place_anew(snapshot, varnished, named);
        CHECK_FALSE(told(snapshot).empty());
    }
    SECTION("placed anew by its corners") {
        place_anew(snapshot, varnished, test::placement_json(1.5));
        CHECK(told(snapshot).empty());
    }
    SECTION("laid anew: the other one is named, and the first is told of no more") {
        casebook::Record again = registration;
        again.id.bytes[0] ^= 0xff;
        auto body = again.body.as_json();
        body["error_mm"] = 0.07;
        again.body = casebook::Body(body);
        snapshot.records.insert(snapshot.records.begin(), again);  // its place in the list decides nothing
        named["registration"] = to_text(again.id);
        place_anew(snapshot, varnished, named);
        const auto captions = told(snapshot);
        REQUIRE_FALSE(captions.empty());
        for (const std::string& each : captions) CHECK(each.find("within about 0.07 mm") != std::string::npos);
    }
    SECTION("the reference lies elsewhere by now") {
        for (casebook::Record& each : snapshot.records) {
            if (each.id != registration.id) continue;
            auto body = each.body.as_json();
            body["reference_placed"] = std::string(64, '0');
            each.body = casebook::Body(body);
        }
        CHECK(told(snapshot).empty());
    }
}

TEST_CASE("states stand over one reference, shown once, and details are the same cut of both", "[dossier]") {
    auto snapshot = test::told_case();
    // The raking photograph is laid over the same reference.
    const auto photographs = snapshot.of_kind("photograph");
    casebook::Record third = *snapshot.of_kind("registration").front();
    const Uuid laid = photographs.at(2)->id;
    auto body = third.body.as_json();
    body["moving"] = to_text(laid);
    body["error_mm"] = 0.3;
    third.id = laid;
    third.id.bytes[0] ^= 0xff;
    third.body = casebook::Body(body);
    snapshot.records.push_back(third);
    place_anew(snapshot, laid, test::placement_json(0.3));

    test::MadePictures pictures;
    const auto extract = Extract::of(snapshot, Reader::buyer);
    const auto document = compose_document(extract, pictures, noon);
    const auto rows = rows_under(document, "The same place, before and after");
    std::size_t references = 0;
    std::vector<std::string> captions;
    for (const auto& row : rows)
        for (const auto& picture : row.pictures) {
            references += picture.caption.find("The others are laid over this one.") != std::string::npos ? 1U : 0U;
            captions.push_back(picture.caption);
            CHECK(picture.px_per_mm);  // a scale bar under each
        }
    CHECK(references == 1);
    REQUIRE(rows.size() == 4);  // two rows of three states, then a row for each of two findings
    CHECK(captions.at(1) == "Recto, raking light, as received. Laid over it to within about 0.30 mm.");
    CHECK(captions.at(2) == "Recto, normal light, varnished. Laid over it to within about 0.12 mm.");
    CHECK(rows[2].caption == "Finding 2: tear, repaired.");  // the graver one first
    for (const std::size_t detail : {2U, 3U}) {
        const auto& pair = rows[detail].pictures;
        REQUIRE(pair.size() == 2);
        CHECK(pair[0].size.width_px == pair[1].size.width_px);
        CHECK(pair[0].size.height_px == pair[1].size.height_px);
        // The tear's 60 × 90 mm: a square of 1.3 × 90 mm at 1200 px for 824 mm, to a pixel or two.
        if (detail == 2) CHECK(std::abs(pair[0].size.height_px - 117.0 * 1200.0 / 824.0) < 3.0);
        const auto pixels = pair[0].pixels(100);
        REQUIRE(pixels);
        CHECK(std::abs(std::max(pixels->width_px(), pixels->height_px()) - 100) <=
              2);  // no more pixels than are asked for
    }
}

TEST_CASE("a carrier reads size, weight and what is fragile first, and is not told to hang the picture", "[dossier]") {
    const auto text = [](const casebook::CaseSnapshot& snapshot) {
        test::MadePictures pictures;
        const auto extract = Extract::of(snapshot, Reader::carrier);
        return text_of(compose_document(extract, pictures, noon));
    };
    auto snapshot = test::told_case();
    const auto has = [](const std::string& all, const char* part) { return all.find(part) != std::string::npos; };
    const std::string bare = text(snapshot);
    CHECK(has(bare, "Weight, framed\nnot recorded: take it before packing\n"));
    CHECK(has(bare, "Fragile now\nNo 1, flaking, recto\n"));
    CHECK_FALSE(has(bare, "Hang it"));
    for (auto& record : snapshot.records) {
        auto body = record.body.as_json();
        if (record.kind == "picture_frame")
            body.update(
                {{"outer_width_mm", 900}, {"outer_height_mm", 700}, {"outer_depth_mm", 65}, {"weight_kg", 7.5}});
        if (record.kind == "finding") body["consolidated_on"] = "2026-02-02";
        record.body = casebook::Body(body);
    }
    const std::string known = text(snapshot);
    CHECK(has(known, "Weight, framed\n7.5 kg\n"));
    CHECK(has(known, "Framed\n700 × 900 mm"));
    CHECK(has(known, ", 65 mm deep\n"));
    CHECK(has(known, "Fragile now\nnothing recorded as unstable now; look at it before it is moved\n"));
    // Said to be loose, and nobody drew where: no word of safety.
    std::erase_if(snapshot.records, [](const casebook::Record& record) { return record.kind == "finding"; });
    for (auto& record : snapshot.records) {
        if (record.kind != "survey") continue;
        auto body = record.body.as_json();
        body["loose_paint"] = "mapped";
        record.body = casebook::Body(body);
    }
    CHECK(has(text(snapshot),
              "Fragile now\nloose by the survey, and it is not recorded where: ask before it is moved\n"));
}

TEST_CASE("surveys that say the same of several faces are told once", "[dossier]") {
    auto snapshot = test::told_case();
    casebook::Record again = *snapshot.of_kind("survey").front();
    auto body = again.body.as_json();
    body["face"] = "edge-top";
    again.body = casebook::Body(body);
    again.id.bytes[0] ^= 0xff;
    snapshot.records.push_back(again);
    test::MadePictures pictures;
    const auto extract = Extract::of(snapshot, Reader::buyer);
    const std::string text = text_of(compose_document(extract, pictures, noon));
    CHECK(text.find("Survey of the recto and top edge, 14 January 2026\n") != std::string::npos);
}

namespace {

casebook::Record again_with(const casebook::Record& record, const nlohmann::json& changes, std::uint8_t mark = 0xff) {
    casebook::Record again = record;
    nlohmann::json body = record.body.as_json();
    if (!changes.empty()) body.update(changes);
    again.body = casebook::Body(std::move(body));
    again.id.bytes[0] ^= mark;
    return again;
}

std::string told(const casebook::CaseSnapshot& snapshot, Reader reader) {
    test::MadePictures pictures;
    const auto extract = Extract::of(snapshot, reader);
    return text_of(compose_document(extract, pictures, noon));
}

}  // namespace

TEST_CASE("the newest survey is told first, and a later one of the same face is not taken for it", "[dossier]") {
    auto snapshot = test::told_case();
    snapshot.records.push_back(
        again_with(*snapshot.of_kind("survey").front(), {{"surveyed_on", "2026-02-28"}, {"condition", "good"}}));
    // The same words on another day are another survey.
    snapshot.records.push_back(again_with(*snapshot.of_kind("survey").front(), {{"surveyed_on", "2026-02-01"}}, 0x0f));
    const std::string text = told(snapshot, Reader::buyer);
    const auto last = text.find("Survey of the recto, 28 February 2026\n");
    const auto middle = text.find("Survey of the recto, 1 February 2026\n");
    const auto first = text.find("Survey of the recto, 14 January 2026\n");
    REQUIRE(last != std::string::npos);
    REQUIRE(middle != std::string::npos);
    REQUIRE(first != std::string::npos);
    CHECK(last < middle);
    CHECK(middle < first);
}

// A list can be parted where a page ends, a map cannot: two maps after each other leave half a page empty.
TEST_CASE("the list of findings stands between the maps before and after", "[dossier]") {
    const std::string text = told(test::told_case(), Reader::buyer);
    const auto before = text.find("\nRecto, before\n");
    const auto list = text.find("\nFindings\n");
    const auto after = text.find("\nRecto, after\n");
    REQUIRE(before != std::string::npos);
    REQUIRE(after != std::string::npos);
    CHECK(before < list);
    CHECK(list < after);
    const auto trials = text.find("\nVerdict\n");
    REQUIRE(trials != std::string::npos);
    CHECK(trials < text.find("Places of the trials."));
}

TEST_CASE("photographs stand in even rows, with captions that end like sentences", "[dossier]") {
    auto snapshot = test::told_case();
    int number = 0;
    for (auto& record : snapshot.records)
        if (record.kind == "photograph") {
            auto body = record.body.as_json();
            body["caption"] =
                std::vector<const char*>{"Before all work", "Finished.", "Light from the left …"}[number++];
            record.body = casebook::Body(body);
        }
    test::MadePictures pictures;
    const auto extract = Extract::of(snapshot, Reader::buyer);
    const auto rows = rows_under(compose_document(extract, pictures, noon), "Photographs");
    REQUIRE(rows.size() == 1);
    // A column of three is (160 - 2 × 6) / 3 mm wide: an upright picture is not taller than that.
    CHECK(rows[0].max_height_mm <= 148.0 / 3.0);
    std::string captions;
    for (const auto& picture : rows[0].pictures) captions += picture.caption + "\n";
    CHECK(captions.find("as received. Before all work.\n") != std::string::npos);
    CHECK(captions.find("Finished.\n") != std::string::npos);
    CHECK(captions.find("Light from the left …\n") != std::string::npos);
}

TEST_CASE("a facing says which findings it holds down", "[dossier]") {
    auto snapshot = test::told_case();
    const auto finding = *snapshot.of_kind("finding").front();  // flaking, 60 to 200 mm across, 20 to 80 mm down
    const auto frame = finding.body.as_json()["face_frame"];
    const auto facing = [&](const nlohmann::json& region, std::uint8_t mark) {
        auto record = again_with(finding, {}, mark);
        record.kind = "facing";
        record.body = casebook::Body({{"face_frame", frame}, {"region", region}, {"tissue", "Japanese tissue"}});
        return record;
    };
    // Below the first facing too: one that somebody found firm, and one that is loose by its name alone.
    const auto below = [&](const nlohmann::json& said, std::uint8_t mark) {
        auto record = again_with(finding, {}, mark);
        record.body = casebook::Body({{"face_frame", frame}, {"region", test::rectangle_json(70, 30, 20, 20)}});
        return again_with(record, said, 0);
    };
    snapshot.records.push_back(below({{"term", "craquelure"}, {"unstable", false}}, 0x3c));
    snapshot.records.push_back(below({{"term", "lifting flakes"}}, 0xc3));
    snapshot.records.push_back(facing(test::rectangle_json(50, 10, 160, 80), 0xff));
    snapshot.records.push_back(facing(test::rectangle_json(600, 500, 40, 40), 0x0f));  // over nothing that is mapped
    const std::string text = told(snapshot, Reader::restorer);
    const auto over = text.find("Over\nfinding 1, flaking\nfinding 4, lifting flakes\nOn\nrecto\n");
    CHECK(over != std::string::npos);
    CHECK(text.find("Over\n", over + 1) == std::string::npos);
}

TEST_CASE("a swab that told nothing is not called an undecided trial", "[dossier]") {
    auto snapshot = test::told_case();
    for (auto& record : snapshot.records)
        if (record.kind == "trial") record = again_with(record, {{"verdict", "stop"}, {"swab_answer", "undecided"}}, 0);
    const std::string stopped = told(snapshot, Reader::buyer);
    CHECK(stopped.find("What came off on the swab was left undecided in 1 cleaning trial.\n") != std::string::npos);
    CHECK(stopped.find("cleaning trial is undecided") == std::string::npos);
    for (auto& record : snapshot.records)
        if (record.kind == "trial") record = again_with(record, {{"verdict", "undecided"}}, 0);
    const std::string undecided = told(snapshot, Reader::buyer);
    CHECK(undecided.find("1 cleaning trial is undecided.") != std::string::npos);
    CHECK(undecided.find("What came off") == std::string::npos);
}

TEST_CASE("a trial that nobody judged is told as one, and as unfinished", "[dossier]") {
    auto snapshot = test::told_case();
    for (auto& record : snapshot.records) {
        if (record.kind != "trial") continue;
        auto body = record.body.as_json();
        body.erase("verdict");
        record.body = casebook::Body(body);
    }
    const std::string text = told(snapshot, Reader::buyer);
    CHECK(text.find("\nnot judged yet\n20 January 2026\n") != std::string::npos);
    CHECK(text.find("1 cleaning trial is not judged yet.") != std::string::npos);
    CHECK(told(test::told_case(), Reader::buyer).find("not judged yet") != std::string::npos);  // under the map alone
    CHECK(told(test::told_case(), Reader::buyer).find("is not judged yet.") == std::string::npos);
}

TEST_CASE("several short records of one kind stand in a table", "[dossier]") {
    auto snapshot = test::told_case();
    const auto like = *snapshot.of_kind("custody").front();
    for (std::uint8_t i = 1; i <= 3; ++i) {
        auto record = again_with(like, {}, i);
        record.kind = "deadline";
        record.body = casebook::Body({{"what", "term " + std::to_string(i)}, {"on", "2026-04-0" + std::to_string(i)}});
        // Done on: known of the second alone.
        if (i == 2) record = again_with(record, {{"done_on", "2026-04-01"}}, 0);
        snapshot.records.push_back(record);
    }
    const std::string text = told(snapshot, Reader::own);
    CHECK(text.find("Deadlines\n\nWhat falls due\nOn\nDone on\n"
                    "term 1\n1 April 2026\n\nterm 2\n2 April 2026\n1 April 2026\nterm 3\n3 April 2026\n\n") !=
          std::string::npos);
}

TEST_CASE("a dossier names what is unfinished", "[dossier]") {
    test::MadePictures pictures;
    const auto extract = Extract::of(test::told_case(), Reader::buyer);
    const std::string text = text_of(compose_document(extract, pictures, noon));
    CHECK(text.find("1 unstable finding is not consolidated.") != std::string::npos);
    CHECK(text.find("Final varnish is planned and not done.") != std::string::npos);
    CHECK(text.find("No photograph of the back in normal light.") != std::string::npos);
    CHECK(text.find("No photograph of the front in raking light.") == std::string::npos);
    CHECK(text.find("Hendrik Tolle") != std::string::npos);
    CHECK(text.find("Ottoline") == std::string::npos);
}

TEST_CASE("the same case gives the same dossier", "[dossier]") {
    const TemporaryFolder scratch;
    const auto first = must_write(test::told_case(), Reader::buyer, scratch.path() / "a");
    const auto second = must_write(test::told_case(), Reader::buyer, scratch.path() / "b");
    CHECK(test::got(first.bag / "tagmanifest-sha512.txt") == test::got(second.bag / "tagmanifest-sha512.txt"));
}

TEST_CASE("the heads of the case and of no other go with it", "[dossier]") {
    const TemporaryFolder scratch;
    const auto files = must_write(test::told_case(), Reader::buyer, scratch.path() / "out");
    const auto heads = nlohmann::json::parse(test::got(files.bag / "data/heads.json"))["heads"];
    REQUIRE(heads.size() == 1);
    CHECK(heads[0]["number"] == 12);
}

TEST_CASE("pictures of the bag carry no metadata", "[dossier]") {
    const TemporaryFolder scratch;
    const auto files = must_write(test::told_case(), Reader::restorer, scratch.path() / "out");
    int pictures = 0;
    for (const auto& entry : fs::directory_iterator(files.bag / "data/pictures")) {
        if (entry.path().extension() != ".jpg") continue;
        ++pictures;
        const std::string bytes = test::got(entry.path());
        CHECK(bytes.starts_with("\xFF\xD8\xFF"));
        for (const std::string sign : {"Exif", "http://ns.adobe.com/xap", "Photoshop", "8BIM"})
            CHECK(bytes.find(sign) == std::string::npos);
    }
    CHECK(pictures == 3);
}

TEST_CASE("a dossier is refused where a withheld value stands in a text that leaves", "[dossier]") {
    require_gui_application();
    const TemporaryFolder scratch;
    auto snapshot = test::told_case();
    nlohmann::json body = snapshot.picture.body.as_json();
    body["subject"] = "A river, bought after Percival Quill saw it.";
    snapshot.picture.body = casebook::Body(body);
    test::MadePictures pictures;
    DossierRequest request{.reader = Reader::buyer, .now = noon, .out = scratch.path() / "out"};
    const auto refused = write_dossier(snapshot, request, pictures);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "dossier.leak");
    CHECK(refused.error().values.at("field") == "name");
    CHECK(fs::is_empty(scratch.path() / "out"));
    request.leaks_accepted = {{"purchase", "all_in"}};
    CHECK(write_dossier(snapshot, request, pictures).error().code == "dossier.leak");  // of another field
    request.leaks_accepted = {{"person", "name"}};
    CHECK(write_dossier(snapshot, request, pictures));
    CHECK(write_dossier(snapshot, request, pictures).error().code == "dossier.exists");
}

// The search below can fail: a mark that a person let through is found, in the pages of the PDF by itself.
TEST_CASE("a mark that leaves is found", "[dossier][marks]") {
    const TemporaryFolder scratch;
    auto snapshot = test::MarkedCase(1, Reader::buyer).snapshot();
    nlohmann::json body = snapshot.picture.body.as_json();
    const auto note = body["private_note"].get<std::string>();
    body["technique"] = note;
    snapshot.picture.body = casebook::Body(body);
    const auto files = must_write(snapshot, Reader::buyer, scratch.path() / "out", 200);  // told now, so no leak
    const std::string mark = note.substr(5, 12);
    REQUIRE(mark.starts_with("zq"));
    CHECK(everything_readable(files).find(mark) != std::string::npos);
    CHECK(text_in_pdf(test::got(files.pdf)).value().find(mark) != std::string::npos);
}

TEST_CASE("no mark planted in a withheld field leaves with a dossier", "[dossier][marks]") {
    const auto reader = GENERATE(Reader::buyer, Reader::restorer, Reader::carrier);
    const unsigned cases = reader == Reader::buyer ? 50 : 4;
    std::size_t withheld = 0;
    for (unsigned seed = 1; seed <= cases; ++seed) {
        const TemporaryFolder scratch;
        const test::MarkedCase made(seed, reader);
        const auto files = must_write(made.snapshot(), reader, scratch.path() / "out", 200);
        const std::string all = everything_readable(files);
        CAPTURE(seed);
        for (const auto& mark : made.marks().withheld) {
            CAPTURE(mark);
            REQUIRE(all.find(mark) == std::string::npos);
        }
        withheld += made.marks().withheld.size();
        // And the marks that may leave do, or the search would prove nothing.
        for (const auto& mark : made.marks().allowed)
            if (mark.starts_with("zq") && all.find(mark) == std::string::npos)
                FAIL("allowed mark is missing: " << mark);
    }
    CHECK(withheld > 60 * cases);
}

// Nobody may have a note of suspicion or the private price code: the own file is a file that can be handed on.
TEST_CASE("notes of suspicion leave for no reader, the house itself included", "[dossier][marks]") {
    const auto reader =
        GENERATE(Reader::own, Reader::buyer, Reader::restorer, Reader::carrier, Reader::insurer, Reader::scholar);
    CAPTURE(to_text(reader));
    const TemporaryFolder scratch;
    const auto snapshot = test::MarkedCase(3, reader).snapshot();
    const auto files = must_write(snapshot, reader, scratch.path() / "out", 200);
    const std::string all = everything_readable(files);
    int searched = 0;
    for (const casebook::Record& record : snapshot.records) {
        const char* field = record.kind == "suspicion" ? "text" : record.kind == "house" ? "price_code" : nullptr;
        if (field == nullptr) continue;
        CHECK(all.find(record.body.text_or(field).substr(5, 12)) == std::string::npos);
        ++searched;
    }
    CHECK(searched >= 2);
    CHECK(all.find("suspicion") == std::string::npos);
    CHECK(Extract::of(snapshot, reader).of_kind("suspicion").empty());
    // Written into a text that leaves, it is found before it does.
    const auto& note = *snapshot.of_kind("suspicion").front();
    const auto found = casebook::find_leaks(snapshot, reader, {{"a letter", note.body.text_or("text")}});
    CHECK(std::ranges::any_of(found, [](const casebook::Leak& leak) { return leak.kind == "suspicion"; }));
}

TEST_CASE("a table has no column that says nothing", "[dossier]") {
    const DataTable table{{{"No"}, {"ΔE00"}, {"Verdict"}}, {{"1", "", "cleared"}, {"2", "", ""}}, {}};
    const DataTable kept = without_empty_columns(table);
    REQUIRE(kept.columns.size() == 2);
    CHECK(kept.columns[1].title == "Verdict");
    CHECK(kept.rows[0] == std::vector<std::string>{"1", "cleared"});
    CHECK(kept.rows[1] == std::vector<std::string>{"2", ""});
}
