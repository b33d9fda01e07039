#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "tedge/base/text.hpp"
#include "tedge/provenance/date_words.hpp"
#include "tedge/provenance/ownership_chain.hpp"

namespace tedge::provenance {

namespace {

// Came on a day of [start_first, start_last], left on a day of [end_first, end_last].
struct Span {
    DayNumber start_first = before_all_days;
    DayNumber start_last = after_all_days;
    DayNumber end_first = before_all_days;
    DayNumber end_last = after_all_days;
    bool start_stated = false;
    bool end_stated = false;

    [[nodiscard]] bool turned_round() const { return start_first > end_last; }
};

struct Days {
    DayNumber first = before_all_days;
    DayNumber last = after_all_days;

    [[nodiscard]] bool meets(const Days& other) const { return first <= other.last && other.first <= last; }
};

Days years_1933_to_1945() {
    return {day_number({1933, 1, 30}), day_number({1945, 5, 8})};
}

bool has_title(const ChainLink& link) {
    return link.kind == LinkKind::owner || link.kind == LinkKind::dealer;
}

// A sale, or an agent's errand, with one date.
bool is_one_day(const ChainLink& link) {
    return !link.to && (link.kind == LinkKind::agent || link.kind == LinkKind::saleroom);
}

// Agents and custodians come and go while an owner keeps the picture; a sale ends his time.
bool marks_a_change(const ChainLink& link) {
    return link.kind != LinkKind::agent && link.kind != LinkKind::custodian;
}

Span span_of(const ChainLink& link) {
    const auto& end = is_one_day(link) ? link.from : link.to;
    Span span;
    span.start_stated = link.from.has_value();
    span.end_stated = end.has_value();
    if (link.from) {
        span.start_first = link.from->earliest();
        span.start_last = link.from->latest();
    }
    if (end) {
        span.end_first = end->earliest();
        span.end_last = end->latest();
    }
    if (span.turned_round()) return span;
    // Nobody gives away what has not yet come to him.
    span.end_first = std::max(span.end_first, span.start_first);
    span.start_last = std::min(span.start_last, span.end_last);
    return span;
}

class Examination {
public:
    explicit Examination(const OwnershipChain& chain) : chain_(chain) {
        for (const ChainLink& link : chain) spans_.push_back(span_of(link));
    }

    std::vector<ChainFinding> run() {
        for (std::size_t i = 0; i < chain_.size(); ++i) {
            if (i > 0) look_at_transfer(i);
            look_at_link(i);
            if (last_possible(i) >= last_possible(longest_)) longest_ = i;
            if (has_title(chain_[i])) last_title_ = i;
        }
        return std::move(found_);
    }

private:
    void look_at_link(std::size_t i) {
        const ChainLink& link = chain_[i];
        if (spans_[i].turned_round() && link.from && link.to) {
            add(FindingKind::impossible_order, {i},
                fmt::format("{} is said to have had it from {} to {}: the end lies before the beginning.", link.owner,
                            words_for(*link.from), words_for(*link.to)));
        }
        look_at_life(i);
        look_at_exposure(i);
    }

    void look_at_transfer(std::size_t next) {
        const std::size_t before = next - 1;
        if (spans_[next].end_last < spans_[before].start_first) {
            add(FindingKind::impossible_order, {before, next},
                fmt::format("{} stands after {} but had parted with it before {} can have had it.", name(next),
                            name(before), name(before)));
            return;
        }
        if (chain_[next].joint_with_previous) return;
        look_for_gap(next);
        if (has_title(chain_[next]) && last_title_) look_for_overlap(*last_title_, next);
    }

    void look_for_gap(std::size_t next) {
        const Span& held = spans_[longest_];
        const bool direct = chain_[next - 1].direct_to_next == DirectTransfer::yes;
        const bool definite = spans_[next].start_first > held.end_last;
        const bool possible = !definite && !direct && spans_[next].start_last > held.end_first;
        if (definite) {
            add(FindingKind::definite_gap, {longest_, next},
                fmt::format("Nobody is named between {} ({}) and {} ({}){}.", name(longest_), left_words(longest_),
                            name(next), came_words(next),
                            direct ? ", although the transfer is stated to be direct" : ""));
        } else if (possible) {
            add(FindingKind::possible_gap, {longest_, next},
                fmt::format("Between {} ({}) and {} ({}) there may be a time without a named holder.", name(longest_),
                            left_words(longest_), name(next), came_words(next)));
        }
        if (definite || possible) look_at_gap_exposure(longest_, next);
    }

    void look_for_overlap(std::size_t before, std::size_t next) {
        const bool direct = before + 1 == next && chain_[before].direct_to_next == DirectTransfer::yes;
        const bool stated = spans_[before].end_stated && spans_[next].start_stated;
        if (spans_[before].turned_round() || spans_[next].turned_round()) return;
        if (spans_[next].start_last < spans_[before].end_first) {
            add(FindingKind::definite_overlap, {before, next},
                fmt::format("{} ({}) and {} ({}) are both named for the same time.", name(before), left_words(before),
                            name(next), came_words(next)));
        } else if (stated && !direct && spans_[next].start_first < spans_[before].end_last) {
            add(FindingKind::possible_overlap, {before, next},
                fmt::format("{} ({}) and {} ({}) may be named for the same time.", name(before), left_words(before),
                            name(next), came_words(next)));
        }
    }

    void look_at_life(std::size_t i) {
        const ChainLink& link = chain_[i];
        const Days life{link.born ? link.born->earliest() : before_all_days,
                        link.died ? link.died->latest() : after_all_days};
        const auto outside = [&](const Edtf& date, bool after_death_too) {
            return date.latest() < life.first || (after_death_too && date.earliest() > life.last);
        };
        if (link.from && outside(*link.from, true)) add_outside_life(i, "come to", *link.from);
        if (link.to && outside(*link.to, !link.estate)) add_outside_life(i, "left", *link.to);
    }

    void add_outside_life(std::size_t i, std::string_view what, const Edtf& when) {
        add(FindingKind::outside_life, {i},
            fmt::format("It is said to have {} {} {}, outside the lifetime ({}).", what, name(i), words_for(when),
                        life_words(chain_[i].born, chain_[i].died)));
    }

    void look_at_exposure(std::size_t i) {
        const Span& span = spans_[i];
        const Days possible{first_possible(i), last_possible(i)};
        if (span.turned_round() || !possible.meets(years_1933_to_1945())) return;
        const Days certain{span.start_last, span.end_first};
        const bool surely = certain.first <= certain.last && certain.meets(years_1933_to_1945());
        add(FindingKind::exposure_1933_1945, {i},
            fmt::format("{} {} it between 30 January 1933 and 8 May 1945. Look into how it came and went.", name(i),
                        surely ? "had" : "may have had"));
    }

    void look_at_gap_exposure(std::size_t before, std::size_t next) {
        const Days gap{std::max(spans_[before].end_first, first_possible(before)),
                       std::min(spans_[next].start_last, last_possible(next))};
        if (!gap.meets(years_1933_to_1945())) return;
        add(FindingKind::exposure_1933_1945, {before, next},
            fmt::format("The gap between {} and {} reaches into 30 January 1933 to 8 May 1945. Look for who had it.",
                        name(before), name(next)));
    }

    // A start nobody knows lies after the birth and after the last departure that is known.
    [[nodiscard]] DayNumber first_possible(std::size_t i) const {
        if (spans_[i].start_first != before_all_days) return spans_[i].start_first;
        const ChainLink& link = chain_[i];
        DayNumber first = link.born ? link.born->earliest() : before_all_days;
        for (std::size_t earlier = i; earlier-- > 0;) {
            if (!marks_a_change(chain_[earlier]) || spans_[earlier].end_first == before_all_days) continue;
            first = std::max(first, spans_[earlier].end_first);
            break;
        }
        return first;
    }

    [[nodiscard]] DayNumber last_possible(std::size_t i) const {
        if (spans_[i].end_last != after_all_days) return spans_[i].end_last;
        const ChainLink& link = chain_[i];
        DayNumber last = link.died && !link.estate ? link.died->latest() : after_all_days;
        for (std::size_t later = i + 1; later < chain_.size(); ++later) {
            if (!marks_a_change(chain_[later]) || spans_[later].start_last == after_all_days) continue;
            last = std::min(last, spans_[later].start_last);
            break;
        }
        return last;
    }

    [[nodiscard]] const std::string& name(std::size_t i) const { return chain_[i].owner; }

    [[nodiscard]] std::string left_words(std::size_t i) const {
        const std::string words = held_words({}, spans_[i].end_stated && !chain_[i].to ? chain_[i].from : chain_[i].to);
        return words.empty() ? "end not known" : words;
    }

    [[nodiscard]] std::string came_words(std::size_t i) const {
        const ChainLink& link = chain_[i];
        const std::string words = is_one_day(link) && link.from ? words_for(*link.from) : held_words(link.from, {});
        return words.empty() ? "start not known" : words;
    }

    void add(FindingKind kind, std::vector<std::size_t> links, std::string text) {
        found_.push_back({kind, std::move(links), capitalised(std::move(text))});
    }

    const OwnershipChain& chain_;
    std::vector<Span> spans_;
    std::vector<ChainFinding> found_;
    std::size_t longest_ = 0;                // of the links so far, the one that had it last
    std::optional<std::size_t> last_title_;  // of the links so far, the last that had title
};

}  // namespace

std::string_view code_of(FindingKind kind) {
    switch (kind) {
        case FindingKind::definite_gap:
            return "definite-gap";
        case FindingKind::possible_gap:
            return "possible-gap";
        case FindingKind::definite_overlap:
            return "definite-overlap";
        case FindingKind::possible_overlap:
            return "possible-overlap";
        case FindingKind::impossible_order:
            return "impossible-order";
        case FindingKind::outside_life:
            return "outside-life";
        case FindingKind::exposure_1933_1945:
            return "exposure-1933-1945";
    }
    return "";
}

std::vector<ChainFinding> findings(const OwnershipChain& chain) {
    return Examination(chain).run();
}

}  // namespace tedge::provenance
