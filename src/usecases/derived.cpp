#include "tedge/usecases/derived.hpp"

#include "tedge/base/files.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/pyramid.hpp"

namespace tedge::usecases {

namespace fs = std::filesystem;

fs::path pyramid_path(const fs::path& book_folder, std::string_view sha256) {
    return book_folder / "derived" / "pyramids" / (std::string(sha256) + ".pyramid");
}

Expected<fs::path> ensure_pyramid(const fs::path& book_folder, std::string_view sha256, const Progress& progress) {
    fs::path file = pyramid_path(book_folder, sha256);
    if (fs::exists(file) && imaging::PyramidReader::open(file)) return file;
    const fs::path original = book_folder / "originals" / std::string(sha256.substr(0, 2)) / std::string(sha256);
    const auto picture = imaging::read_picture(original, {}, progress.part(0.0, 0.5));
    if (!picture) return pass_on(picture);
    if (auto made = make_folder_durably(file.parent_path()); !made) return pass_on(made);
    if (auto built = imaging::build_pyramid(*picture, file, {}, progress.part(0.5, 1.0)); !built) return pass_on(built);
    return file;
}

}  // namespace tedge::usecases
