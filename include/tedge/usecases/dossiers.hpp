// A dossier of a case for one reader, after gate 22 was asked.
#pragma once

#include <filesystem>
#include <memory>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/dossier/picture_source.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct WrittenDossier {
    std::filesystem::path pdf;
    std::filesystem::path bag;
    int pages = 0;
    std::vector<std::string> warnings;  // of gate 22
    // The case as the pages tell it: when it was last written to, and its records.
    Instant newest{};
    std::size_t records = 0;
};

// What gate 22 says before a dossier for this reader leaves: everything it misses, overridden or not. Composes the text
// that would leave, so not for a thread that must not wait.
[[nodiscard]] Expected<std::vector<casebook::GateAnswer>> gates_before_dossier(const Acting& acting,
                                                                               const Uuid& case_id,
                                                                               casebook::Reader reader);

// Writes the PDF and the bag into `out`. Errors: gate.closed, those of write_dossier; with overrides those of
// override_gate.
//
// `overrides`: what a named person lets pass, for this dossier alone; the next one is asked again. They are written
// down before anything leaves, and are as true if the writing then fails: that somebody decided so is said in any case.
// What only the finished files show (dossier.leak) is let pass by the code of its field too.
[[nodiscard]] Expected<WrittenDossier> write_case_dossier(const Acting& acting, const Uuid& case_id,
                                                          casebook::Reader reader, const std::filesystem::path& out,
                                                          const Progress& progress = {},
                                                          const std::vector<Override>& overrides = {});

// What a dossier of the case shows: its photographs from their pyramids, and laid over each other by their placements,
// moved canvas and lens included. The snapshot must outlive it.
// Errors of registered(): photograph.not-placed; geometry.no-inverse (a folded placement); geometry.singular-map.
[[nodiscard]] std::unique_ptr<dossier::PictureSource> pictures_of_case(const casebook::CaseSnapshot& snapshot,
                                                                       const std::filesystem::path& book_folder);

// Errors: dossier.unknown-reader, naming the six words.
[[nodiscard]] Expected<casebook::Reader> parse_reader(std::string_view text);

}  // namespace tedge::usecases
