#include "weave_verdict.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tedge/base/number_text.hpp"

namespace tedge::imaging {
namespace {

constexpr double usable_from = 0.5;
constexpr double sure_contrast = 4.0;  // times what chance reaches
constexpr double enough_share = 0.25;  // of the squares
constexpr double least_share = 0.02;
constexpr double clear_lead = 4.0;
// Second harmonic over the first: seldom above the first in single threads, mostly above the second in close pairs.
constexpr double single = 0.2;
constexpr double paired = 0.4;
// Of the count: neighbours on canvas differ by less than the first; of other things that repeat, by more than the
// second.
constexpr double smooth = 0.055;
constexpr double rough = 0.105;
constexpr double overlap = 2.5;  // squares that say the same thing, half of each lying over the next
constexpr double finest_canvas_per_cm = 31.0;
constexpr double jpeg_block_px = 8.0;
constexpr double faint_gray_levels = 1.5;
constexpr double degree = std::numbers::pi / 180.0;

double of_68_percent(std::vector<double>& values) {
    if (values.empty()) return 0.0;
    const auto rank = values.begin() + static_cast<std::ptrdiff_t>(0.68 * static_cast<double>(values.size() - 1));
    std::ranges::nth_element(values, rank);
    return *rank;
}

double apart(const ThreadsHere& p, const ThreadsHere& q) {
    const double turned = (p.angle_deg - q.angle_deg) * degree;
    return std::sqrt(std::max(0.0, p.threads_per_cm * p.threads_per_cm + q.threads_per_cm * q.threads_per_cm -
                                       2.0 * p.threads_per_cm * q.threads_per_cm * std::cos(turned)));
}

double roughness(const WeaveMap& map, ThreadsHere WeaveSquare::* set) {
    std::vector<double> steps;
    for (int row = 0; row < map.rows; ++row)
        for (int column = 0; column < map.columns; ++column) {
            const ThreadsHere& here = map.at(column, row).*set;
            if (here.trust < trusted_from) continue;
            const auto add = [&](const ThreadsHere& there) {
                if (there.trust >= trusted_from) steps.push_back(apart(here, there));
            };
            if (column + 1 < map.columns) add(map.at(column + 1, row).*set);
            if (row + 1 < map.rows) add(map.at(column, row + 1).*set);
        }
    return of_68_percent(steps);
}

ThreadSet summed(const std::vector<WeaveSquare>& squares, ThreadsHere WeaveSquare::* set) {
    double x = 0.0, y = 0.0, weights = 0.0;
    std::vector<double> counts;
    for (const WeaveSquare& square : squares) {
        const ThreadsHere& here = square.*set;
        if (here.trust < trusted_from) continue;
        x += here.trust * here.threads_per_cm * std::cos(here.angle_deg * degree);
        y += here.trust * here.threads_per_cm * std::sin(here.angle_deg * degree);
        weights += here.trust;
        counts.push_back(here.threads_per_cm);
    }
    ThreadSet out;
    if (counts.empty()) return out;
    out.threads_per_cm = std::hypot(x, y) / weights;
    out.angle_deg = std::atan2(y, x) / degree;
    out.trusted_share = static_cast<double>(counts.size()) / static_cast<double>(squares.size());
    std::vector<double> away;
    away.reserve(counts.size());
    for (const double count : counts) away.push_back(std::abs(count - out.threads_per_cm));
    out.spread_per_cm = of_68_percent(away);
    const double independent = std::max(1.0, static_cast<double>(counts.size()) / overlap);
    // A single square is placed to about a fiftieth of the width of its own peak, two cycles per centimetre.
    out.uncertainty_per_cm = std::hypot(out.spread_per_cm, 0.04) / std::sqrt(independent);
    return out;
}

bool on_blocks(const ThreadSet& set, double px_per_cm, double upright_deg) {
    const double of_blocks = set.threads_per_cm / px_per_cm * jpeg_block_px;
    return std::abs(of_blocks - std::round(of_blocks)) < 0.02 && std::abs(set.angle_deg - upright_deg) < 0.15;
}

void refuse(ThreadCount& count, std::string code, std::string reason) {
    count.usable = false;
    count.code = std::move(code);
    count.reason = std::move(reason);
    count.confidence = std::min(count.confidence, 0.4);
}

void refuse_unseen(ThreadCount& count, const WeaveEvidence& evidence) {
    count.confidence = 0.0;
    const auto& peaks = evidence.search.peaks;
    const bool one_way = !peaks.empty() && peaks.front().contrast > 2.0 * evidence.search.least_contrast &&
                         peaks.front().at.length() >= 5.0;
    if (one_way)
        return refuse(
            count, "weave.one-direction",
            "A regular pattern is seen in one direction only: this may be a grain, a reed or a screen, but not "
            "both threads of a canvas.");
    refuse(count, "weave.none",
           fmt::format("No weave is seen: there is no regular pattern of 5 to {} threads to the centimetre in two "
                       "directions.",
                       format_fixed(count.largest_count_per_cm, 0)));
}

double contrast_confidence(const LatticeSearch& search) {
    const WeaveLattice& lattice = *search.found;
    const auto of = [&](double axis) {
        const double times = std::max(axis, lattice.contrast_checks) / search.least_contrast;
        return std::clamp(0.3 + 0.7 * std::log(std::max(1e-3, times)) / std::log(sure_contrast), 0.0, 1.0);
    };
    return std::min(of(lattice.contrast_a), of(lattice.contrast_b));
}

double share_confidence(double share) {
    return std::clamp(0.5 + 0.5 * (share - least_share) / (enough_share - least_share), 0.0, 1.0);
}

Weave weave_of(WeaveKind kind) {
    switch (kind) {
        case WeaveKind::plain:
            return Weave::plain;
        case WeaveKind::both_ways:
            return Weave::basket_or_herringbone;
        case WeaveKind::pairs_across:
        case WeaveKind::pairs_down:
            return Weave::half_basket;
        default:
            return Weave::twill;
    }
}

std::string_view about(Weave weave) {
    switch (weave) {
        case Weave::plain:
            return "";
        case Weave::twill:
            return "This is a twill, as it seems: its threads were counted, not its lines.";
        case Weave::basket_or_herringbone:
            return "This is no plain weave, but a basket weave or a herringbone, as it seems: single threads were "
                   "counted.";
        case Weave::half_basket:
            return "The threads of one direction run in pairs, as it seems: single threads were counted.";
    }
    return "";
}

// Whether finer threads, too fine for the pixels, would look like the ones found: only checks in their own place tell.
bool may_be_folded(const ThreadCount& count, const WeaveEvidence& evidence) {
    const WeaveLattice& lattice = *evidence.search.found;
    const double finest = evidence.px_per_cm - std::max(count.a.threads_per_cm, count.b.threads_per_cm);
    return lattice.kind == WeaveKind::plain && lattice.contrast_checks <= 1.0 && finest < finest_canvas_per_cm;
}

// Another reading that is not worse enough, in words; "" where there is none.
std::string doubt_of(const ThreadCount& count, const WeaveEvidence& evidence) {
    const WeaveLattice& lattice = *evidence.search.found;
    if (lattice.twice > 0.5 * (single + paired)) return "Each thread that is seen may be a pair lying close together.";
    if (may_be_folded(count, evidence))
        return fmt::format("At {} px to the centimetre, finer threads may look like these: photograph a smaller part.",
                           format_fixed(evidence.px_per_cm, 0));
    if (lattice.lead < 0.5 * clear_lead && lattice.other_a_per_cm)
        return fmt::format("Another reading is nearly as good: {} threads to the centimetre across and {} down.",
                           format_fixed(*lattice.other_a_per_cm, 1), format_fixed(*lattice.other_b_per_cm, 1));
    return "";
}

void add_notes(ThreadCount& count, const WeaveEvidence& evidence) {
    if (const auto words = about(count.weave); !words.empty()) count.notes.emplace_back(words);
    const double share = std::min(count.a.trusted_share, count.b.trusted_share);
    if (share < enough_share)
        count.notes.push_back(
            fmt::format("The weave is seen on {} % of the photograph only.", format_fixed(100.0 * share, 0)));
    if (const auto doubt = doubt_of(count, evidence); !doubt.empty())
        count.notes.push_back(doubt + " Count some by eye.");
    if (count.largest_count_per_cm < 30.0)
        count.notes.push_back(
            fmt::format("At {} px to the centimetre, threads finer than {} to the centimetre cannot be "
                        "seen, or look coarser than they are.",
                        format_fixed(evidence.px_per_cm, 0), format_fixed(count.largest_count_per_cm, 1)));
}

}  // namespace

void sum_up(ThreadCount& count) {
    count.a = summed(count.map.squares, &WeaveSquare::a);
    count.b = summed(count.map.squares, &WeaveSquare::b);
    count.a.roughness_per_cm = roughness(count.map, &WeaveSquare::a);
    count.b.roughness_per_cm = roughness(count.map, &WeaveSquare::b);
}

void judge(ThreadCount& count, const WeaveEvidence& evidence) {
    if (!evidence.search.found) return refuse_unseen(count, evidence);
    count.weave = weave_of(evidence.search.found->kind);
    const double share = std::min(count.a.trusted_share, count.b.trusted_share);
    const double trusted = share * static_cast<double>(count.map.squares.size());
    count.confidence = std::min(contrast_confidence(evidence.search), share_confidence(share));
    const double lead = std::clamp(evidence.search.found->lead, 0.0, clear_lead);
    count.confidence *= 0.4 + 0.6 * lead / clear_lead;
    const double twice = evidence.search.found->twice;
    count.confidence *= std::clamp(1.0 - 0.6 * (twice - single) / (paired - single), 0.3, 1.0);
    if (may_be_folded(count, evidence)) count.confidence = std::min(count.confidence, 0.4);
    for (const ThreadSet* set : {&count.a, &count.b}) {
        const double share_of_count = set->roughness_per_cm / std::max(1e-9, set->threads_per_cm);
        count.confidence *= std::clamp((rough - share_of_count) / (rough - smooth), 0.0, 1.0);
    }
    add_notes(count, evidence);
    count.usable = true;
    if (trusted < 0.5 || share < least_share || (count.map.squares.size() > 8 && trusted < 2.5))
        return refuse(count, "weave.patchy", "Too few places agree on a weave for a count.");
    if (on_blocks(count.a, evidence.px_per_cm, 0.0) && on_blocks(count.b, evidence.px_per_cm, 90.0) &&
        evidence.gray_levels < faint_gray_levels)
        return refuse(count, "weave.block-pattern",
                      "What repeats here are the squares of JPEG compression, not threads.");
    if (count.confidence >= usable_from) return;
    if (const auto doubt = doubt_of(count, evidence); !doubt.empty())
        refuse(count, "weave.ambiguous", "A weave is seen, but how many threads it has is not clear. " + doubt);
    else
        refuse(count, "weave.faint", "A pattern is seen, but too faintly or too unevenly for a count to be trusted.");
}

}  // namespace tedge::imaging
