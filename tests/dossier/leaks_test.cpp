// That what is secret is found in a dossier: in the values of a case, and in the files as they leave.
#include <catch2/catch.hpp>

#include "archive_check.hpp"
#include "pdf_text.hpp"
#include "planted_marks.hpp"
#include "quick_files.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/leak_search.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;
using casebook::Reader;
namespace fs = std::filesystem;

namespace {

using Fields = std::vector<std::string>;

Fields leaks(const casebook::CaseSnapshot& snapshot, const std::string& text, Reader reader = Reader::buyer) {
    Fields fields;
    for (const auto& leak : casebook::find_leaks(snapshot, reader, {{"text", text}}))
        fields.push_back(leak.kind + "." + leak.field);
    return fields;
}

Expected<DossierFiles> written(const casebook::CaseSnapshot& snapshot, const fs::path& out, bool leaks_accepted) {
    require_gui_application();
    test::MadePictures pictures(200);
    DossierRequest request{.reader = Reader::buyer, .now = parse_instant("2026-03-03T12:00:00Z").value(), .out = out};
    for (const casebook::Kind* kind : casebook::all_kinds()) {
        for (const casebook::Field& field : kind->fields) {
            if (leaks_accepted) request.leaks_accepted.insert({std::string(kind->name), std::string(field.name)});
        }
    }
    return write_dossier(snapshot, request, pictures);
}

// The told case with a secret written into a text that every buyer reads.
casebook::CaseSnapshot case_telling(const std::string& secret) {
    auto snapshot = test::told_case();
    nlohmann::json body = snapshot.picture.body.as_json();
    body["distinguishing"] = "A repaired tear. " + secret + " So it is.";
    snapshot.picture.body = casebook::Body(body);
    return snapshot;
}

// Which files of the bag hold a leak, the pages of the PDF read by their fonts.
std::vector<std::string> leaking_files(const casebook::CaseSnapshot& snapshot, const fs::path& bag) {
    std::vector<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(bag)) {
        if (!entry.is_regular_file() || entry.path().extension() == ".jpg") continue;
        const std::string bytes = read_file(entry.path()).value();
        const std::string text = entry.path().extension() == ".pdf" ? text_in_pdf(bytes).value() : bytes;
        if (!leaks(snapshot, text).empty()) names.push_back(to_utf8(entry.path().filename()));
    }
    std::ranges::sort(names);
    return names;
}

}  // namespace

TEST_CASE("withheld values are found in texts that would leave", "[leaks]") {
    const auto snapshot = test::told_case();
    const auto in = [&](const std::string& text, Reader reader = Reader::buyer) {
        return leaks(snapshot, text, reader);
    };
    CHECK(in("A quiet river.") == Fields{});
    CHECK(in("as Percival\n Quill said") == Fields{"person.name"});
    CHECK(in("asked 18,500.00 for it") == Fields{"case.asking_price"});
    CHECK(in("asked 18500.00 for it") == Fields{"case.asking_price"});
    CHECK(in("{\"minor\":1850000}") == Fields{"case.asking_price"});
    CHECK(in("118500.001") == Fields{});  // inside another number
    CHECK(in("THE WIDOW WOULD TAKE MUCH LESS.") == Fields{"case.private_note"});
    CHECK(in("from IMG_0001 Secretcam.jpg") ==
          Fields{"photograph.file_name", "photograph.file_name", "photograph.file_name"});
    CHECK(in("Ottoline Marsh") == Fields{"person.name"});
    CHECK(in("Ottoline Marsh", Reader::restorer) == Fields{});
    CHECK(in("Ottoline Marshes") == Fields{});
    CHECK(in("Dr Mirabel Stone") == Fields{});  // the claim names her for the buyer
}

TEST_CASE("the words of a finished PDF can be read again", "[leaks]") {
    const TemporaryFolder scratch;
    const auto files = written(test::told_case(), scratch.path() / "out", false);
    REQUIRE(files);
    const std::string text = text_in_pdf(test::got(files->pdf)).value();
    for (const char* told : {"Tolle", "Ebonised", "Linne", "ripple"}) {
        CAPTURE(told);
        CHECK(text.find(told) != std::string::npos);
    }
    CHECK(text.find("Percival") == std::string::npos);
    CHECK(text_in_pdf("no PDF").error().code == "pdf.unreadable");
}

TEST_CASE("a planted secret is refused, and where it is let through it is found in PDF and bag", "[leaks]") {
    const std::string secret = GENERATE(as<std::string>(), "Percival Quill saw it.", "Asked were GBP 18,500.00 then.",
                                        "The widow would take much less.", "From IMG_0001 Secretcam.jpg it comes.");
    CAPTURE(secret);
    const TemporaryFolder scratch;
    const auto snapshot = case_telling(secret);
    const auto refused = written(snapshot, scratch.path() / "refused", false);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "dossier.leak");
    CHECK(refused.error().values.at("where") == "the text of the PDF");
    const auto files = written(snapshot, scratch.path() / "out", true);
    REQUIRE(files);
    const auto names = leaking_files(snapshot, files->bag);
    CHECK(names == std::vector<std::string>{"case.csv", "case.json", "dossier.pdf", "object.json"});
    const auto clean = written(test::told_case(), scratch.path() / "clean", false);
    REQUIRE(clean);
    CHECK(leaking_files(test::told_case(), clean->bag).empty());
}
