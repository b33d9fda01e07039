#include "tedge/usecases/photograph_guess.hpp"

#include <algorithm>
#include <array>

#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::usecases {

namespace {

struct Synonym {
    std::string_view field;
    std::string_view said;  // words with one blank between them
    std::string_view word;
};

// Beside the words of the field table themselves; common practice ("BT" is before treatment), the rest of the trade's
// everyday English.
constexpr std::array synonyms{
    Synonym{"face", "front", "recto"},
    Synonym{"face", "face", "recto"},
    Synonym{"face", "back", "verso"},
    Synonym{"face", "reverse", "verso"},
    Synonym{"face", "rear", "verso"},
    Synonym{"face", "top edge", "edge-top"},
    Synonym{"face", "right edge", "edge-right"},
    Synonym{"face", "bottom edge", "edge-bottom"},
    Synonym{"face", "left edge", "edge-left"},
    Synonym{"face", "frame", "frame-front"},
    Synonym{"face", "back of frame", "frame-back"},
    Synonym{"light", "uv", "ultraviolet"},
    Synonym{"light", "uvf", "ultraviolet"},
    Synonym{"light", "fluorescence", "ultraviolet"},
    Synonym{"light", "ir", "infrared"},
    Synonym{"light", "irr", "infrared"},
    Synonym{"light", "reflectogram", "infrared"},
    Synonym{"light", "rake", "raking"},
    Synonym{"light", "raked", "raking"},
    Synonym{"light", "trans", "transmitted"},
    Synonym{"light", "backlit", "transmitted"},
    Synonym{"light", "gloss", "specular"},
    Synonym{"light", "glare", "specular"},
    Synonym{"light", "xpol", "cross-polarised"},
    Synonym{"light", "cross pol", "cross-polarised"},
    Synonym{"light", "cross polarized", "cross-polarised"},
    Synonym{"light", "polarised", "cross-polarised"},
    Synonym{"light", "polarized", "cross-polarised"},
    Synonym{"light", "vis", "normal"},
    Synonym{"light", "visible", "normal"},
    Synonym{"light", "daylight", "normal"},
    Synonym{"stage", "as found", "as-received"},
    Synonym{"stage", "received", "as-received"},
    Synonym{"stage", "before treatment", "as-received"},
    Synonym{"stage", "bt", "as-received"},
    Synonym{"stage", "before", "as-received"},
    Synonym{"stage", "viewing", "saleroom"},
    Synonym{"stage", "auction", "saleroom"},
    Synonym{"stage", "trial", "trials"},
    Synonym{"stage", "halfway", "half-cleaned"},
    Synonym{"stage", "fills", "filled"},
};

enum class Sort { letter, digit, other };

Sort sort_of(char c) {
    if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) return Sort::letter;
    return c >= '0' && c <= '9' ? Sort::digit : Sort::other;
}

// " img 12 verso raking half cleaned ": parted at anything but letters and digits, between the two, and before the
// capital of "versoRaking".
std::string words_of_name(const std::filesystem::path& file) {
    std::string words = " ";
    const std::string name = to_utf8(file.stem());
    for (std::size_t i = 0; i < name.size(); ++i) {
        const bool begins_capital =
            i > 0 && name[i] >= 'A' && name[i] <= 'Z' && name[i - 1] >= 'a' && name[i - 1] <= 'z';
        const bool changes = i > 0 && sort_of(name[i]) != sort_of(name[i - 1]);
        if ((changes || begins_capital) && words.back() != ' ') words += ' ';
        if (sort_of(name[i]) != Sort::other) words += name[i];
    }
    if (words.back() != ' ') words += ' ';
    return lowered_ascii(words);
}

bool stands_in(const std::string& words, std::string said) {
    if (words.find(" " + said + " ") != std::string::npos) return true;
    std::erase(said, ' ');
    return words.find(" " + said + " ") != std::string::npos;
}

struct Found {
    std::string word;
    std::string said;
};

// The longest that stands in the name: "half cleaned" is not "cleaned", "frame back" not "back".
Found word_in_name(std::string_view field, const std::string& words) {
    Found best;
    const auto look_for = [&](std::string said, std::string_view word) {
        if (said.size() > best.said.size() && stands_in(words, said)) best = {std::string(word), std::move(said)};
    };
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field))) {
        std::string said(word);
        std::ranges::replace(said, '-', ' ');
        look_for(std::move(said), word);
    }
    for (const Synonym& synonym : synonyms) {
        if (synonym.field == field) look_for(std::string(synonym.said), synonym.word);
    }
    return best;
}

class Guessing {
public:
    Guessing(const std::filesystem::path& file, const std::optional<imaging::PictureCharacter>& picture,
             const ShotSaid& assumed, GuessedShot& out)
        : words_(words_of_name(file)), picture_(picture), assumed_(assumed), out_(out) {}

    void all() {
        if (!out_.shot.face) guess_face();
        if (out_.shot.light.empty()) guess_light();
        if (out_.shot.light == "raking") guess_lamp();
        if (out_.shot.stage.empty()) guess_stage();
    }

private:
    static std::string by_name(const Found& found) { return "the name says " + found.said; }
    static std::string nothing_says() { return "nothing says otherwise"; }
    void note(std::string_view field, std::string value, std::string why) {
        out_.guesses.push_back({std::string(field), std::move(value), std::move(why)});
    }

    void guess_face() {
        const Found found = word_in_name("face", words_);
        const std::string back = found.word.empty() && picture_ ? why_bare_back(*picture_) : std::string();
        Face face = assumed_.face.value_or(Face::recto);
        if (!back.empty()) face = Face::verso;
        if (!found.word.empty()) face = parse_face(found.word).value_or(face);
        out_.shot.face = face;
        note("face", std::string(to_text(face)),
             !found.word.empty() ? by_name(found)
             : back.empty()      ? nothing_says()
                                 : back);
    }

    void guess_light() {
        const Found found = word_in_name("light", words_);
        if (!found.word.empty()) {
            out_.shot.light = found.word;
            return note("light", found.word, by_name(found));
        }
        const imaging::LightGuess seen = picture_ ? imaging::guess_light(*picture_) : imaging::LightGuess{};
        out_.shot.light = !seen.light.empty() ? seen.light : assumed_.light.empty() ? "normal" : assumed_.light;
        note("light", out_.shot.light, seen.light.empty() ? nothing_says() : seen.why);
    }

    void guess_lamp() {
        if (out_.shot.raking_side.empty()) guess_side();
        if (!out_.shot.raking_angle_degrees) guess_angle();
    }

    void guess_side() {
        const Found found = word_in_name("raking_side", words_);
        if (!found.word.empty()) {
            out_.shot.raking_side = found.word;
            return note("raking_side", found.word, by_name(found));
        }
        const imaging::LightGuess seen = picture_ ? imaging::guess_light(*picture_) : imaging::LightGuess{};
        if (seen.raking_side.empty()) return;
        out_.shot.raking_side = seen.raking_side;
        note("raking_side", seen.raking_side, seen.why);
    }

    // "15deg", "15 degrees"; a bare number is a number of the camera.
    void guess_angle() {
        const std::size_t unit = words_.find(" deg");
        if (unit == std::string::npos) return;
        const std::size_t from = words_.rfind(' ', unit - 1);
        if (unit == 0 || from == std::string::npos) return;
        const auto angle = parse_number(words_.substr(from + 1, unit - from - 1));
        if (!angle || *angle < 0.0 || *angle > 90.0) return;
        out_.shot.raking_angle_degrees = *angle;
        note("raking_angle_degrees", format_number(*angle), "the name says " + format_number(*angle) + " degrees");
    }

    void guess_stage() {
        const Found found = word_in_name("stage", words_);
        const std::string otherwise = assumed_.stage.empty() ? "as-received" : assumed_.stage;
        out_.shot.stage = found.word.empty() ? otherwise : found.word;
        note("stage", out_.shot.stage,
             !found.word.empty()      ? by_name(found)
             : assumed_.stage.empty() ? nothing_says()
                                      : "the work stands there");
    }

    std::string words_;
    const std::optional<imaging::PictureCharacter>& picture_;
    const ShotSaid& assumed_;
    GuessedShot& out_;
};

}  // namespace

GuessedShot guess_shot(const std::filesystem::path& file, const std::optional<imaging::PictureCharacter>& picture,
                       const ShotSaid& said, const ShotSaid& assumed) {
    GuessedShot shot{said, {}};
    Guessing(file, picture, assumed, shot).all();
    return shot;
}

std::string in_words(const std::vector<Guess>& guesses) {
    std::vector<std::string> parts;
    parts.reserve(guesses.size());
    for (const Guess& guess : guesses) parts.push_back(guess.field + ": " + guess.value + ", " + guess.why);
    return join(parts, "; ");
}

}  // namespace tedge::usecases
