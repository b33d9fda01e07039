// A whole folder of photographs in one go: what is in it comes in, guessed where nobody said what it shows.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

struct FolderWanted {
    Uuid case_id;
    std::filesystem::path folder;
    ShotSaid said;  // of all of them; what is left out is guessed for each
    std::string photographer;
    std::string licence;
    bool has_scale = false;
    bool has_chart = false;
    bool keep_damaged = false;
};

struct FolderFile {
    std::filesystem::path file;
    NewPhotograph shot;                    // with its guesses; of a refused one as far as its name says
    std::optional<TakenPhotograph> taken;  // already: by content, it may have another name there
    std::optional<Error> refused;
    // A picture that did not come in, one without a byte too, for a card that was pulled out leaves such; a letter or a
    // list between the pictures is none.
    [[nodiscard]] bool is_lost() const;
};

// The regular files of the folder itself, by name, hidden ones left out; what lies in folders inside stays there.
// Errors: photograph.no-folder.
[[nodiscard]] Expected<std::vector<std::filesystem::path>> files_in(const std::filesystem::path& folder);

// The same with all folders inside, as a camera's card or a sender's folder has them: what take_in_folder takes and
// what a dropped folder holds. Hidden folders, links to folders and folders that may not be read are left out. Errors:
// photograph.no-folder.
[[nodiscard]] Expected<std::vector<std::filesystem::path>> files_under(const std::filesystem::path& folder);

// Named like a picture, or begins like one; a letter or a list is neither.
[[nodiscard]] bool may_be_a_picture(const std::filesystem::path& file);

// One after the other, each durable when `tell` hears of it; one that is refused stops none of the others.
// Errors: photograph.no-folder, photograph.unknown-word, photograph.not-raking, cancelled (what came in before stays).
[[nodiscard]] Expected<std::vector<FolderFile>> take_in_folder(const Acting& acting, const FolderWanted& wanted,
                                                               const std::function<void(const FolderFile&)>& tell = {},
                                                               const Progress& progress = {});

// The photograph as guessed and said; `assumed` is what holds where nothing says otherwise.
[[nodiscard]] NewPhotograph shot_of_file(const FolderWanted& wanted, const std::filesystem::path& file,
                                         const std::optional<imaging::PictureCharacter>& picture,
                                         const ShotSaid& assumed);

}  // namespace tedge::usecases
