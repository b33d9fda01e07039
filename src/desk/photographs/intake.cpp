#include "photographs/intake.hpp"

#include <algorithm>
#include <set>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// The longest word of the list that stands in the name, written with hyphens, underscores, blanks or nothing between.
std::string word_in_name(std::string_view field, const std::string& name, std::string_view otherwise) {
    std::string best(otherwise);
    std::size_t best_length = 0;
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field))) {
        for (const std::string_view joint : {"-", "_", " ", ""}) {
            std::string looked_for;
            for (const char c : word) looked_for += c == '-' ? std::string(joint) : std::string(1, c);
            if (looked_for.size() <= best_length || name.find(looked_for) == std::string::npos) continue;
            best = word;
            best_length = looked_for.size();
        }
    }
    return best;
}

bool is_named_like_a_picture(const std::filesystem::path& file) {
    static const std::set<std::string> endings{".jpg",  ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif",
                                               ".tiff", ".dng",  ".nef", ".cr2",  ".cr3",  ".arw",  ".raf",
                                               ".orf",  ".rw2",  ".pef", ".srw",  ".kdc"};
    return endings.contains(lowered_ascii(to_utf8(file.extension())));
}

}  // namespace

usecases::NewPhotograph guess_from_name(const std::filesystem::path& file) {
    const std::string name = lowered_ascii(to_utf8(file.stem()));
    usecases::NewPhotograph guess;
    guess.file = file;
    const bool from_behind = name.find("back") != std::string::npos && name.find("frame") == std::string::npos;
    guess.face = parse_face(word_in_name("face", name, from_behind ? "verso" : "recto")).value_or(Face::recto);
    guess.light = word_in_name("light", name, name.find("uv") != std::string::npos ? "ultraviolet" : "normal");
    guess.stage = word_in_name("stage", name, "as-received");
    return guess;
}

std::vector<std::filesystem::path> files_of(const std::vector<std::filesystem::path>& dropped) {
    std::vector<std::filesystem::path> files;
    std::error_code fault;
    for (const auto& path : dropped) {
        if (!std::filesystem::is_directory(path, fault)) {
            files.push_back(path);
            continue;
        }
        const std::size_t before = files.size();
        for (const auto& entry : std::filesystem::recursive_directory_iterator(path, fault)) {
            if (entry.is_regular_file(fault) && is_named_like_a_picture(entry.path())) files.push_back(entry.path());
        }
        std::sort(files.begin() + static_cast<std::ptrdiff_t>(before), files.end());
    }
    return files;
}

Intake::Intake(QObject* parent) : QObject(parent) {
    connect(&work_, &LongWork::finished, this, &Intake::finished);
}

void Intake::begin(const BookSession::Opened& how, std::vector<usecases::NewPhotograph> wanted) {
    work_.begin([this, how, wanted = std::move(wanted)](const Progress& progress) { work(how, wanted, progress); });
}

void Intake::work(const BookSession::Opened& how, const std::vector<usecases::NewPhotograph>& wanted,
                  const Progress& progress) {
    auto opened = open_for_worker(how);
    const int count = static_cast<int>(wanted.size());
    for (int i = 0; i < count && !progress.stopped(); ++i) {
        const auto& photograph = wanted[static_cast<std::size_t>(i)];
        const QString name = shown(to_utf8(photograph.file.filename()));
        work_.tell([this, i, count, name] { emit this->progress(i, count, name); });
        const auto taken =
            opened ? usecases::take_in_photograph({opened->book, opened->author, *how.clock}, photograph, progress)
                   : Expected<usecases::TakenPhotograph>(pass_on(opened));
        if (taken) {
            work_.tell([this, i, t = *taken] { emit this->taken(i, t); });
        } else if (taken.error().code != "cancelled") {
            work_.tell([this, i, e = taken.error()] { emit refused(i, e); });
        }
    }
}

}  // namespace tedge::desk
