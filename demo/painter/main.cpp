// tedge_painter --out DIR [--scale S] [--threads N] [--only FILE]: paints the photographs of the demonstration.
#include <cstdio>
#include <string_view>
#include <thread>
#include <vector>

#include "studio.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"

namespace {

constexpr const char* usage =
    "tedge_painter --out DIR [--scale 0.05 to 1.5] [--threads N] [--only FILE]\n"
    "Paints the photographs of the demonstration and writes what is true about them into truth.json.\n";

struct Wanted {
    tedge::painter::StudioOptions options;
    bool understood = true;
};

Wanted read(const std::vector<std::string_view>& words) {
    Wanted wanted;
    wanted.options.threads = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
    for (std::size_t i = 0; i < words.size(); i += 2) {
        const std::string_view value = i + 1 < words.size() ? words[i + 1] : "";
        const auto number = tedge::parse_number(value);
        if (words[i] == "--out" && !value.empty())
            wanted.options.folder = tedge::path_from_utf8(value);
        else if (words[i] == "--only" && !value.empty())
            wanted.options.only = value;
        else if (words[i] == "--scale" && number)
            wanted.options.scale = *number;
        else if (words[i] == "--threads" && number && *number >= 1.0 && *number <= 64.0)
            wanted.options.threads = static_cast<int>(*number);
        else
            wanted.understood = false;
    }
    wanted.understood = wanted.understood && !wanted.options.folder.empty();
    return wanted;
}

}  // namespace

int main(int count, char** words) {
    Wanted wanted = read({words + 1, words + count});
    if (!wanted.understood) {
        std::fputs(usage, stderr);
        return 2;
    }
    wanted.options.say = [](const std::string& line) { std::fprintf(stderr, "%s\n", line.c_str()); };
    const auto done = tedge::painter::take_photographs(wanted.options);
    if (done) return 0;
    std::fprintf(stderr, "%s %s\n", done.error().message.c_str(), done.error().next.c_str());
    return 1;
}
