#include "merge_files.hpp"

#include <fmt/format.h>

#include "book_state.hpp"
#include "recovery.hpp"

namespace tedge::casebook {

namespace {

class FileMerger {
public:
    FileMerger(const BookOnDisk& ours, const BookOnDisk& theirs, std::vector<std::string>& faults)
        : ours_(ours), theirs_(theirs), faults_(faults) {}

    Expected<void> take_over_all(const std::vector<Change>& their_changes) {
        for (const auto& [name, records] : readable_files(theirs_.db, their_changes)) {
            if (is_erased_file(ours_.db, name) || is_erased_there(name)) continue;
            std::error_code unknown;
            const bool whole_here =
                std::filesystem::exists(original_in(ours_.folder, name), unknown) && !is_marked_damaged(ours_.db, name);
            if (whole_here) continue;
            if (auto taken = take_over_one(name); !taken) return taken;
        }
        return {};
    }

private:
    // What is wrong with the file there is told; what is wrong with our disk ends the merge.
    Expected<void> take_over_one(const std::string& name) {
        const auto taken = take_over(ours_.folder, original_in(theirs_.folder, name), name);
        if (taken) return {};
        const std::string& code = taken.error().code;
        if (code == "files.missing") {
            faults_.push_back(fmt::format(
                "The original {} is named there but missing there too; fetch it from another copy of the book.", name));
        } else if (code == "casebook.damaged-original" || code == "files.unreadable") {
            faults_.push_back(taken.error().message + " " + taken.error().next);
        } else {
            return taken;
        }
        return {};
    }

    // Where their list cannot be read, the erasures among their changes say it when those are taken in.
    [[nodiscard]] bool is_erased_there(const std::string& name) const {
        try {
            return is_erased_file(theirs_.db, name);
        } catch (const sqlite::SqlError& problem) {
            if (problem.is_busy() || problem.is_of_disk()) throw;
            return false;
        }
    }

    const BookOnDisk& ours_;
    const BookOnDisk& theirs_;
    std::vector<std::string>& faults_;
};

}  // namespace

Expected<void> merge_files(const BookOnDisk& ours, const BookOnDisk& theirs, const std::vector<Change>& their_changes,
                           std::vector<std::string>& faults) {
    return FileMerger(ours, theirs, faults).take_over_all(their_changes);
}

}  // namespace tedge::casebook
