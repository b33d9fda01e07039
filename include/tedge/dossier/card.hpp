// A card of A6 (ISO 216: 105 × 148 mm) to be read at arm's length, as PDF/A-1b and as picture; each side a page.
//
// Everything on it is what the caller put there: the painter adds no name, no date and no title. What does not fit at
// full size is set smaller, down to `least_card_type_pt`, never cut off.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"
#include "tedge/dossier/document.hpp"

namespace tedge::dossier {

// A letter's height of 1/200 of the distance is read with ease (common rule, from memory): at 600 mm capitals of 3 mm,
// which is 12 pt of Open Sans (capitals 0.714 of the type size). The desk's card is read in the hand, at 350 mm: 7 pt.
enum class CardType { at_arms_length, in_the_hand };
[[nodiscard]] constexpr double least_card_type_pt(CardType type) {
    return type == CardType::at_arms_length ? 12.0 : 7.0;
}

enum class CardGround { light, dark };  // dark: little light on the face of whoever reads it in a dark room

struct CardFact {
    std::string label{};
    std::string value{};
    bool large = false;  // the two or three figures the card is for
};

// Cells in rows, each as long as the columns; one row or one cell may be marked (by a bar, bold type and the word).
struct CardTable {
    std::vector<Column> columns{};  // titles may be empty
    std::vector<std::vector<std::string>> rows{};
    int marked_row = -1;
    int marked_column = -1;  // -1: the whole row
};

struct CardNote {
    Tone tone = Tone::plain;
    std::string text{};
};

using CardPart = std::variant<CardFact, CardTable, CardNote>;

struct CardSide {
    std::vector<CardPart> parts{};
};

struct Card {
    std::string title{};  // in the metadata of the PDF
    CardType type = CardType::at_arms_length;
    std::vector<CardSide> sides{};
};

// Both need require_gui_application() before them; from two threads one waits for the other. The same card gives the
// same bytes. Errors: pdf.no-font, pdf.unwritable, card.too-full (it does not fit at the least size;
// values.side), card.no-side.
[[nodiscard]] Expected<std::string> card_pdf(const Card& card, CardGround ground, Instant now);
// 1240 × 1748 pixels (300 to the inch) a side. Errors: as above.
[[nodiscard]] Expected<std::vector<std::string>> card_pngs(const Card& card, CardGround ground);

// Relative luminance contrast of the text on its ground (W3C, WCAG 2.1, 1.4.3), the lowest of all that is used.
[[nodiscard]] double least_contrast(CardGround ground);

}  // namespace tedge::dossier
