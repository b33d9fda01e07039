// What an edit must be before it becomes a change, and what its record must be once it has.
#pragma once

#include <filesystem>
#include <optional>

#include "fold.hpp"
#include "sqlite/connection.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

// Asked inside the transaction that writes. What is given must outlive this.
class EditChecks {
public:
    EditChecks(const sqlite::Connection& db, const Sources& sources, const std::filesystem::path& folder)
        : db_(db), sources_(sources), folder_(folder) {}

    // Whether the act makes sense on the record as it stands (`before`, none for a new one), its values fit the field
    // table, and the files and records it names are here. Errors: casebook.bad-field, .nothing-to-do, .deleted-record,
    // .newer-record, .erased-record, .file-erased, .no-such-file, .no-such-record.
    [[nodiscard]] Expected<void> before_writing(const Edit& edit, const Kind& kind,
                                                const std::optional<FoldedRecord>& before) const;

    // What fields one by one cannot say of the record as it has become; what stood before holds up nothing else.
    // Errors: those of check_place and check_raking, face.stood-on, casebook.bad-field (a day still to come).
    [[nodiscard]] Expected<void> after_writing(const Edit& edit, const Kind& kind, const FoldedRecord& after) const;

private:
    [[nodiscard]] Expected<void> check_files(const Kind& kind, const Edit& edit) const;
    [[nodiscard]] Expected<void> check_place_of(const Edit& edit, const Kind& kind, const FoldedRecord& after) const;
    [[nodiscard]] Expected<void> check_still_on(const Uuid& frame, const Uuid& case_id, const Body& size) const;
    [[nodiscard]] Expected<void> check_happened(const Edit& edit, const Kind& kind, const FoldedRecord& after) const;

    const sqlite::Connection& db_;
    const Sources& sources_;
    const std::filesystem::path& folder_;
};

}  // namespace tedge::casebook
