#include "tedge/usecases/take_in_folder.hpp"

#include "painted_pair.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/say_photographs.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;
using namespace tedge::test_support;

namespace {

// Pictures under the names given, each another; a letter and a damaged file between them.
struct Folder {
    UsecaseBook shop;
    std::filesystem::path in = shop.folder / "card";

    explicit Folder(const std::vector<const char*>& names) {
        std::filesystem::create_directory(in);
        std::uint64_t seed = 1;
        for (const char* name : names) write(name, seed++);
    }
    void write(const char* name, std::uint64_t seed) const {
        const PaintedScene scene{.seed = seed, .stroke_px = 20.0, .layers = 2};
        must(imaging::write_picture(in / name, photograph(scene, {64, 48}, {}, {}, seed), imaging::PictureFormat::png));
    }
    std::vector<FolderFile> take(FolderWanted wanted = {}) {
        wanted.case_id = shop.case_id;
        wanted.folder = in;
        return must(take_in_folder(shop.acting, wanted));
    }
    casebook::Body body(const FolderFile& file) { return must(shop.book.record(file.taken->id)).body; }
};

}  // namespace

TEST_CASE("All pictures of a folder come in, each as its name says, marked as a guess with its reasons") {
    Folder folder({"a verso.png", "b uv.png"});
    must(write_file_durably(folder.in / ".hidden.png", "x"));
    const auto files = folder.take();
    REQUIRE(files.size() == 2);
    CHECK(folder.body(files[0]).text("face") == "verso");
    CHECK(folder.body(files[1]).text("light") == "ultraviolet");
    CHECK(folder.body(files[1]).flag("guessed"));
    CHECK(folder.body(files[1]).text_or("guessed_why").find("the name says uv") != std::string::npos);
}

TEST_CASE(
    "Folders in the folder are gone into, hidden ones are not; a picture is known by its name or by how it begins") {
    Folder folder({"b.png"});
    std::filesystem::create_directories(folder.in / "100MEDIA" / "raw");
    std::filesystem::create_directories(folder.in / ".thumbnails");
    folder.write("100MEDIA/a verso.png", 11);
    folder.write("100MEDIA/raw/c.png", 12);
    folder.write(".thumbnails/d.png", 13);
    must(write_file_durably(folder.in / "100MEDIA" / "letter.txt", "Dear sir, the card follows."));
    const std::vector<std::filesystem::path> all{folder.in / "100MEDIA/a verso.png", folder.in / "100MEDIA/letter.txt",
                                                 folder.in / "100MEDIA/raw/c.png", folder.in / "b.png"};
    CHECK(must(files_under(folder.in)) == all);
    CHECK(must(files_in(folder.in)) == std::vector{folder.in / "b.png"});
    const auto files = folder.take();
    REQUIRE(files.size() == 4);
    CHECK(folder.body(files[0]).text("face") == "verso");
    CHECK(folder.shop.count("photograph") == 3);

    CHECK(may_be_a_picture(folder.in / "gone.NEF"));
    CHECK_FALSE(may_be_a_picture(folder.in / "100MEDIA" / "letter.txt"));
    std::filesystem::rename(folder.in / "b.png", folder.in / "scan.1");
    CHECK(may_be_a_picture(folder.in / "scan.1"));
}

TEST_CASE("Taken again nothing comes twice; what cannot be read is refused in a sentence and stops nothing") {
    Folder folder({"a.png", "b.png"});
    must(write_file_durably(folder.in / "letter.txt", "Dear sir, the card follows."));
    std::string half = must(read_file(folder.in / "b.png"));
    half.resize(half.size() / 2);
    must(write_file_durably(folder.in / "half.png", half));
    must(write_file_durably(folder.in / "nothing.png", ""));
    const auto first = folder.take();
    REQUIRE(first.size() == 5);
    CHECK(first[2].refused->code == "picture.damaged");
    CHECK(first[2].is_lost());
    CHECK(first[3].refused->code == "picture.not-a-picture");
    CHECK_FALSE(first[3].is_lost());
    CHECK(first[4].refused->code == "picture.empty");
    CHECK(first[4].is_lost());
    const auto again = folder.take();
    CHECK(again[0].taken->already);
    CHECK(again[0].taken->id == first[0].taken->id);
    CHECK(folder.shop.count("photograph") == 2);
}

TEST_CASE("What the case has is known by its bytes before anything is decoded, unless its original was lost") {
    Folder folder({"a.png", "b.png"});
    FolderWanted wanted;
    wanted.case_id = folder.shop.case_id;
    wanted.folder = folder.in;
    std::vector<std::string> said;
    const auto take = [&] {
        said.clear();
        const Progress heard({}, [&](double, std::string_view what) { said.emplace_back(what); });
        return must(take_in_folder(folder.shop.acting, wanted, {}, heard));
    };
    const auto first = take();
    CHECK_FALSE(said.empty());  // decoding and storing say what they do
    const auto again = take();
    CHECK(said.empty());
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK(again[i].taken->already);
        CHECK(again[i].taken->id == first[i].taken->id);
        CHECK(again[i].taken->size == SizePx{64, 48});
    }
    // An original that is gone is made whole by taking its file in again.
    const auto original = folder.shop.book.original_path(first[0].taken->sha256);
    std::filesystem::remove(original);
    CHECK(take()[0].taken->already);
    CHECK(std::filesystem::exists(original));
    std::filesystem::rename(folder.in / "b.png", folder.in / "b verso.png");  // by content, whatever its name
    CHECK(take()[1].taken->id == first[1].taken->id);
}

TEST_CASE("What is said of all of them is no guess; side and angle want raking light") {
    Folder folder({"a verso uv.png"});
    FolderWanted wanted;
    wanted.said = {
        .face = Face::recto, .light = "raking", .stage = "cleaned", .raking_side = "left", .raking_angle_degrees = 10};
    const auto files = folder.take(wanted);
    const auto body = folder.body(files[0]);
    CHECK(body.text("face") == "recto");
    CHECK(body.text("raking_side") == "left");
    CHECK_FALSE(body.has("guessed"));
    wanted.said.light = "normal";
    wanted.case_id = folder.shop.case_id;
    wanted.folder = folder.in;
    CHECK(take_in_folder(folder.shop.acting, wanted).error().code == "photograph.not-raking");
    wanted.folder = folder.in / "gone";
    wanted.said = {};
    CHECK(take_in_folder(folder.shop.acting, wanted).error().code == "photograph.no-folder");
}

TEST_CASE("A person who says what several photographs show takes them out of guessing, all in one act") {
    Folder folder({"a raking left.png", "b.png"});
    const auto files = folder.take();
    const std::vector<Uuid> ids{files[0].taken->id, files[1].taken->id};
    SaidOfPhotographs said;
    CHECK(say_photographs(folder.shop.acting, ids, said).error().code == "photograph.nothing-said");
    said.shot.light = "normal";
    said.photographer = "Odile Brannock";
    said.licence = "all rights with the photographer";
    must(say_photographs(folder.shop.acting, ids, said));
    for (const FolderFile& file : files) {
        const auto body = folder.body(file);
        CHECK(body.text("light") == "normal");
        CHECK_FALSE(body.has("raking_side"));
        CHECK_FALSE(body.flag("guessed"));
        CHECK(body.text("licence") == "all rights with the photographer");
    }
    // What was said last is the next one's default.
    CHECK(usual_rights(folder.shop.book, folder.shop.case_id).photographer == "Odile Brannock");
    folder.write("c.png", 77);
    const auto more = folder.take();
    CHECK(more[2].shot.photographer == "Odile Brannock");
    CHECK(folder.body(more[2]).text("licence") == "all rights with the photographer");
}

TEST_CASE("What lies beside the picture is said of several at once and taken back") {
    Folder folder({"front.png", "back.png"});
    std::vector<Uuid> ids;
    for (const auto& each : folder.take()) ids.push_back(each.taken->id);
    SaidOfPhotographs said;
    said.has_scale = true;
    const auto done = must(say_photographs(folder.shop.acting, ids, said));
    REQUIRE(done.size() == 2);
    for (const Uuid& id : ids) CHECK(must(folder.shop.book.record(id)).body.flag("has_scale"));
    CHECK_FALSE(must(folder.shop.book.record(ids[0])).body.flag("has_chart"));
    must(take_back(folder.shop.acting, done[1].inverse));
    CHECK_FALSE(must(folder.shop.book.record(ids[1])).body.flag("has_scale"));
}

TEST_CASE("A guess is confirmed as it stands, and taking that back makes it a guess again") {
    Folder folder({"a uv.png"});
    const Uuid id = folder.take()[0].taken->id;
    SaidOfPhotographs said;
    said.confirms = true;
    const auto done = must(say_photographs(folder.shop.acting, {id}, said));
    CHECK_FALSE(must(folder.shop.book.record(id)).body.flag("guessed"));
    must(take_back(folder.shop.acting, done.front().inverse));
    CHECK(must(folder.shop.book.record(id)).body.flag("guessed"));
}
