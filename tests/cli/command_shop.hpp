// Commands run within the test, on a small casebook.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "command.hpp"
#include "fixed_sources.hpp"
#include "must.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"

namespace tedge {

// A casebook with one case, worked by commands.
struct CommandShop {
    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids{5};
    cli::Context context{clock, ids, {}};
    std::string book = to_utf8(folder / "book");
    std::string case_id;

    explicit CommandShop(SizeMm face = {400, 300}) {
        must(run({"casebook", "create", book}));
        const nlohmann::json added =
            must(run({"case", "add", book, "--title", "River", "--width-mm", format_number(face.width_mm),
                      "--height-mm", format_number(face.height_mm), "--by", "Ada Wren"}));
        case_id = added["id"].get<std::string>();
    }

    Expected<nlohmann::json> run(std::vector<std::string> words) {
        const auto answer = cli::run_words(context, std::move(words));
        if (!answer) return pass_on(answer);
        return answer->fields;
    }

    // Filling the picture from corner to corner. More: what else the command is told.
    std::string photograph(const std::string& name, const imaging::Raster8& pixels, const std::string& light = "normal",
                           const std::string& when = "as-received", const std::vector<std::string>& more = {}) {
        const std::string file = to_utf8(folder / name);
        must(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        std::vector<std::string> words{"photograph", "add", book,     case_id, file,   "--face",  "recto",
                                       "--light",    light, "--when", when,    "--by", "Ada Wren"};
        words.insert(words.end(), more.begin(), more.end());
        const nlohmann::json added = must(run(words));
        const std::string id = added["id"].get<std::string>();
        must(run({"photograph", "place", book, id, "--corners", corners_of(pixels.size()), "--by", "Ada Wren"}));
        return id;
    }

    static std::string corners_of(SizePx size) {
        const std::string right = std::to_string(size.width_px - 1), bottom = std::to_string(size.height_px - 1);
        return "0,0," + right + ",0," + right + "," + bottom + ",0," + bottom;
    }
};

}  // namespace tedge
