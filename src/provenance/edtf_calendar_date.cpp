// Year, month or season, day, each with its qualifiers and unspecified digits.
#include <optional>
#include <vector>

#include "edtf_reading.hpp"

namespace tedge::provenance::reading {

namespace {

struct Component {
    std::string_view digits;
    char left_qualifier = '\0';
    char right_qualifier = '\0';

    [[nodiscard]] bool given() const { return !digits.empty(); }
    [[nodiscard]] bool has_x() const { return digits.contains('X'); }
    [[nodiscard]] bool all_x() const { return digits.find_first_not_of('X') == std::string_view::npos; }
};

struct Parts {
    bool negative = false;
    Component year;
    Component month;  // or a season
    Component day;
};

constexpr std::string_view qualifiers = "?~%";

bool take_component(Cursor& cursor, std::size_t digit_count, Component& component) {
    component.digits = cursor.take_digits(digit_count, true);
    component.right_qualifier = cursor.take_one_of(qualifiers);
    return component.given();
}

bool take_further_component(Cursor& cursor, Component& component) {
    if (cursor.at_end()) return true;
    if (!cursor.take('-')) return false;
    component.left_qualifier = cursor.take_one_of(qualifiers);
    return take_component(cursor, 2, component);
}

std::optional<Parts> take_apart(std::string_view text) {
    Cursor cursor(text);
    Parts parts;
    parts.year.left_qualifier = cursor.take_one_of(qualifiers);
    parts.negative = cursor.take('-');
    const bool in_form = take_component(cursor, 4, parts.year) && take_further_component(cursor, parts.month) &&
                         take_further_component(cursor, parts.day) && cursor.at_end();
    if (!in_form) return std::nullopt;
    return parts;
}

bool fits(int value, std::string_view pattern) {
    for (std::size_t i = pattern.size(); i-- > 0; value /= 10) {
        if (pattern[i] != 'X' && pattern[i] - '0' != value % 10) return false;
    }
    return value == 0;
}

// The values of low..high that the pattern can mean, in order.
std::vector<int> candidates(std::string_view pattern, int low, int high) {
    std::vector<int> found;
    for (int value = low; value <= high; ++value) {
        if (fits(value, pattern)) found.push_back(value);
    }
    return found;
}

std::vector<int> candidate_years(const Parts& parts) {
    std::vector<int> years = candidates(parts.year.digits, parts.negative ? 1 : 0, 9999);  // there is no year -0000
    if (parts.negative) {
        for (int& year : years) year = -year;
        std::ranges::reverse(years);
    }
    return years;
}

// Months that a season, quarter, quadrimester or semester covers. Codes 21 to 41 of ISO 8601-2, table of sub-year
// groupings; the months of the seasons are the usual meteorological ones.
struct MonthSpan {
    int first = 1;
    int count = 3;
};

MonthSpan season_months(int code) {
    if (code <= 28) return {3 * ((code - 21) % 4) + 3, 3};       // 21 to 24 anywhere, 25 to 28 northern
    if (code <= 32) return {(3 * (code - 29) + 8) % 12 + 1, 3};  // southern: spring begins in September
    if (code <= 36) return {3 * (code - 33) + 1, 3};             // quarters
    if (code <= 39) return {4 * (code - 37) + 1, 4};             // quadrimesters
    return {6 * (code - 40) + 1, 6};                             // semesters
}

DayNumber first_day(std::int64_t year, int month) {
    return day_number({year, month, 1});
}

DayNumber last_day(std::int64_t year, int month) {
    return day_number({year, month, last_day_of_month(year, month)});
}

bool is_season(const Component& month) {
    return month.given() && !month.has_x() && number_of(month.digits) >= 21 && number_of(month.digits) <= 41;
}

void set_season_bounds(Date& date, int code, const std::vector<int>& years) {
    const auto [first, count] = season_months(code);
    const int last = first + count - 1;
    date.lower = first_day(years.front(), first);
    date.upper = last > 12 ? last_day(std::int64_t{years.back()} + 1, last - 12) : last_day(years.back(), last);
    date.at_least_level(code <= 24 ? 1 : 2);
}

// First day in the order of the ranges that exists in the calendar.
template <class Years, class Months, class Days>
std::optional<DayNumber> first_existing(const Years& years, const Months& months, const Days& days) {
    for (const int year : years) {
        for (const int month : months) {
            for (const int day : days) {
                if (day <= last_day_of_month(year, month)) return day_number({year, month, day});
            }
        }
    }
    return std::nullopt;
}

bool set_day_bounds(Date& date, const Parts& parts, const std::vector<int>& years, const std::vector<int>& months) {
    const std::vector<int> days = candidates(parts.day.digits, 1, 31);
    const auto lower = first_existing(years, months, days);
    const auto backwards = [](const std::vector<int>& values) {
        return std::vector<int>(values.rbegin(), values.rend());
    };
    const auto upper = first_existing(backwards(years), backwards(months), backwards(days));
    if (!lower || !upper) return false;
    date.lower = *lower;
    date.upper = *upper;
    return true;
}

// False when no such day exists.
bool set_bounds(Date& date, const Parts& parts) {
    const std::vector<int> years = candidate_years(parts);
    if (years.empty()) return false;
    if (!parts.month.given()) {
        date.lower = first_day(years.front(), 1);
        date.upper = last_day(years.back(), 12);
        return true;
    }
    if (is_season(parts.month)) {
        if (parts.day.given()) return false;
        set_season_bounds(date, number_of(parts.month.digits), years);
        return true;
    }
    const std::vector<int> months = candidates(parts.month.digits, 1, 12);
    if (months.empty()) return false;
    if (parts.day.given()) return set_day_bounds(date, parts, years, months);
    date.lower = first_day(years.front(), months.front());
    date.upper = last_day(years.back(), months.back());
    return true;
}

// Level 1 allows one or two X at the right of a bare year, XX for the month, XX for the day, or both.
int level_of_unspecified(const Parts& parts) {
    if (parts.year.has_x()) {
        const bool rightmost = !parts.year.digits.substr(0, 2).contains('X') && parts.year.digits.back() == 'X';
        return rightmost && !parts.month.given() ? 1 : 2;
    }
    if (parts.month.has_x()) return parts.month.all_x() && (!parts.day.given() || parts.day.all_x()) ? 1 : 2;
    return parts.day.has_x() && !parts.day.all_x() ? 2 : 1;
}

void note_qualifier(Date& date, char qualifier) {
    date.uncertain |= qualifier == '?' || qualifier == '%';
    date.approximate |= qualifier == '~' || qualifier == '%';
}

// Level 1 qualifies the whole date, at its right end; anywhere else is level 2.
void note_qualifiers(Date& date, const Parts& parts) {
    const Component& last = parts.day.given() ? parts.day : parts.month.given() ? parts.month : parts.year;
    for (const Component* component : {&parts.year, &parts.month, &parts.day}) {
        note_qualifier(date, component->left_qualifier);
        note_qualifier(date, component->right_qualifier);
        const bool partly =
            component->left_qualifier != '\0' || (component != &last && component->right_qualifier != '\0');
        if (partly) date.at_least_level(2);
    }
    if (date.uncertain || date.approximate) date.at_least_level(1);
}

}  // namespace

Expected<Date> read_calendar_date(std::string_view text) {
    const auto parts = take_apart(text);
    if (!parts) return not_edtf(text);
    Date date;
    if (!set_bounds(date, *parts)) return no_such_day(text);
    note_qualifiers(date, *parts);
    if (parts->negative) date.at_least_level(1);
    date.unspecified = parts->year.has_x() || parts->month.has_x() || parts->day.has_x();
    if (date.unspecified) date.at_least_level(level_of_unspecified(*parts));
    return date;
}

}  // namespace tedge::provenance::reading
