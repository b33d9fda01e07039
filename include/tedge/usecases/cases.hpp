// Opening a case for a picture, and what the rack and the command line show of it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/geometry/face_frame.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::usecases {

struct NewCase {
    std::string title;
    std::string artist;  // may be empty
    std::optional<SizeMm> size;
};

// Makes the case, and with a size the recto's frame in millimetres, in one act. Returns the case's id.
// Errors: case.no-title, face.size-out-of-range.
[[nodiscard]] Expected<Uuid> open_case(const Acting& acting, const NewCase& wanted);

// The stages of the work, in its order: one tack each along the top of a case.
enum class Stage {
    lot,
    ceiling,
    transit,
    survey,
    photographs,
    trials,
    treatment,
    structure,
    frame,
    research,
    dossier,
    account
};
inline constexpr std::array all_stages{Stage::lot,         Stage::ceiling,  Stage::transit,   Stage::survey,
                                       Stage::photographs, Stage::trials,   Stage::treatment, Stage::structure,
                                       Stage::frame,       Stage::research, Stage::dossier,   Stage::account};
[[nodiscard]] std::string_view to_text(Stage stage);

struct StageMarks {
    std::array<bool, all_stages.size()> done{};  // something of it is recorded
    Stage now = Stage::lot;                      // the furthest of the work that is recorded, research apart
};
[[nodiscard]] StageMarks stage_marks(const casebook::CaseSnapshot& snapshot);
[[nodiscard]] casebook::KindsWanted kinds_of_stages();  // what stage_marks looks at

// What a card of the rack says.
struct CaseCard {
    Uuid id;
    std::string title;
    std::string artist;
    std::optional<SizeMm> size;
    StageMarks stages;
    std::string place;   // where it is now
    std::string holder;  // who holds it; "" where unknown
    std::string insured_by;
    std::string next_deadline_on;  // ISO date, "" for none
    std::string next_deadline_what;
    std::optional<Uuid> picture;  // the photograph to show small
};
[[nodiscard]] CaseCard card_of(const casebook::CaseSnapshot& snapshot);
// What a card needs of a case, so that a list of all of them reads no more.
[[nodiscard]] casebook::KindsWanted kinds_on_cards();
// The cards of all cases, in the order in which the cases were opened.
[[nodiscard]] Expected<std::vector<CaseCard>> cards(casebook::Casebook& book);

// A case by its id, by the beginning of its id, or by its exact title when only one has it.
// Errors: case.unknown, case.ambiguous.
[[nodiscard]] Expected<Uuid> find_case(casebook::Casebook& book, std::string_view reference);

// The photograph of a face that is shown unless another is asked for: the one chosen for it (show_first), else one of
// the whole face (placed so, or not placed yet) before a detail, and both before one of which nothing is known but that
// a colour chart is in it; of these one in ordinary light before the others, the latest stage before earlier ones, and
// of several the last that was taken in. nullptr where the face has none.
[[nodiscard]] const casebook::Record* first_photograph(const casebook::CaseSnapshot& snapshot, Face face);

// By its placement; false where it is not placed, or shows a detail.
[[nodiscard]] bool shows_whole_face(const casebook::CaseSnapshot& snapshot, const casebook::Record& photograph);

}  // namespace tedge::usecases
