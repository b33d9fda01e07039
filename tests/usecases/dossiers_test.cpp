#include "tedge/usecases/dossiers.hpp"

#include "tedge/base/files.hpp"
#include "tedge/dossier/bag_verifier.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;
using casebook::Reader;
using casebook::Record;

TEST_CASE("The six readers are known by their words, a seventh is refused with the six named") {
    for (const char* word : {"own", "buyer", "restorer", "carrier", "insurer", "scholar"})
        CHECK(casebook::to_text(must(parse_reader(word))) == word);
    const auto refused = parse_reader("neighbour");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().next.find("restorer") != std::string::npos);
}

TEST_CASE("A buyer's dossier is a PDF and a valid bag, and warns of what is not signed") {
    UsecaseBook shop;
    const WrittenDossier written =
        must(write_case_dossier(shop.acting, shop.case_id, Reader::buyer, shop.folder / "out"));
    CHECK(written.pages >= 1);
    CHECK(must(read_file(written.pdf)).starts_with("%PDF-1.4"));
    CHECK(must(dossier::verify_bag(written.bag)).valid);
    CHECK_FALSE(written.warnings.empty());
}

namespace {

// The name of a client, whom no reader outside is told of.
std::string client_of(UsecaseBook& shop) {
    const Uuid client = must(shop.book.person_named("Perpetua Underhill-Gage"));
    shop.add("custody", FieldValues().text("place", "workshop").record("holder", client).text("from", "2026-03-05"));
    return "Perpetua Underhill-Gage";
}

}  // namespace

TEST_CASE("A name that slipped into a treatment's text closes gate 22, and no file is written") {
    UsecaseBook shop;
    const std::string text = "Varnish thinned as " + client_of(shop) + " wished.";
    shop.add("treatment_step", FieldValues().text("act", "varnish-removal").text("text", text));
    const auto refused = write_case_dossier(shop.acting, shop.case_id, Reader::buyer, shop.folder / "out");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "gate.closed");
    CHECK(refused.error().values.at("gate") == "22");
    CHECK_FALSE(std::filesystem::exists(shop.folder / "out"));
}

TEST_CASE("A named person lets a field pass for one dossier; the next is asked again, another field stays closed") {
    UsecaseBook shop;
    const std::string text = "Varnish thinned as " + client_of(shop) + " wished.";
    shop.add("treatment_step", FieldValues().text("act", "varnish-removal").text("text", text));
    const auto answers = must(gates_before_dossier(shop.acting, shop.case_id, Reader::buyer));
    const auto& missing = answers.front().missing.front();
    CHECK(missing.code == "22.internal:person.name");
    CHECK(missing.record == must(shop.book.person_named("Perpetua Underhill-Gage")));
    const Override pass{shop.case_id, 22, missing.code, "Ada Wren", "she asked to be named", false, {}};
    const auto write = [&](const char* folder, const std::vector<Override>& overrides) {
        const auto done =
            write_case_dossier(shop.acting, shop.case_id, Reader::buyer, shop.folder / folder, {}, overrides);
        return done ? std::string() : done.error().code;
    };
    Override silent = pass;
    silent.reason = " ";
    CHECK(write("out", {silent}) == "gate.no-reason");
    Override other = pass;
    other.requirement = "22.internal:purchase.all_in";
    CHECK(write("out", {other}) == "gate.closed");
    CHECK(shop.count("gate_override") == 0);
    CHECK(write("out", {pass}).empty());
    REQUIRE(shop.count("gate_override") == 1);
    const casebook::Body said = shop.snapshot().of_kind("gate_override").front()->body;
    CHECK(said.text("reason") == "she asked to be named (dossier for the buyer)");
    CHECK(said.record("by") == shop.acting.author);
    CHECK(write("again", {}) == "gate.closed");
    CHECK_FALSE(std::filesystem::exists(shop.folder / "again"));
}

TEST_CASE("A name that only the files of the bag would carry is found too, and neither file is left behind") {
    UsecaseBook shop;
    shop.add("photograph", FieldValues()
                               .text("face", "recto")
                               .text("light", "normal")
                               .text("stage", "varnished")
                               .text("sha256", std::string(64, 'a'))
                               .text("caption", "As " + client_of(shop) + " saw it"));
    const auto refused = write_case_dossier(shop.acting, shop.case_id, Reader::buyer, shop.folder / "out");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "dossier.leak");
    const bool left_behind =
        std::filesystem::exists(shop.folder / "out") && !std::filesystem::is_empty(shop.folder / "out");
    CHECK_FALSE(left_behind);
}
