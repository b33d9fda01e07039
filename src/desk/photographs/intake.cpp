#include "photographs/intake.hpp"

#include <algorithm>
#include <iterator>

#include "tedge/base/files.hpp"
#include "tedge/usecases/take_in_folder.hpp"
#include "text.hpp"

namespace tedge::desk {

std::vector<std::filesystem::path> files_of(const std::vector<std::filesystem::path>& dropped) {
    std::vector<std::filesystem::path> files;
    std::error_code fault;
    for (const auto& path : dropped) {
        if (!std::filesystem::is_directory(path, fault)) {
            files.push_back(path);
            continue;
        }
        const auto inside = usecases::files_under(path);
        if (!inside) continue;  // gone or locked: nothing was in what was dropped
        std::ranges::copy_if(*inside, std::back_inserter(files), usecases::may_be_a_picture);
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
    if (auto before = usecases::taken_before(worker.book, wanted.case_id, wanted.file); before && *before)
        return **before;
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
