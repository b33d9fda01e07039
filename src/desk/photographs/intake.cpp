#include "photographs/intake.hpp"

#include <algorithm>
#include <set>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "text.hpp"

namespace tedge::desk {

bool is_named_like_a_picture(const std::filesystem::path& file) {
    static const std::set<std::string> endings{".jpg",  ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif",
                                               ".tiff", ".dng",  ".nef", ".cr2",  ".cr3",  ".arw",  ".raf",
                                               ".orf",  ".rw2",  ".pef", ".srw",  ".kdc"};
    return endings.contains(lowered_ascii(to_utf8(file.extension())));
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

void Intake::begin(const BookSession::Opened& how, std::vector<usecases::NewPhotograph> wanted,
                   const usecases::UsualRights& usual) {
    work_.begin([this, how, usual, wanted = std::move(wanted)](const Progress& progress) {
        work(how, wanted, usual, progress);
    });
}

namespace {

Expected<usecases::TakenPhotograph> take(WorkersBook& worker, Clock& clock, usecases::NewPhotograph wanted,
                                         const usecases::UsualRights& usual, const Progress& progress) {
    const auto damaged = wanted.keep_damaged ? usecases::Damaged::kept : usecases::Damaged::refused;
    const auto look = usecases::look_at_photograph(wanted.file, damaged, progress);
    if (!look) return pass_on(look);
    usecases::fill_rights(wanted, *look, usual);
    return usecases::take_in_looked_at({worker.book, worker.author, clock}, wanted, *look, progress);
}

}  // namespace

void Intake::work(const BookSession::Opened& how, const std::vector<usecases::NewPhotograph>& wanted,
                  const usecases::UsualRights& usual, const Progress& progress) {
    auto opened = open_for_worker(how);
    const int count = static_cast<int>(wanted.size());
    for (int i = 0; i < count && !progress.stopped(); ++i) {
        const auto& photograph = wanted[static_cast<std::size_t>(i)];
        const QString name = shown(to_utf8(photograph.file.filename()));
        work_.tell([this, i, count, name] { emit this->progress(i, count, name); });
        const auto taken = opened ? take(*opened, *how.clock, photograph, usual, progress)
                                  : Expected<usecases::TakenPhotograph>(pass_on(opened));
        if (taken) {
            work_.tell([this, i, t = *taken] { emit this->taken(i, t); });
        } else if (taken.error().code != "cancelled") {
            work_.tell([this, i, e = taken.error()] { emit refused(i, e); });
        }
    }
}

}  // namespace tedge::desk
