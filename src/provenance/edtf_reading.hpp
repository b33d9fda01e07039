// Inside the EDTF reader: one date without "/" and without brackets.
#pragma once

#include <algorithm>
#include <string_view>

#include "tedge/base/error.hpp"
#include "tedge/provenance/civil_day.hpp"

namespace tedge::provenance::reading {

struct Date {
    int level = 0;
    DayNumber lower = 0;
    DayNumber upper = 0;
    bool uncertain = false;
    bool approximate = false;
    bool unspecified = false;

    void at_least_level(int wanted) { level = std::max(level, wanted); }
};

// A place in the text that moves on as characters are taken.
class Cursor {
public:
    explicit Cursor(std::string_view text) : rest_(text) {}
    [[nodiscard]] bool at_end() const { return rest_.empty(); }
    [[nodiscard]] std::string_view rest() const { return rest_; }
    bool take(char wanted);
    // `count` characters of "0123456789", and X where asked for; empty when they are not there.
    std::string_view take_digits(std::size_t count, bool or_x = false);
    std::string_view take_all_digits();         // as many as there are
    char take_one_of(std::string_view wanted);  // '\0' when none of them stands here

private:
    std::string_view rest_;
};

[[nodiscard]] int number_of(std::string_view digits);  // at most nine digits
[[nodiscard]] std::unexpected<Error> not_edtf(std::string_view text);
[[nodiscard]] std::unexpected<Error> no_such_day(std::string_view text);
[[nodiscard]] std::unexpected<Error> beyond_reach(std::string_view text);

// "1907", "190X-05", "2004-06~-11", "2001-21": what may stand in intervals and sets.
[[nodiscard]] Expected<Date> read_calendar_date(std::string_view text);
// "1985-04-12T23:20:30+04:30"
[[nodiscard]] Expected<Date> read_date_with_time(std::string_view text);
// "Y-17E7", "Y3388E2S3", and "1950S2"
[[nodiscard]] Expected<Date> read_long_year(std::string_view text);
[[nodiscard]] Expected<Date> read_year_with_significant_digits(std::string_view text);

}  // namespace tedge::provenance::reading
