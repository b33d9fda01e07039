// A case reduced to what one reader may have: the allow list of the field tables, applied once.
//
// Everything that leaves is made from an Extract, never from the case itself, so a part of the dossier cannot reach
// what its reader may not see. What is not named for a reader does not leave: unknown kinds, unknown fields and values
// of fields that name other readers are gone, and a record of which nothing is left is gone too.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::dossier {

class Extract {
public:
    // People stay only where a field that is kept names them.
    [[nodiscard]] static Extract of(const casebook::CaseSnapshot& snapshot, casebook::Reader reader);

    [[nodiscard]] casebook::Reader reader() const { return reader_; }
    [[nodiscard]] const casebook::Record& picture() const { return kept_.picture; }
    [[nodiscard]] const std::vector<casebook::Record>& people() const { return kept_.people; }
    [[nodiscard]] const std::vector<casebook::Record>& records() const { return kept_.records; }
    [[nodiscard]] std::vector<const casebook::Record*> of_kind(std::string_view kind) const {
        return kept_.of_kind(kind);
    }
    // What is kept, as a case of its own: for questions asked of a snapshot.
    [[nodiscard]] const casebook::CaseSnapshot& as_case() const { return kept_; }
    [[nodiscard]] const casebook::Record* find(const Uuid& id) const { return kept_.find(id); }

private:
    casebook::Reader reader_ = casebook::Reader::own;
    casebook::CaseSnapshot kept_;
};

// A value that its reader may not have, found in something on its way to him.
struct Leak {
    Uuid record;
    std::string kind;
    std::string field;
    std::string where;  // the name given beside the text it was found in
    friend bool operator==(const Leak&, const Leak&) = default;
};

// Looks for every internal value of the case (of a field that neither this reader nor a buyer or scholar may have) in
// texts that are about to leave, as whole words: private texts and notes in letters of either case, names of people as
// they are written, amounts in every form this program prints. Words of a list, dates, flags and bare numbers mean
// nothing by themselves, nor does a private text of a few letters. A value that an allowed field holds too is no leak.
// `texts`: name and content, such as ("the text of the PDF", "…").
[[nodiscard]] std::vector<Leak> internal_leaks(const casebook::CaseSnapshot& snapshot, casebook::Reader reader,
                                               const std::vector<std::pair<std::string, std::string>>& texts);

}  // namespace tedge::dossier
