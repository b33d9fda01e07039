#include "tedge/usecases/dossiers.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "kept_file.hpp"
#include "tedge/base/files.hpp"
#include "tedge/dossier/bag_verifier.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
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
    const Override pass{shop.case_id, 22, missing.code, "Ada Wren", "she asked to be named", false};
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
                               .text("sha256", kept_file(shop.book))
                               .text("caption", "As " + client_of(shop) + " saw it"));
    const auto refused = write_case_dossier(shop.acting, shop.case_id, Reader::buyer, shop.folder / "out");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == "dossier.leak");
    const bool left_behind =
        std::filesystem::exists(shop.folder / "out") && !std::filesystem::is_empty(shop.folder / "out");
    CHECK_FALSE(left_behind);
}

namespace {

constexpr SizePx small{406, 305};  // of a face of 812 × 610 mm: a pixel is two millimetres

// Brightness that tells where one is: across in red, down in green.
imaging::Raster8 tells_where(const std::function<PointPx(PointPx)>& shows) {
    imaging::Raster8 picture(small.width_px, small.height_px, 3);
    for (int y = 0; y < small.height_px; ++y)
        for (int x = 0; x < small.width_px; ++x) {
            const PointPx at = shows({static_cast<double>(x), static_cast<double>(y)});
            picture.at(x, y, 0) = static_cast<std::uint8_t>(std::clamp(at.x_px * 0.6, 0.0, 255.0));
            picture.at(x, y, 1) = static_cast<std::uint8_t>(std::clamp(at.y_px * 0.6, 0.0, 255.0));
        }
    return picture;
}

Uuid placed_photograph(UsecaseBook& shop, const std::string& name, const imaging::Raster8& picture,
                       const Placement& placement) {
    const auto file = shop.folder / name;
    must(imaging::write_picture(file, picture, imaging::PictureFormat::png));
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.stage = "as-received";
    const Uuid id = must(take_in_photograph(shop.acting, wanted)).id;
    casebook::Edit edit;
    edit.record = id;
    edit.case_id = shop.case_id;
    edit.kind = "photograph";
    edit.operation = casebook::Operation::patch;
    edit.values.record("face_frame", shop.recto()).placement("face_from_photo", placement);
    must(shop.book.commit(shop.acting.author, {edit}));
    return id;
}

}  // namespace

TEST_CASE("A photograph of canvas that moved is laid back by the whole of its placement, not by its plane alone") {
    UsecaseBook shop;
    const Placement flat = placement_filling(small, {812.0, 610.0});
    // Bent by up to 40 mm, twenty pixels, to and fro across the face: no plane map follows that.
    Placement bent = flat;
    bent.displacement = must(BsplineDisplacement::through({-40.0, -40.0}, 20.0, 46, 36, [](PointMm at) {
        return PointMm{40.0 * std::sin(at.y_mm * std::numbers::pi / 150.0), 0.0};
    }));
    const Uuid still = placed_photograph(shop, "still.png", tells_where([](PointPx at) { return at; }), flat);
    // What the bent photograph shows at a pixel is what the flat one shows where that pixel lies on the face.
    const Uuid moved = placed_photograph(
        shop, "moved.png", tells_where([&](PointPx at) { return must(flat.to_photo(bent.to_face(at))); }), bent);
    const auto snapshot = shop.snapshot();
    const auto pictures = pictures_of_case(snapshot, shop.folder / "book");
    const auto reference = must(pictures->photograph(still, 406));
    const auto laid = must(pictures->registered(moved, still, 406));
    REQUIRE(laid.size().width_px == reference.size().width_px);
    double squares = 0.0;
    int count = 0;
    for (int y = 30; y < small.height_px - 30; ++y)
        for (int x = 30; x < small.width_px - 30; ++x, ++count) {
            const double off = static_cast<double>(laid.at(x, y, 0)) - reference.at(x, y, 0);
            squares += off * off;
        }
    // A pixel aside is 0.6 of a level. The pyramids' tiles are JPEG, about one level; by the plane alone it is eight.
    CHECK(std::sqrt(squares / count) < 1.5);
}
