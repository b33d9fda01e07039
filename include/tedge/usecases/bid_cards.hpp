// Two cards to take to the sale, from the limit fixed last and the newest lot. The pocket card may be read over the
// shoulder: lot, sale, limit, the increments up to it, all-in at the limit, time with its zone, and nothing else. The
// desk card stays at home: expected profit and chance of loss at each increment, and what that rests on.
#pragma once

#include <filesystem>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/dossier/card.hpp"

namespace tedge::usecases {

struct BidCards {
    dossier::Card pocket;  // one side
    dossier::Card desk;    // two: the increments; what was assumed
};

// Errors: cards.no-limit (none is fixed, or it is 0), cards.no-lot, cards.no-plan (the limit's plan cannot be read),
// those of profit_at().
[[nodiscard]] Expected<BidCards> bid_cards(const casebook::CaseSnapshot& snapshot);

struct CardFiles {
    std::vector<std::filesystem::path> pdfs{};
    std::vector<std::filesystem::path> pngs{};
    bool out_of_date = false;  // something was learnt after the limit was fixed
};

enum class OldCards { stay, are_replaced };

// out/pocket-card.pdf, pocket-card.png, desk-card.pdf, desk-card-1.png, desk-card-2.png; on a dark ground with "-dark"
// before the ending. The folder is made where it is missing. Errors: cards.exists (a file of that name is there and
// old cards are to stay; nothing is written), those of bid_cards(), of card_pdf() and of files.
[[nodiscard]] Expected<CardFiles> write_bid_cards(casebook::Casebook& book, const Uuid& case_id,
                                                  const std::filesystem::path& out, dossier::CardGround ground,
                                                  Instant now, const Progress& progress = {},
                                                  OldCards old_cards = OldCards::stay);

}  // namespace tedge::usecases
