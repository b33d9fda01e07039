// What a viewer with a telephone and no tools can see or ask; common practice of viewings.
#include <array>

#include "kinds/kinds.hpp"

namespace tedge::casebook::kinds {

namespace {

constexpr Field question(std::string_view path, std::string_view label) {
    return {.name = path, .label = label, .type = FieldType::values, .words = answer_words};
}

constexpr std::array questions{
    question("answers/lined", "Lined before"),
    question("answers/slack-canvas", "Canvas slack or bulging"),
    question("answers/tear", "Tears or holes"),
    question("answers/patch", "Patches seen from the back"),
    question("answers/keys", "Stretcher with keys, all there"),
    question("answers/loose-paint", "Loose or lifting paint, and where"),
    question("answers/yellow-varnish", "Varnish yellow or cloudy"),
    question("answers/repaint", "Repainted passages"),
    question("answers/signature", "Signature or date"),
    question("answers/signature-under-varnish", "Signature under the varnish, cracked with the paint"),
    question("answers/marks", "Labels, stamps or writing on the back"),
    question("answers/size", "Size as catalogued, measured"),
    question("answers/frame", "Frame sound, worth keeping"),
    question("answers/damp", "Smell of damp, mould, worm holes"),
    question("answers/ultraviolet", "Seen under an ultraviolet lamp (goggles; not on skin or eyes)"),
    // A viewing brief numbers the questions: new ones come last, so that an answer by number to an old brief still
    // fits.
    question("answers/support-as-catalogued", "Support as catalogued (canvas, panel, copper, paper)"),
    question("answers/fixed-strainer", "Fixed strainer, its corners do not open"),
};

}  // namespace

const std::span<const Field> viewing_questions = questions;

}  // namespace tedge::casebook::kinds
