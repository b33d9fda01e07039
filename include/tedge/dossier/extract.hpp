// A case reduced to what one reader may have: the allow list of the field tables, applied once.
//
// Everything that leaves is made from an Extract, never from the case itself, so a part of the dossier cannot reach
// what its reader may not see. What is not named for a reader does not leave: unknown kinds, unknown fields and values
// of fields that name other readers are gone, and a record of which nothing is left is gone too.
#pragma once

#include <map>
#include <string>
#include <string_view>
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

    // How a finding stands, by all that the case knows: who may not read of treatments is not told of danger that is
    // over. The ISO day of its consolidation, "" while any of it is loose.
    [[nodiscard]] std::string consolidated_on(const casebook::Record& finding) const;
    [[nodiscard]] bool is_open_danger(const casebook::Record& finding) const;

private:
    casebook::Reader reader_ = casebook::Reader::own;
    casebook::CaseSnapshot kept_;
    std::map<Uuid, std::string> consolidated_on_;
};

}  // namespace tedge::dossier
