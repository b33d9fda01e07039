#include "tedge/base/number_text.hpp"

#include <catch2/catch.hpp>

#include "in_locale.hpp"
#include "tedge/base/clock.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/money.hpp"

using namespace tedge;

TEST_CASE("Numbers read and print alike in every locale") {
    const char* name = GENERATE("C", "de_DE.UTF-8", "tr_TR.UTF-8");
    const InLocale in_locale(name);
    CHECK(parse_number("1234.5") == 1234.5);
    CHECK_FALSE(parse_number("1234,5").has_value());
    CHECK(format_number(1234.5) == "1234.5");
    CHECK(format_fixed(1234.5, 2) == "1234.50");
    CHECK(parse_integer("1234567") == 1234567);
    CHECK(to_display_text({123456789, Currency::parse("GBP").value()}) == "GBP 1,234,567.89");
    CHECK(parse_length_mm("32 1/4 IN").has_value() == false);  // "I" lowers to "ı" in Turkish: no folding is done
    CHECK(to_text(parse_instant("2026-03-03T09:00:00Z").value()) == "2026-03-03T09:00:00.000Z");
}

TEST_CASE("Only whole finite numbers are numbers") {
    for (const char* text : {"", " 1", "1 ", "+1", "inf", "nan", "0x1p3", "1e999", "--1"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_number(text).has_value());
    }
    CHECK(parse_integer("9223372036854775808").error().code == "number.out-of-range");
    CHECK(parse_integer("1.0").error().code == "number.not-a-number");
}

TEST_CASE("Fixed decimals round as the printed number is read") {
    CHECK(format_fixed(1.005, 2) == "1.01");
    CHECK(format_fixed(2.5, 0) == "3");
    CHECK(format_fixed(-2.5, 0) == "-3");
    CHECK(format_fixed(-0.001, 2) == "0.00");
    CHECK(format_number(-0.0) == "0");
    CHECK(format_number(0.1) == "0.1");
}
