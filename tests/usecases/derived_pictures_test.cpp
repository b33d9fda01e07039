#include "tedge/usecases/derived_pictures.hpp"

#include <fstream>

#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;

namespace {

std::string flat_png(std::uint8_t gray) {
    imaging::Raster8 pixels(40, 30, 3);
    std::ranges::fill(pixels.samples(), gray);
    return must(imaging::encode_picture(pixels, imaging::PictureFormat::png));
}

Uuid flat_photograph(UsecaseBook& shop, std::uint8_t gray) {
    const auto file = shop.folder / ("gray-" + std::to_string(gray) + ".png");
    must(write_file_durably(file, flat_png(gray)));
    NewPhotograph wanted;
    wanted.case_id = shop.case_id;
    wanted.file = file;
    wanted.stage = "cleaned";
    return must(take_in_photograph(shop.acting, wanted)).id;
}

NewDerivedPicture from(UsecaseBook& shop, const Uuid& photograph) {
    NewDerivedPicture wanted;
    wanted.case_id = shop.case_id;
    wanted.what = "crack-map";
    wanted.from_photographs = {{photograph, "before"}};
    wanted.caption = "Cracks of the sky";
    return wanted;
}

const nlohmann::json recipe{{"method", "ridges"}, {"scale_px", 3}};

}  // namespace

TEST_CASE("A picture made from photographs is kept with its recipe, once, and taking it back removes the record") {
    UsecaseBook shop;
    const NewDerivedPicture wanted = from(shop, flat_photograph(shop, 90));
    const std::string file = flat_png(200);
    const KeptPicture kept = must(keep_derived_picture(shop.acting, wanted, file, recipe));
    CHECK(kept.sha256 == to_hex(sha256(file)));
    CHECK(must(read_file(shop.book.original_path(kept.sha256))) == file);
    const auto record = must(shop.book.record(kept.done.record));
    CHECK(record.kind == "derived_picture");
    CHECK(*record.body.integer("width_px") == 40);
    CHECK(record.body.as_json().at("recipe") == recipe);
    CHECK(record.body.text_or("media_type") == "image/png");
    CHECK(must(keep_derived_picture(shop.acting, wanted, file, recipe)).already);
    CHECK(shop.count("derived_picture") == 1);
    // Nothing is left of the file it passed through, and the book is sound.
    for (const auto& entry : std::filesystem::directory_iterator(shop.book.derived_folder()))
        CHECK(entry.path().extension() != ".passing");
    CHECK(must(shop.book.check()).problems.empty());
    must(take_back(shop.acting, kept.done.inverse));
    CHECK(shop.count("derived_picture") == 0);
}

TEST_CASE("Pictures of one making are kept together or not at all") {
    UsecaseBook shop;
    const Uuid photograph = flat_photograph(shop, 90);
    const NewDerivedPicture first = from(shop, photograph);
    NewDerivedPicture second = first;
    const std::string one = flat_png(100), other = flat_png(110);
    const auto changes = [&] { return must(shop.book.check()).changes; };
    const auto before = changes();
    second.what = "wish";  // the casebook knows no such word: the second is refused as it is recorded
    CHECK_FALSE(keep_derived_pictures(shop.acting, {{first, one}, {second, other}}, recipe));
    CHECK(shop.count("derived_picture") == 0);
    CHECK_FALSE(keep_derived_pictures(shop.acting, {{first, one}, {first, "no picture"}}, recipe));
    CHECK(shop.count("derived_picture") == 0);
    CHECK(changes() == before);

    second.what = "difference";
    const auto kept = must(keep_derived_pictures(shop.acting, {{first, one}, {second, other}}, recipe));
    REQUIRE(kept.size() == 2);
    CHECK(must(shop.book.record(kept[1].done.record)).body.text_or("what") == "difference");
    // Where one was kept before, the other joins it.
    const std::string third = flat_png(120);
    const auto again = must(keep_derived_pictures(shop.acting, {{first, third}, {second, other}}, recipe));
    CHECK_FALSE(again[0].already);
    CHECK(again[0].sha256 == to_hex(sha256(third)));
    CHECK(again[1].already);
    CHECK(again[1].done.record == kept[1].done.record);
    CHECK(shop.count("derived_picture") == 3);
}

TEST_CASE("A picture that comes from nothing, from elsewhere or is none is not kept") {
    UsecaseBook shop;
    const Uuid photograph = flat_photograph(shop, 90);
    NewDerivedPicture wanted = from(shop, photograph);
    const auto refused = [&](const NewDerivedPicture& each, std::string_view file) {
        const auto kept = keep_derived_picture(shop.acting, each, file, recipe);
        REQUIRE_FALSE(kept);
        return kept.error().code;
    };
    CHECK(refused(wanted, "no picture") == "picture.not-a-picture");
    wanted.from_photographs = {};
    CHECK(refused(wanted, flat_png(1)) == "derived.no-photographs");
    wanted.from_photographs = {{shop.recto(), "before"}};
    CHECK(refused(wanted, flat_png(1)) == "photograph.not-a-photograph");
    wanted = from(shop, photograph);
    wanted.case_id = must(open_case(shop.acting, {"Mill", "", SizeMm{300, 200}}));
    CHECK(refused(wanted, flat_png(1)) == "derived.other-case");
    wanted = from(shop, photograph);
    wanted.what = "wish";
    CHECK_FALSE(keep_derived_picture(shop.acting, wanted, flat_png(1), recipe));
    CHECK(shop.count("derived_picture") == 0);
}
