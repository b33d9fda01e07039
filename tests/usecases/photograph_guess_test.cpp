#include "tedge/usecases/photograph_guess.hpp"

#include <catch2/catch.hpp>

using namespace tedge;
using namespace tedge::usecases;

namespace {

std::string why(const GuessedShot& shot, std::string_view field) {
    for (const Guess& guess : shot.guesses) {
        if (guess.field == field) return guess.why;
    }
    return "";
}

ShotSaid by_name(const char* name) {
    return guess_shot(name, {}, {}, {}).shot;
}

}  // namespace

TEST_CASE("A name that says face, light, stage, side and angle is taken at its word, however it is written") {
    for (const char* name :
         {"kestrel_verso_raking-left_15deg_half-cleaned.tif", "IMG_12 verso raking left 15 deg half_cleaned.jpg",
          "0012-VersoRakingLeft15deg-halfCleaned.JPG", "reverse raked left halfcleaned 15 degrees.png"}) {
        CAPTURE(name);
        const ShotSaid shot = by_name(name);
        CHECK(shot.face == Face::verso);
        CHECK(shot.light == "raking");
        CHECK(shot.stage == "half-cleaned");
        CHECK(shot.raking_side == "left");
        CHECK(shot.raking_angle_degrees == 15.0);
    }
}

TEST_CASE("The trade's short forms are known, and a short form inside another word is none") {
    CHECK(by_name("uv_01.jpg").light == "ultraviolet");
    CHECK(by_name("mill IR.tif").light == "infrared");
    CHECK(by_name("xpol-front.tif").light == "cross-polarised");
    CHECK(by_name("BT_recto.tif").stage == "as-received");
    CHECK(by_name("before facing.tif").stage == "before-facing");
    CHECK(by_name("top_edge.jpg").face == Face::edge_top);
    CHECK(by_name("frame back.jpg").face == Face::frame_back);
    // "louvre" holds "uv", "stirrup" holds "ir", "director" holds "recto", "uncleaned" holds "cleaned".
    CHECK(by_name("louvre stirrup.jpg").light == "normal");
    CHECK(by_name("director uncleaned.jpg").stage == "as-received");
    CHECK(by_name("IMG_2045.jpg").raking_side.empty());
}

TEST_CASE("Every guess says why, and what was said is no guess") {
    ShotSaid said;
    said.face = Face::recto;
    const GuessedShot shot = guess_shot("mill uv.jpg", {}, said, {});
    CHECK(why(shot, "light") == "the name says uv");
    CHECK(why(shot, "stage") == "nothing says otherwise");
    CHECK(why(shot, "face").empty());
    ShotSaid assumed;
    assumed.stage = "cleaned";
    CHECK(why(guess_shot("x.jpg", {}, {}, assumed), "stage") == "the work stands there");
    CHECK(in_words(shot.guesses) == "light: ultraviolet, the name says uv; stage: as-received, nothing says otherwise");
}

TEST_CASE("Where the name says nothing the picture is looked at; a name goes before the picture") {
    imaging::PictureCharacter cold;
    cold.mean_lightness = 25.0;
    cold.lightness_spread = 10.0;
    cold.cool_share = 0.95;
    CHECK(guess_shot("IMG_7.jpg", cold, {}, {}).shot.light == "ultraviolet");
    CHECK(why(guess_shot("IMG_7.jpg", cold, {}, {}), "light").find("glows coldly") != std::string::npos);
    CHECK(guess_shot("IMG_7 normal.jpg", cold, {}, {}).shot.light == "normal");
}
