#include "tedge/usecases/bid_cards.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "case_plan.hpp"
#include "lot_on_record.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "tedge/money/ceiling.hpp"
#include "tedge/money/invoice.hpp"
#include "tedge/usecases/ceilings.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using dossier::Align;
using dossier::CardFact;
using dossier::CardNote;
using dossier::CardSide;
using dossier::CardTable;
using dossier::Tone;
using nlohmann::json;

namespace {

constexpr std::size_t bids_on_pocket_card = 12;
constexpr int bids_a_row = 3;
constexpr std::size_t bids_below_on_desk_card = 7;  // the limit among them
constexpr std::size_t bids_above_on_desk_card = 4;

// What both cards are made of.
struct OnCards {
    const Record& lot;
    const Record& ceiling;
    Money limit;
    money::CeilingPlan plan;
};

Expected<OnCards> gathered(const CaseSnapshot& snapshot) {
    const Record* ceiling = newest_of_kind(snapshot, "ceiling");
    const auto limit = ceiling != nullptr ? ceiling->body.money("limit") : std::nullopt;
    if (!limit || limit->minor <= 0) {
        return fail("cards.no-limit", "No limit is fixed for this picture, so there is nothing to take to the sale.",
                    "Fix the ceiling first.");
    }
    const Record* lot = newest_of_kind(snapshot, "lot");
    if (lot == nullptr)
        return fail("cards.no-lot", "No lot is recorded for this picture.",
                    "Enter the lot: its number, sale and time.");
    auto plan = money::parse_ceiling_plan(plan_fixed_last(snapshot).dump());
    if (!plan) {
        return fail("cards.no-plan", "The plan of the limit cannot be read: " + plan.error().message,
                    "Fix the ceiling again.");
    }
    return OnCards{*lot, *ceiling, *limit, *std::move(plan)};
}

// "8,500": the currency stands beside the limit.
std::string bid_text(std::int64_t minor, const Currency& currency) {
    return round_text({minor, currency}).substr(currency.code().size() + 1);
}

std::string sale_words(const Record& lot) {
    const std::string room = lot.body.text_or("saleroom");
    const std::string sale = lot.body.text_or("sale");
    return room.empty() || sale.empty() ? room + sale : room + ", " + sale;
}

std::string time_words(const Record& lot) {
    const auto at = parse_instant(lot.body.text_or("sale_at"));
    return at ? moment_words(*at, lot.body.text_or("sale_zone")) : "time not recorded";
}

// At arm's length the zone stands on a line of its own.
std::string time_on_two_lines(const Record& lot) {
    std::string text = time_words(lot);
    const auto comma = text.find(", ");
    const auto zone_begins = comma == std::string::npos ? comma : text.find(' ', comma + 2);
    if (zone_begins != std::string::npos) text[zone_begins] = '\n';
    return text;
}

std::string number_of_lot(const Record& lot) {
    const std::string number = lot.body.text_or("lot_number");
    return number.empty() ? "not recorded" : number;
}

CardTable pocket_bids(const OnCards& on) {
    CardTable table;
    table.columns.assign(bids_a_row, {"", 1.0, Align::right});
    const auto bids = on.plan.sale.increments.last_bids_up_to(on.limit.minor, bids_on_pocket_card);
    for (std::size_t i = 0; i < bids.size(); ++i) {
        if (i % bids_a_row == 0) table.rows.emplace_back();
        table.rows.back().push_back(bid_text(bids[i], on.limit.currency));
    }
    if (table.rows.empty()) return table;
    table.marked_row = static_cast<int>(table.rows.size()) - 1;
    table.marked_column = static_cast<int>(table.rows.back().size()) - 1;
    table.rows.back().resize(bids_a_row);
    return table;
}

Expected<dossier::Card> pocket_card(const OnCards& on) {
    const auto bill = money::invoice(on.plan.sale, on.limit);
    if (!bill) return pass_on(bill);
    dossier::Card card{.title = "Lot " + number_of_lot(on.lot), .type = dossier::CardType::at_arms_length};
    CardSide side;
    side.parts.emplace_back(CardFact{"Lot", number_of_lot(on.lot), true});
    side.parts.emplace_back(CardFact{"Limit", round_text(on.limit), true});
    if (on.plan.sale.increments.every_penny()) {
        side.parts.emplace_back(CardNote{Tone::plain, "The plan names no increments."});
    } else {
        side.parts.emplace_back(pocket_bids(on));
    }
    side.parts.emplace_back(CardFact{"All-in at the limit", round_text(bill->total)});
    if (const std::string sale = sale_words(on.lot); !sale.empty()) side.parts.emplace_back(CardFact{"Sale", sale});
    side.parts.emplace_back(CardFact{"", time_on_two_lines(on.lot)});
    card.sides.push_back(std::move(side));
    return card;
}

std::string percent_words(double share) {
    return format_fixed(100.0 * share, 1) + " %";
}

struct BidsAround {
    std::vector<Money> bids;
    bool of_default_table = false;  // the plan names none
};

// The last bids up to the limit and the next above it.
Expected<BidsAround> bids_around(const OnCards& on) {
    BidsAround around;
    money::Increments increments = on.plan.sale.increments;
    if (increments.every_penny()) {
        auto common = money::Increments::named("common", on.limit.currency);
        if (!common) return pass_on(common);
        increments = *std::move(common);
        around.of_default_table = true;
    }
    for (const std::int64_t bid : increments.last_bids_up_to(on.limit.minor, bids_below_on_desk_card))
        around.bids.push_back({bid, on.limit.currency});
    if (around.bids.empty() || around.bids.back() != on.limit) around.bids.push_back(on.limit);
    std::int64_t last = on.limit.minor;
    for (std::size_t i = 0; i < bids_above_on_desk_card; ++i) {
        const auto next = increments.lowest_above(last);
        if (!next) break;
        last = *next;
        around.bids.push_back({last, on.limit.currency});
    }
    return around;
}

Expected<CardTable> profits_at_bids(const OnCards& on, const std::vector<Money>& bids) {
    const auto profits = money::profit_at(on.plan, bids);
    if (!profits) return pass_on(profits);
    CardTable table;
    table.columns = {{"Bid", 1.0, Align::right},
                     {"All-in", 1.15, Align::right},
                     {"Expected profit", 1.25, Align::right},
                     {"Chance of loss", 1.0, Align::right}};
    for (std::size_t i = 0; i < profits->size(); ++i) {
        const money::ProfitAtHammer& at = (*profits)[i];
        if (at.hammer == on.limit) table.marked_row = static_cast<int>(i);
        table.rows.push_back(
            {bid_text(at.hammer.minor, at.hammer.currency), bid_text(at.all_in.minor, at.all_in.currency),
             bid_text(at.expected_profit.minor, at.expected_profit.currency), percent_words(at.loss_probability)});
    }
    return table;
}

CardNote standing_note(const CaseSnapshot& snapshot) {
    const auto standing = ceiling_standing(snapshot);
    if (!standing) return {};
    if (standing->bought) return {Tone::plain, "The picture is bought."};
    if (standing->since.empty()) return {Tone::plain, "Nothing was learnt since it was fixed."};
    std::string text = "Out of date: " + standing->since.front().sentence;
    if (standing->since.size() > 1) text += fmt::format(" And {} more.", standing->since.size() - 1);
    return {Tone::closed, text};
}

Expected<CardSide> desk_front(const CaseSnapshot& snapshot, const OnCards& on) {
    const auto around = bids_around(on);
    if (!around) return pass_on(around);
    auto table = profits_at_bids(on, around->bids);
    if (!table) return pass_on(table);
    CardSide side;
    side.parts.emplace_back(CardFact{fmt::format("{}, {}", snapshot.picture.body.text_or("title"), lot_words(on.lot)),
                                     round_text(on.limit), true});
    side.parts.emplace_back(CardNote{Tone::plain, sale_words(on.lot) + "; " + time_words(on.lot)});
    const auto standing = ceiling_standing(snapshot);
    const std::string by = standing && !standing->fixed_by.empty() ? standing->fixed_by : "name not recorded";
    const auto fixed_at = parse_instant(on.ceiling.body.text_or("fixed_at"));
    const std::string fixed =
        fixed_at ? moment_words(*fixed_at, on.lot.body.text_or("sale_zone")) : "time not recorded";
    side.parts.emplace_back(CardFact{"Limit fixed by", fmt::format("{}, {}", by, fixed)});
    side.parts.emplace_back(standing_note(snapshot));
    side.parts.emplace_back(*std::move(table));
    std::string units =
        fmt::format("Bids in {}; all-in and profit in {}.", on.limit.currency.code(), on.plan.currency().code());
    if (around->of_default_table) units += " The plan names no increments; those of the table \"common\" are shown.";
    side.parts.emplace_back(CardNote{Tone::plain, units});
    return side;
}

// A list on a card shows its first lines and says how many more there are.
constexpr std::size_t lines_of_a_list = 6;

template <class Item, class Tell>
void put_list(CardSide& side, const std::string& label, const std::vector<Item>& items, const Tell& tell) {
    if (items.empty()) return;
    std::string text;
    for (std::size_t i = 0; i < std::min(items.size(), lines_of_a_list); ++i)
        text += (i == 0 ? "" : "\n") + tell(items[i]);
    if (items.size() > lines_of_a_list)
        text += fmt::format("\nand {} more in the plan", items.size() - lines_of_a_list);
    side.parts.emplace_back(CardFact{label, text});
}

std::string estimate_words(const Estimate<std::int64_t>& minor, const Currency& currency) {
    if (minor.low == minor.high) return bid_text(minor.low, currency);
    return fmt::format("{} to {}, likely {}", bid_text(minor.low, currency), bid_text(minor.high, currency),
                       bid_text(minor.likely, currency));
}

std::string factor_words(const Estimate<Decimal>& factor) {
    if (factor.low == factor.high) return factor.low.to_text();
    return fmt::format("{} to {}", factor.low.to_text(), factor.high.to_text());
}

std::string wanted_words(const money::CeilingPlan& plan) {
    std::vector<std::string> wanted;
    const Currency& currency = plan.currency();
    if (plan.target.profit_minor) wanted.push_back("profit " + bid_text(*plan.target.profit_minor, currency));
    if (plan.target.loss_probability)
        wanted.push_back("chance of loss at most " + percent_words(plan.target.loss_probability->to_double()));
    if (plan.target.cash_minor) wanted.push_back("cash " + bid_text(*plan.target.cash_minor, currency));
    return join(wanted, "; ");
}

std::string binding_words(const Record& ceiling) {
    const json report = ceiling.body.as_json().value("report", json());
    const json binding = report.is_object() ? report.value("binding", json()) : json();
    return binding.is_string() ? " (it is the " + binding.get<std::string>() + " that binds)" : std::string();
}

CardSide desk_back(const OnCards& on) {
    const money::CeilingPlan& plan = on.plan;
    const Currency& currency = plan.currency();
    CardSide side;
    side.parts.emplace_back(CardNote{
        Tone::plain, fmt::format("What was assumed; amounts in {}. Estimates, not measurements.", currency.code())});
    put_list(side, "It may prove to be", plan.outcomes, [&](const money::Outcome& outcome) {
        return fmt::format("{}: {}, {}", outcome.name.empty() ? "unnamed" : outcome.name,
                           percent_words(outcome.probability.to_double()),
                           estimate_words(outcome.price_minor, currency));
    });
    put_list(side, "Under the dirt", plan.conditions, [](const money::Condition& condition) {
        return fmt::format("{}: {}, price × {}, costs × {}", condition.name.empty() ? "unnamed" : condition.name,
                           percent_words(condition.probability.to_double()), factor_words(condition.price_factor),
                           factor_words(condition.cost_factor));
    });
    put_list(side, "Costs to come", plan.costs, [&](const money::CostLine& cost) {
        return fmt::format("{}: {}", cost.name, estimate_words(cost.amount_minor, currency));
    });
    if (const std::string wanted = wanted_words(plan); !wanted.empty())
        side.parts.emplace_back(CardFact{"Wanted" + binding_words(on.ceiling), wanted});
    if (const std::string note = on.ceiling.body.text_or("note"); !note.empty())
        side.parts.emplace_back(CardFact{"Note", note});
    return side;
}

}  // namespace

Expected<BidCards> bid_cards(const CaseSnapshot& snapshot) {
    const auto on = gathered(snapshot);
    if (!on) return pass_on(on);
    auto pocket = pocket_card(*on);
    if (!pocket) return pass_on(pocket);
    auto front = desk_front(snapshot, *on);
    if (!front) return pass_on(front);
    dossier::Card desk{.title = "Desk card, " + lot_words(on->lot), .type = dossier::CardType::in_the_hand};
    desk.sides = {*std::move(front), desk_back(*on)};
    return BidCards{*std::move(pocket), std::move(desk)};
}

namespace {

struct NamedCardFile {
    std::filesystem::path file;
    std::string bytes;
};

Expected<void> draw_card(const dossier::Card& card, const std::filesystem::path& stem, dossier::CardGround ground,
                         Instant now, std::vector<NamedCardFile>& pdfs, std::vector<NamedCardFile>& pngs) {
    const std::string ending = ground == dossier::CardGround::dark ? "-dark" : "";
    auto pdf = dossier::card_pdf(card, ground, now);
    if (!pdf) return pass_on(pdf);
    auto sides = dossier::card_pngs(card, ground);
    if (!sides) return pass_on(sides);
    pdfs.push_back({path_from_utf8(to_utf8(stem) + ending + ".pdf"), *std::move(pdf)});
    for (std::size_t i = 0; i < sides->size(); ++i) {
        const std::string side = sides->size() > 1 ? fmt::format("-{}", i + 1) : std::string();
        pngs.push_back({path_from_utf8(to_utf8(stem) + side + ending + ".png"), std::move((*sides)[i])});
    }
    return {};
}

Expected<void> check_card_files_free(const std::vector<NamedCardFile>& files) {
    for (const NamedCardFile& each : files) {
        std::error_code ignored;
        if (!std::filesystem::exists(each.file, ignored)) continue;
        return fail("cards.exists", fmt::format("There is a file {} already.", to_utf8(each.file)),
                    "Name another folder, or take the old cards away: only one limit should be about.");
    }
    return {};
}

}  // namespace

Expected<CardFiles> write_bid_cards(casebook::Casebook& book, const Uuid& case_id, const std::filesystem::path& out,
                                    dossier::CardGround ground, Instant now, const Progress& progress,
                                    OldCards old_cards) {
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    const auto cards = bid_cards(*snapshot);
    if (!cards) return pass_on(cards);
    dossier::require_gui_application();
    std::vector<NamedCardFile> pdfs;
    std::vector<NamedCardFile> pngs;
    progress.at(0.1, "drawing the pocket card");
    if (auto drawn = draw_card(cards->pocket, out / "pocket-card", ground, now, pdfs, pngs); !drawn)
        return pass_on(drawn);
    if (progress.stopped()) return cancelled();
    progress.at(0.5, "drawing the desk card");
    if (auto drawn = draw_card(cards->desk, out / "desk-card", ground, now, pdfs, pngs); !drawn) return pass_on(drawn);
    for (const auto* files : {&pdfs, &pngs})
        if (auto free = old_cards == OldCards::stay ? check_card_files_free(*files) : Expected<void>(); !free)
            return pass_on(free);
    if (progress.stopped()) return cancelled();
    if (auto made = make_folder_durably(out); !made) return pass_on(made);
    const auto standing = ceiling_standing(*snapshot);
    CardFiles written{.out_of_date = standing && standing->out_of_date()};
    for (const auto& [files, names] : {std::pair{&pdfs, &written.pdfs}, std::pair{&pngs, &written.pngs}}) {
        for (const NamedCardFile& each : *files) {
            if (auto done = write_file_durably(each.file, each.bytes); !done) return pass_on(done);
            names->push_back(each.file);
        }
    }
    return written;
}

}  // namespace tedge::usecases
