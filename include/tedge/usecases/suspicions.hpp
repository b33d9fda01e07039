// Notes of suspicion: what seemed wrong with a deal, for the house and whoever it reports to. To tell somebody of it
// may itself be an offence; when and where to report is for licensed advice. No reader of the field tables may have
// them: no dossier (not even the own file), no bag, no exchange holds one, no list of a case or search shows one. They
// are read by this alone.
#pragma once

#include <string>
#include <vector>

#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct Suspicion {
    Uuid record;
    std::string text{};
    std::string noted_on{};
    std::string reported_on{};
    std::string reference{};
};

// Noted on the day of the clock. Errors: those of add_record.
[[nodiscard]] Expected<Done> note_suspicion(const Acting& acting, const Uuid& case_id, std::string_view text);
[[nodiscard]] Expected<std::vector<Suspicion>> suspicions_of(casebook::Casebook& book, const Uuid& case_id);

// Whether a kind is nobody's to have: what lists the records of a case passes it over.
[[nodiscard]] bool is_kept_back(std::string_view kind);

}  // namespace tedge::usecases
