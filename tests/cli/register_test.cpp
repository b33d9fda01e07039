// Registering two files by command, option by option, on made pictures whose true map is a formula.
#include <cmath>

#include "command_shop.hpp"
#include "painted_pair.hpp"
#include "tedge/base/table.hpp"
#include "tedge/imaging/picture.hpp"

using namespace tedge;
using namespace tedge::test_support;
using nlohmann::json;

namespace {

constexpr SizePx pair_size{480, 360};

struct Pair {
    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids{5};
    cli::Context context{clock, ids, {}};
    KnownMove truth;
    std::string reference = to_utf8(folder / "reference.png"), moving = to_utf8(folder / "moving.png");

    explicit Pair(const Viewpoint& seen = {.degrees = 3.0, .scale = 0.96, .shift = {5, -3}})
        : truth{seen_from(seen, pair_size, pair_size), 1.0, 500.0} {
        write("reference.png", {}, 1);
        write("moving.png", truth, 2);
    }
    void write(const char* name, const KnownMove& move, std::uint64_t seed) const {
        const PaintedScene scene{.seed = 21, .stroke_px = 60.0, .layers = 4};
        must(imaging::write_picture(folder / name, photograph(scene, pair_size, move, {.noise = 1.5}, seed, 2),
                                    imaging::PictureFormat::png));
    }
    Expected<cli::Answer> run(const std::vector<std::string>& more) {
        std::vector<std::string> words{"register", reference, moving};
        words.insert(words.end(), more.begin(), more.end());
        return cli::run_words(context, words);
    }
    std::string file(const char* name, const std::string& text) const {
        must(write_file_durably(folder / name, text));
        return to_utf8(folder / name);
    }
};

cli::ExitCode exit_of(const Expected<cli::Answer>& answer) {
    return answer ? answer->code : cli::code_of(answer.error());
}

std::string code_of(const Expected<cli::Answer>& answer) {
    return answer ? "" : answer.error().code;
}

}  // namespace

TEST_CASE("Points of the one are answered in the other, to a fraction of a pixel, and the picture is laid over") {
    Pair pair;
    const std::vector<PointPx> asked{{60, 60}, {240.5, 180.25}, {400, 300}};
    const std::string in = pair.file("in.csv", "x,y\n60,60\n240.5,180.25\n400,300\n");
    const std::string out = to_utf8(pair.folder / "out.csv"), laid = to_utf8(pair.folder / "laid.png");
    const auto answer = must(pair.run({"--points", in, "--points-out", out, "--out", laid}));
    CHECK(answer.code == cli::ExitCode::done);
    CHECK(answer.fields["usable"] == true);
    const auto table = must(Table::parse(must(read_file(pair.folder / "out.csv"))));
    REQUIRE(table.row_count() == asked.size());
    for (std::size_t i = 0; i < asked.size(); ++i) {
        const PointPx truth = pair.truth(asked[i]);
        CHECK(must(parse_number(table.cell(i, "x"))) == Approx(truth.x_px).margin(0.3));
        CHECK(must(parse_number(table.cell(i, "y"))) == Approx(truth.y_px).margin(0.3));
    }
    CHECK(must(imaging::read_picture(pair.folder / "laid.png")).size() == pair_size);
}

TEST_CASE("Pairs that a person marked do for features, and it is told how far they lie from what was found") {
    Pair pair;
    std::string text = "reference_x,reference_y,moving_x,moving_y\n";
    for (const PointPx at :
         {PointPx{60, 50}, PointPx{410, 70}, PointPx{390, 310}, PointPx{70, 290}, PointPx{240, 180}}) {
        const PointPx there = pair.truth(at);
        text += format_number(there.x_px) + "," + format_number(there.y_px) + "," + format_number(at.x_px) + "," +
                format_number(at.y_px) + "\n";
    }
    const auto answer = must(pair.run({"--pairs", pair.file("pairs.csv", text)}));
    CHECK(answer.fields["usable"] == true);
    CHECK(answer.fields["pairs"]["borne_out"] == true);
    CHECK(answer.fields["pairs"]["beside_px"].get<double>() < 1.0);
    CHECK(answer.fields["inliers"] == 5);
    CHECK_FALSE(must(pair.run({})).fields.contains("pairs"));

    CHECK(code_of(pair.run({"--pairs", pair.file("wrong.csv", "x,y\n1,2\n")})) == "points.no-columns");
    const auto two = pair.run({"--pairs", pair.file("two.csv",
                                                    "reference_x,reference_y,moving_x,moving_y\n"
                                                    "60,50,61,52\n410,70,400,80\n")});
    CHECK(code_of(two) == "registration.too-few-pairs");
    CHECK(exit_of(two) == cli::ExitCode::refused);
}

TEST_CASE("A painting seen from behind is laid over only where that is said, and writes no picture otherwise") {
    Pair pair({.degrees = 2.0, .scale = 1.0, .shift = {4, 2}, .mirrored = true});
    const std::string laid = to_utf8(pair.folder / "laid.png");
    const auto plain = must(pair.run({"--out", laid}));
    CHECK(plain.code == cli::ExitCode::not_to_be_trusted);
    CHECK(plain.fields["code"] == "registration.mirrored");
    CHECK(plain.fields["mirrored"] == true);
    CHECK_FALSE(std::filesystem::exists(pair.folder / "laid.png"));

    const std::string in = pair.file("in.csv", "x,y\n100,90\n");
    const std::string out = to_utf8(pair.folder / "out.csv");
    const auto told = must(pair.run({"--mirrored", "--out", laid, "--points", in, "--points-out", out}));
    CHECK(told.code == cli::ExitCode::done);
    CHECK(told.fields["usable"] == true);
    CHECK(told.fields["mirrored"] == true);
    CHECK(std::filesystem::exists(pair.folder / "laid.png"));
    const auto table = must(Table::parse(must(read_file(pair.folder / "out.csv"))));
    const PointPx truth = pair.truth({100, 90});
    CHECK(must(parse_number(table.cell(0, "x"))) == Approx(truth.x_px).margin(0.5));
    CHECK(must(parse_number(table.cell(0, "y"))) == Approx(truth.y_px).margin(0.5));
}

TEST_CASE("What is said of the light goes into the error: two lit alike lie surer than two that may not be") {
    Pair pair;
    const auto error_px = [&](const char* light) {
        const auto answer = must(pair.run({"--light", light}));
        REQUIRE(answer.fields["usable"] == true);
        return answer.fields["error_px"].get<double>();
    };
    const double alike = error_px("same"), other_kind = error_px("other-kind");
    CHECK(alike > 0.0);
    // Another kind of light may lie half a pixel over 25 beside (registration.hpp), in quadrature; colour, which is not
    // shaded, may tell that it lies less.
    CHECK(other_kind > alike);
    CHECK(other_kind < 1.01 * std::hypot(alike, 0.02));
    CHECK(error_px("one-side") > alike);
    CHECK(must(pair.run({})).fields["error_px"] == must(pair.run({"--light", "unknown"})).fields["error_px"]);
}

TEST_CASE("Wrong use is told before a picture is read: there are none here") {
    Pair pair;
    pair.reference = pair.moving = to_utf8(pair.folder / "none.png");
    const std::string in = pair.file("in.csv", "x,y\n60,60\n"), out = to_utf8(pair.folder / "out.csv");
    for (const auto& [more, code] :
         {std::pair{std::vector<std::string>{"--light", "dim"}, std::string("usage.no-such-light")},
          {{"--points", in}, "usage.half-of-points"},
          {{"--points-out", out}, "usage.half-of-points"},
          {{"--out", to_utf8(pair.folder / "laid.gif")}, "picture.unknown-ending"},
          {{"--mirrored", "yes"}, "usage.too-many-arguments"}}) {
        const auto refused = pair.run(more);
        CHECK(code_of(refused) == code);
        CHECK(exit_of(refused) == cli::ExitCode::wrong_use);
    }
    // A list that is none is refused before the pictures too, though it is no wrong use of the command.
    const auto list = pair.run({"--points", pair.file("list.csv", "a,b\n1,2\n"), "--points-out", out});
    CHECK(code_of(list) == "points.no-columns");
    CHECK(exit_of(list) == cli::ExitCode::refused);
    CHECK(exit_of(pair.run({})) == cli::ExitCode::refused);
}
