#include "shell_words.hpp"

#include <catch2/catch.hpp>

using tedge::cli::shell_words;
using Words = std::vector<std::string>;

TEST_CASE("A line is taken apart as a POSIX shell does (POSIX.1-2017, Shell Command Language, 2.2)") {
    CHECK(shell_words("case add --title 'A b'") == Words{"case", "add", "--title", "A b"});
    CHECK(shell_words(R"(a\ b "c \"d\" \e" 'f\g')") == Words{"a b", R"(c "d" \e)", R"(f\g)"});
    CHECK(shell_words("a''b \"\" c") == Words{"ab", "", "c"});
    CHECK(shell_words("  \t ")->empty());
    CHECK(shell_words("say \"x").error().code == "usage.open-quote");
    CHECK(shell_words("$HOME *") == Words{"$HOME", "*"});
}
