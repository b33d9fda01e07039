#include "tedge/provenance/edtf.hpp"

#include <fmt/format.h>

#include "edtf_reading.hpp"
#include "tedge/base/text.hpp"

namespace tedge::provenance {

namespace {

using reading::Date;
using reading::not_edtf;

std::unexpected<Error> end_before_start(std::string_view text) {
    return fail("edtf.end-before-start", fmt::format("\"{}\" ends before it begins.", text),
                "Put the earlier date first; write both with the same precision.", {{"text", std::string(text)}});
}

void take_in(Edtf& edtf, const Date& date) {
    edtf.level = std::max(edtf.level, date.level);
    edtf.uncertain |= date.uncertain;
    edtf.approximate |= date.approximate;
    edtf.unspecified |= date.unspecified;
}

Expected<Edtf> single(std::string_view text) {
    const bool has_time = text.contains('T');
    const auto date = text.starts_with('Y') ? reading::read_long_year(text)
                      : has_time            ? reading::read_date_with_time(text)
                      : text.contains('S')  ? reading::read_year_with_significant_digits(text)
                                            : reading::read_calendar_date(text);
    if (!date) return pass_on(date);
    Edtf edtf;
    take_in(edtf, *date);
    edtf.lower = date->lower;
    edtf.upper = date->upper;
    return edtf;
}

// One side of "/": nothing, "..", or a date.
struct Side {
    Bound bound = Bound::known;
    Date date;
};

Expected<Side> read_side(std::string_view text) {
    if (text.empty()) return Side{Bound::unknown, {}};
    if (text == "..") return Side{Bound::open, {}};
    const auto date = reading::read_calendar_date(text);
    if (!date) return pass_on(date);
    return Side{Bound::known, *date};
}

bool in_order(const Date& start, const Date& end) {
    return start.lower <= (end.unspecified ? end.upper : end.lower);
}

Expected<Edtf> interval(std::string_view text) {
    const auto sides = split(text, '/');
    if (sides.size() != 2) return not_edtf(text);
    const auto start = read_side(sides[0]);
    if (!start) return pass_on(start);
    const auto end = read_side(sides[1]);
    if (!end) return pass_on(end);
    Edtf edtf;
    edtf.interval = true;
    edtf.start = start->bound;
    edtf.end = end->bound;
    take_in(edtf, start->date);
    take_in(edtf, end->date);
    const bool both_known = edtf.start == Bound::known && edtf.end == Bound::known;
    if (!both_known) edtf.level = std::max(edtf.level, 1);
    if (edtf.unspecified) edtf.level = 2;
    if (both_known && !in_order(start->date, end->date)) return end_before_start(text);
    if (edtf.start == Bound::known) edtf.lower = start->date.lower;
    if (edtf.end == Bound::known) edtf.upper = end->date.upper;
    return edtf;
}

void widen(Edtf& edtf, const Date& date) {
    take_in(edtf, date);
    edtf.lower = std::min(edtf.lower.value_or(date.lower), date.lower);
    edtf.upper = std::max(edtf.upper.value_or(date.upper), date.upper);
}

// "1670..1672", "..1672", "1670.." or "1670"; the open ones at the outer ends of the list only.
Expected<Edtf> with_item(Edtf edtf, std::string_view item, bool first, bool last) {
    const auto dots = item.find("..");
    const bool is_range = dots != std::string_view::npos;
    const std::string_view from = is_range ? item.substr(0, dots) : item;
    const std::string_view to = is_range ? item.substr(dots + 2) : item;
    if (from.empty() ? to.empty() || !first : to.empty() && !last) return not_edtf(item);
    const auto start = reading::read_calendar_date(from.empty() ? to : from);
    if (!start) return pass_on(start);
    const auto end = reading::read_calendar_date(to.empty() ? from : to);
    if (!end) return pass_on(end);
    if (!in_order(*start, *end)) return end_before_start(item);
    widen(edtf, *start);
    widen(edtf, *end);
    if (from.empty()) edtf.start = Bound::open;
    if (to.empty()) edtf.end = Bound::open;
    return edtf;
}

Expected<Edtf> set_of_dates(std::string_view text) {
    const char closing = text.front() == '[' ? ']' : '}';
    if (text.back() != closing) return not_edtf(text);
    const auto items = split(text.substr(1, text.size() - 2), ',');
    Edtf edtf;
    edtf.set = true;
    for (std::size_t i = 0; i < items.size(); ++i) {
        auto wider = with_item(edtf, items[i], i == 0, i + 1 == items.size());
        if (!wider) return wider;
        edtf = std::move(*wider);
    }
    edtf.level = 2;
    if (edtf.start == Bound::open) edtf.lower.reset();
    if (edtf.end == Bound::open) edtf.upper.reset();
    return edtf;
}

}  // namespace

Expected<Edtf> parse_edtf(std::string_view text) {
    if (text.empty()) return not_edtf(text);
    auto edtf = text.front() == '[' || text.front() == '{' ? set_of_dates(text)
                : text.contains('/')                       ? interval(text)
                                                           : single(text);
    if (edtf) edtf->text = std::string(text);
    return edtf;
}

}  // namespace tedge::provenance
