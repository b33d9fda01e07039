// Reads the #include lines of the tree and holds them against the table of DEVELOPERS.md.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

using namespace tedge;
namespace fs = std::filesystem;

namespace {

using Layers = std::map<std::string, std::set<std::string>>;

fs::path source_folder() {
    return TEDGE_SOURCE_DIR;
}

// "| name | a, b |" rows between the two marks.
Layers layers_of_developers_page() {
    const std::string page = read_file(source_folder() / "DEVELOPERS.md").value();
    const std::size_t begin = page.find("<!-- layers:begin -->");
    const std::size_t end = page.find("<!-- layers:end -->");
    REQUIRE(begin != std::string::npos);
    REQUIRE(end != std::string::npos);
    Layers layers;
    for (const std::string_view line : split(std::string_view(page).substr(begin, end - begin), '\n')) {
        const auto cells = split(line, '|');
        if (cells.size() != 4 || cells[1].find("---") != std::string_view::npos) continue;
        auto& allowed = layers[std::string(trimmed(cells[1]))];
        for (const std::string_view used : split(cells[2], ',')) {
            if (!trimmed(used).empty()) allowed.emplace(trimmed(used));
        }
    }
    layers.erase("module");
    return layers;
}

bool is_source(const fs::path& file) {
    return file.extension() == ".cpp" || file.extension() == ".hpp";
}

std::vector<std::string> includes_of(const fs::path& file) {
    std::vector<std::string> found;
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
        if (!line.starts_with("#include ")) continue;
        const std::size_t open = line.find_first_of("\"<");
        const std::size_t close = line.find_last_of("\">");
        if (open != std::string::npos && close > open) found.push_back(line.substr(open + 1, close - open - 1));
    }
    return found;
}

// Calls visit(module, file) for every source and header of a module.
template <class Visit>
void for_each_file(const Layers& layers, Visit visit) {
    for (const auto& [module, allowed] : layers) {
        for (const fs::path& folder : {source_folder() / "src" / module, source_folder() / "include/tedge" / module,
                                       source_folder() / "demo" / module}) {
            if (!fs::exists(folder)) continue;
            for (const auto& entry : fs::recursive_directory_iterator(folder)) {
                if (is_source(entry.path())) visit(module, entry.path());
            }
        }
    }
}

}  // namespace

TEST_CASE("Every folder of src is a module of the table") {
    const Layers layers = layers_of_developers_page();
    for (const auto& entry : fs::directory_iterator(source_folder() / "src")) {
        const std::string name = to_utf8(entry.path().filename());
        if (!entry.is_directory() || name == "cmake") continue;
        CAPTURE(name);
        CHECK(layers.contains(name));
    }
}

TEST_CASE("An arrow of the table only points to a row above, so there is no circle") {
    const Layers layers = layers_of_developers_page();
    for (const auto& [module, allowed] : layers) {
        for (const std::string& used : allowed) {
            CAPTURE(module, used);
            REQUIRE(layers.contains(used));
            CHECK_FALSE(layers.at(used).contains(module));
        }
    }
}

TEST_CASE("Includes follow the arrows of the table") {
    const Layers layers = layers_of_developers_page();
    std::size_t arrows_seen = 0;
    for_each_file(layers, [&](const std::string& module, const fs::path& file) {
        for (const std::string& include : includes_of(file)) {
            if (!include.starts_with("tedge/")) continue;
            const std::string used = include.substr(6, include.find('/', 6) - 6);
            ++arrows_seen;
            if (used == module) continue;
            INFO(to_utf8(file) << " includes " << include);
            CHECK(layers.at(module).contains(used));
        }
    });
    CHECK(arrows_seen > 10);
}

TEST_CASE("Public headers show no outside library, and Qt stays in the desk and the PDF writer") {
    const Layers layers = layers_of_developers_page();
    const std::vector<std::string> outside{"opencv2/", "libraw/", "exiv2/",   "lcms2", "sqlite3", "geos",
                                           "Q",        "png.h",   "jpeglib",  "tiff",  "webp/",   "libheif/",
                                           "qpdf/",    "archive", "openssl/", "fmt/",  "csv.h"};
    for_each_file(layers, [&](const std::string& module, const fs::path& file) {
        const bool is_public = to_utf8(file).find("include/tedge/") != std::string::npos;
        for (const std::string& include : includes_of(file)) {
            INFO(to_utf8(file) << " includes " << include);
            if (is_public) {
                for (const std::string& library : outside) CHECK_FALSE(include.starts_with(library));
                if (include.starts_with("nlohmann/")) CHECK(include == "nlohmann/json_fwd.hpp");
            }
            if (include.starts_with("Q")) CHECK((module == "desk" || module == "dossier"));
        }
    });
}

TEST_CASE("Names of a module stand in its own namespace, those of base and geometry in the one of the project") {
    const Layers layers = layers_of_developers_page();
    std::size_t headers_seen = 0;
    for_each_file(layers, [&](const std::string& module, const fs::path& file) {
        if (to_utf8(file).find("include/tedge/") == std::string::npos) return;
        ++headers_seen;
        const bool is_vocabulary = module == "base" || module == "geometry";
        const std::string wanted = is_vocabulary ? "namespace tedge {" : "namespace tedge::" + module + " {";
        INFO(to_utf8(file) << " opens another namespace than " << wanted);
        std::size_t opened = 0;
        const std::string text = read_file(file).value();
        for (const std::string_view line : split(text, '\n')) {
            if (!line.starts_with("namespace tedge")) continue;
            ++opened;
            CHECK(line == wanted);
        }
        CHECK(opened == 1);
    });
    CHECK(headers_seen > 50);
}
