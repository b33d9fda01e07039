#include "tedge/base/text.hpp"

#include <catch2/catch.hpp>

using namespace tedge;

TEST_CASE("UTF-8 is judged as RFC 3629 says") {
    for (const char* good : {"", "plain", "é", "€", "𝄞", "\x7f"}) CHECK(is_valid_utf8(good));
    for (const char* bad :
         {"\x80", "\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xff", "\xe2\x82"}) {
        CHECK_FALSE(is_valid_utf8(bad));
    }
}

// ECMA-48: C0 is 00 to 1F, C1 is 80 to 9F; CSI (9B) begins what a terminal obeys.
TEST_CASE("What a terminal obeys is found and shown as a question mark, and nothing else is touched") {
    for (const char* obeyed : {"a\x1b[2J", "\a", "\x7f",
                               "\xC2\x9B"
                               "2J",
                               "a\xE2\x80\xA8", "a\nb", "a\tb", "\r"}) {
        CAPTURE(obeyed);
        CHECK(has_controls(obeyed));
        CHECK_FALSE(has_controls(without_controls(obeyed)));
    }
    for (const char* plain : {"", "plain", "é", "\xC2\xA0", "€", "𝄞", "it’s"}) {
        CHECK_FALSE(has_controls(plain));
        CHECK(without_controls(plain) == plain);
    }
    CHECK_FALSE(has_controls("a\nb\tc", "\n\t"));
    CHECK(without_controls("a\nb\r", "\n") == "a\nb?");
    CHECK(without_controls("\xff\xfe.png") == "??.png");
}

TEST_CASE("Text is trimmed, split and joined") {
    CHECK(trimmed(" \t a b \n") == "a b");
    CHECK(trimmed("  ").empty());
    CHECK(split("a,,b", ',') == std::vector<std::string_view>{"a", "", "b"});
    CHECK(join({"a", "b"}, "; ") == "a; b");
    CHECK(lowered_ascii("ÄBC") == "Äbc");
    CHECK(capitalised("private collection, Harrow") == "Private collection, Harrow");
    CHECK(capitalised("éditions") == "éditions");
    CHECK(capitalised("").empty());
    CHECK(counted(1, "photograph", "photographs") == "1 photograph");
    CHECK(counted(0, "photograph", "photographs") == "0 photographs");
}
