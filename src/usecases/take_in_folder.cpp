#include "tedge/usecases/take_in_folder.hpp"

#include <algorithm>
#include <set>
#include <type_traits>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/usecases/say_photographs.hpp"
#include "tedge/usecases/shot_list.hpp"

namespace tedge::usecases {

namespace {

// What holds where neither the file nor anybody says otherwise.
struct Assumed {
    ShotSaid shot;
    UsualRights rights;
};

FolderFile take_one(const Acting& acting, const FolderWanted& wanted, const std::filesystem::path& file,
                    const Assumed& assumed, const Progress& progress) {
    FolderFile done{.file = file, .shot = shot_of_file(wanted, file, {}, assumed.shot), .taken = {}, .refused = {}};
    if (auto before = taken_before(acting.book, wanted.case_id, file); before && *before) {
        done.taken = **before;
        return done;
    }
    const auto look =
        look_at_photograph(file, wanted.keep_damaged ? Damaged::kept : Damaged::refused, progress.part(0.0, 0.8));
    if (!look) {
        done.refused = look.error();
        return done;
    }
    done.shot = shot_of_file(wanted, file, look->character, assumed.shot);
    fill_rights(done.shot, *look, assumed.rights);
    auto taken = take_in_looked_at(acting, done.shot, *look, progress.part(0.8, 1.0));
    if (taken) {
        done.taken = *std::move(taken);
    } else {
        done.refused = taken.error();
    }
    return done;
}

// Said of all of them, so it is looked at once, before the first file is.
Expected<void> check_said_of_all(const FolderWanted& wanted) {
    const bool has_lamp = !wanted.said.raking_side.empty() || wanted.said.raking_angle_degrees.has_value();
    if (has_lamp && wanted.said.light != "raking") {
        return fail("photograph.not-raking", "Only raking light has a side and an angle.",
                    "Say that the light of all of them is raking, or leave side and angle out.");
    }
    return {};
}

}  // namespace

namespace {

namespace fs = std::filesystem;

bool is_no_picture(const Error& error) {
    return error.code == "picture.not-a-picture" || error.code == "picture.empty";
}

bool is_hidden(const fs::path& file) {
    return to_utf8(file.filename()).starts_with('.');
}

bool is_named_like_a_picture(const fs::path& file) {
    static const std::set<std::string> endings{".jpg",  ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif",
                                               ".tiff", ".dng",  ".nef", ".cr2",  ".cr3",  ".arw",  ".raf",
                                               ".orf",  ".rw2",  ".pef", ".srw",  ".kdc"};
    return endings.contains(lowered_ascii(to_utf8(file.extension())));
}

// With an iterator of the folder alone, or of all that is in it.
template <class Entries>
Expected<std::vector<fs::path>> files_by(const fs::path& folder) {
    std::error_code fault;
    if (!fs::is_directory(folder, fault)) {
        return fail("photograph.no-folder", "There is no folder \"" + to_utf8(folder) + "\".",
                    "Name the folder in which the photographs lie; a card or a drive may have been taken out.");
    }
    constexpr bool goes_inside = std::is_same_v<Entries, fs::recursive_directory_iterator>;
    const auto how = goes_inside ? fs::directory_options::skip_permission_denied : fs::directory_options::none;
    std::vector<fs::path> files;
    for (Entries entry(folder, how, fault), end; !fault && entry != end; entry.increment(fault)) {
        std::error_code none;
        const bool hidden = is_hidden(entry->path());
        if constexpr (goes_inside)
            if (hidden && entry->is_directory(none)) entry.disable_recursion_pending();
        if (!hidden && entry->is_regular_file(none)) files.push_back(entry->path());
    }
    if (fault) {
        return fail("photograph.no-folder", "The folder \"" + to_utf8(folder) + "\" cannot be read.",
                    "See that it is still there and may be read.");
    }
    std::ranges::sort(files);
    return files;
}

}  // namespace

bool FolderFile::is_lost() const {
    if (!refused) return false;
    return !is_no_picture(*refused) || (refused->code == "picture.empty" && is_named_like_a_picture(file));
}

Expected<std::vector<fs::path>> files_in(const fs::path& folder) {
    return files_by<fs::directory_iterator>(folder);
}

Expected<std::vector<fs::path>> files_under(const fs::path& folder) {
    return files_by<fs::recursive_directory_iterator>(folder);
}

bool may_be_a_picture(const fs::path& file) {
    if (is_named_like_a_picture(file)) return true;
    const auto probe = imaging::probe_picture(file);
    return probe || !is_no_picture(probe.error());
}

NewPhotograph shot_of_file(const FolderWanted& wanted, const std::filesystem::path& file,
                           const std::optional<imaging::PictureCharacter>& picture, const ShotSaid& assumed) {
    const GuessedShot guessed = guess_shot(file, picture, wanted.said, assumed);
    NewPhotograph shot;
    shot.case_id = wanted.case_id;
    shot.file = file;
    shot.face = guessed.shot.face.value_or(Face::recto);
    shot.light = guessed.shot.light;
    shot.stage = guessed.shot.stage;
    shot.raking_side = guessed.shot.raking_side;
    shot.raking_angle_degrees = guessed.shot.raking_angle_degrees;
    shot.photographer = wanted.photographer;
    shot.licence = wanted.licence;
    shot.has_scale = wanted.has_scale;
    shot.has_chart = wanted.has_chart;
    shot.keep_damaged = wanted.keep_damaged;
    shot.guesses = guessed.guesses;
    return shot;
}

Expected<std::vector<FolderFile>> take_in_folder(const Acting& acting, const FolderWanted& wanted,
                                                 const std::function<void(const FolderFile&)>& tell,
                                                 const Progress& progress) {
    if (auto said = check_said_of_all(wanted); !said) return pass_on(said);
    const auto files = files_under(wanted.folder);
    if (!files) return pass_on(files);
    const auto snapshot = acting.book.snapshot(wanted.case_id);
    if (!snapshot) return pass_on(snapshot);
    Assumed assumed{{}, usual_rights(acting.book, wanted.case_id)};
    assumed.shot.stage = stage_of_work(*snapshot);
    std::vector<FolderFile> done;
    for (std::size_t i = 0; i < files->size(); ++i) {
        if (progress.stopped()) return cancelled();
        const auto count = static_cast<double>(files->size());
        const Progress part = progress.part(static_cast<double>(i) / count, static_cast<double>(i + 1) / count);
        FolderFile one = take_one(acting, wanted, (*files)[i], assumed, part);
        if (one.refused && one.refused->code == "cancelled") return cancelled();
        // A word that is none is everybody's, not this file's.
        if (one.refused && one.refused->code == "photograph.unknown-word") return std::unexpected(*one.refused);
        if (tell) tell(one);
        done.push_back(std::move(one));
    }
    return done;
}

}  // namespace tedge::usecases
