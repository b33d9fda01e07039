#include "tedge/usecases/suspicions.hpp"

#include <algorithm>

namespace tedge::usecases {

Expected<Done> note_suspicion(const Acting& acting, const Uuid& case_id, std::string_view text) {
    return add_record(acting, case_id, "suspicion",
                      casebook::FieldValues()
                          .text("text", text)
                          .text("noted_on", tedge::to_text(acting.clock.now()).substr(0, 10))
                          .record("by", acting.author));
}

Expected<std::vector<Suspicion>> suspicions_of(casebook::Casebook& book, const Uuid& case_id) {
    const auto records = book.records(case_id, "suspicion");
    if (!records) return pass_on(records);
    std::vector<Suspicion> notes;
    for (const casebook::Record& record : *records)
        notes.push_back({record.id, record.body.text_or("text"), record.body.text_or("noted_on"),
                         record.body.text_or("reported_on"), record.body.text_or("reference")});
    return notes;
}

bool is_kept_back(std::string_view kind) {
    const casebook::Kind* known = casebook::find_kind(kind);
    return known != nullptr && std::ranges::all_of(known->fields, [](const casebook::Field& field) {
               return field.readers == casebook::nobody;
           });
}

}  // namespace tedge::usecases
