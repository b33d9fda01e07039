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

TEST_CASE("Text is trimmed, split and joined") {
    CHECK(trimmed(" \t a b \n") == "a b");
    CHECK(trimmed("  ").empty());
    CHECK(split("a,,b", ',') == std::vector<std::string_view>{"a", "", "b"});
    CHECK(join({"a", "b"}, "; ") == "a; b");
    CHECK(lowered_ascii("ÄBC") == "Äbc");
    CHECK(counted(1, "photograph", "photographs") == "1 photograph");
    CHECK(counted(0, "photograph", "photographs") == "0 photographs");
}
