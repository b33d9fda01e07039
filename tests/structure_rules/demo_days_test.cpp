// A dossier says by the real clock when it was drawn; a demo whose days lie ahead would be drawn before what it tells.
#include <catch2/catch.hpp>
#include <filesystem>

#include "tedge/base/clock.hpp"
#include "tedge/base/files.hpp"

using namespace tedge;
namespace fs = std::filesystem;

namespace {

// Every day of the calendar written as 2025-03-11 in a text.
std::vector<std::string> days_in(const std::string& text) {
    std::vector<std::string> days;
    for (std::size_t i = 0; i + 10 <= text.size(); ++i)
        if (text[i + 4] == '-' && text[i + 7] == '-' && parse_date(text.substr(i, 10)))
            days.push_back(text.substr(i, 10));
    return days;
}

}  // namespace

TEST_CASE("The days of the demo are over", "[demo]") {
    SystemClock clock;
    const std::string today = to_text(clock.now()).substr(0, 10);
    std::size_t seen = 0;
    for (const char* folder : {"demo/scenario", "demo/chapters", "demo/painter"})
        for (const auto& entry : fs::directory_iterator(fs::path(TEDGE_SOURCE_DIR) / folder))
            for (const auto& day : days_in(read_file(entry.path()).value())) {
                CAPTURE(entry.path().filename().string(), day);
                CHECK(day < today);
                ++seen;
            }
    CHECK(seen > 40);
}
