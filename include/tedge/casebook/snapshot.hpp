// A case as it stood at one moment: plain values that nobody changes, read by gates, dossier and screens.
#pragma once

#include <string>
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

// What is read of every case for a list of them: a book may hold a thousand.
struct KindsWanted {
    std::vector<std::string> all_of;  // every record of these kinds
    std::vector<std::string> any_of;  // one record of these, where it only matters whether there is one
};

}  // namespace tedge::casebook
