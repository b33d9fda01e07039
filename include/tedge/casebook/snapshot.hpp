// A case as it stood at one moment: plain values that nobody changes, read by gates, dossier and screens.
#pragma once

#include <string_view>
#include <vector>

#include "tedge/casebook/record.hpp"

namespace tedge::casebook {

struct CaseSnapshot {
    Record picture;               // the record of kind "case"
    std::vector<Record> records;  // all others of the case that are not deleted, in the order they were first written
    std::vector<Record> people;   // the book's persons

    [[nodiscard]] std::vector<const Record*> of_kind(std::string_view kind) const;
    [[nodiscard]] const Record* find(const Uuid& id) const;  // among records, people and the picture; or nullptr
};

}  // namespace tedge::casebook
