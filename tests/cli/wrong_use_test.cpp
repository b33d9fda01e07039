// What an option says is judged before any work: there is no casebook and no picture where these commands point.
#include "command_shop.hpp"

using namespace tedge;

namespace {

struct Nowhere {
    FixedClock clock;
    CountingIds ids{5};
    cli::Context context{clock, ids, {}};

    void is_wrong_use(const std::vector<std::string>& words, const std::string& code) {
        const auto answer = cli::run_words(context, words);
        CAPTURE(words);
        REQUIRE_FALSE(answer);
        CHECK(answer.error().code == code);
        CHECK(cli::code_of(answer.error()) == cli::ExitCode::wrong_use);
        CHECK_FALSE(answer.error().next.empty());
    }
};

}  // namespace

TEST_CASE("Words, numbers, names of files and ids that are none are wrong use, told before anything is opened") {
    Nowhere at;
    const std::string id = "01890000-0000-7000-8000-000000000001", book = "/nowhere", none = "/nowhere/none.png";
    at.is_wrong_use({"photograph", "difference", book, id, id, "--map", "delta-x"}, "colour-difference.unknown-map");
    at.is_wrong_use({"photograph", "difference", book, "second", id}, "uuid.not-an-id");
    at.is_wrong_use({"photograph", "difference", book, id, id, "--at", "here"}, "uuid.not-an-id");
    at.is_wrong_use({"photograph", "difference", book, id, id, "--out", "map.bmp"}, "picture.unknown-ending");
    at.is_wrong_use({"photograph", "relief-change", book, id, id, "--out", "map"}, "picture.unknown-ending");
    at.is_wrong_use({"colour-difference", none, none, "--map", "delta-x"}, "colour-difference.unknown-map");
    at.is_wrong_use({"colour-difference", none, none, "--out", "map.gif"}, "picture.unknown-ending");
    at.is_wrong_use({"cracks", none, "--lines", "lines.svg"}, "picture.unknown-ending");
    at.is_wrong_use({"cracks", none, "--px-per-mm", "0"}, "usage.not-above-zero");
    at.is_wrong_use({"photograph", "cracks", book, id, "--square-mm", "-10"}, "usage.not-above-zero");
    at.is_wrong_use({"thread-count", none, "--px-per-cm", "0"}, "usage.not-above-zero");
    at.is_wrong_use({"thread-count", none, "--px-per-cm", "100", "--map", "map.pdf"}, "picture.unknown-ending");
    at.is_wrong_use({"photograph", "weave", book, id, "--map", "map.pdf"}, "picture.unknown-ending");
    at.is_wrong_use({"photograph", "legible", book, id, "--method", "magic"}, "legibility.method");
    at.is_wrong_use({"photograph", "legible", book, id, "--method", "channel-ratio", "--channel", "red"},
                    "number.not-a-number");
    at.is_wrong_use({"photograph", "chart", book, id, "--edition", "maker-1905"}, "chart-reference.unknown");
    at.is_wrong_use({"chart-check", none, "--edition", "maker-1905"}, "chart-reference.unknown");
    at.is_wrong_use({"photograph", "scale", book, id, "--from", "1,2", "--to", "3,4", "--length-mm", "0"},
                    "usage.not-above-zero");
    at.is_wrong_use({"photograph", "noise", book, id}, "usage.missing-option");
    at.is_wrong_use({"photograph", "noise", book, id, "--patch", "1,2,3"}, "usage.not-pixels");
    at.is_wrong_use({"photograph", "sharpness", book, id, "--edge", "all"}, "usage.not-pixels");
    at.is_wrong_use({"photograph", "forecast", book, id, "--cleaned", id, "--out", "seen.png"}, "forecast.jpeg-only");
    at.is_wrong_use(
        {"photograph", "add", book, "River", none, "--face", "front", "--light", "normal", "--when", "cleaned"},
        "face.unknown");
    at.is_wrong_use(
        {"photograph", "add", book, "River", none, "--face", "recto", "--light", "dim", "--when", "cleaned"},
        "photograph.unknown-word");
    at.is_wrong_use({"photograph", "add-folder", book, "River", book, "--when", "someday"}, "photograph.unknown-word");
    at.is_wrong_use({"photograph", "say", book, "River", "this,that", "--light", "normal"}, "uuid.not-an-id");
    at.is_wrong_use({"dossier", book, "River", "--for", "everybody", "--out", "out"}, "dossier.unknown-reader");
    at.is_wrong_use({"casebook", "resolve", book, id, "--reason", "x", "--stays", "--goes"}, "usage.stays-and-goes");
}

TEST_CASE("A photograph is not left out of the list for no reason") {
    Nowhere at;
    const std::vector<std::string> want{"case",  "want-shot", "/nowhere", "River",  "--face",
                                        "recto", "--light",   "normal",   "--when", "cleaned"};
    for (const char* reason : {"", "   "}) {
        auto words = want;
        words.insert(words.end(), {"--not-needed", reason});
        at.is_wrong_use(words, "usage.no-reason");
    }
    auto unknown = want;
    unknown[7] = "dim";
    at.is_wrong_use(unknown, "photograph.unknown-word");
}
