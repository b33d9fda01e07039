#include "measurement_of_file.hpp"

#include <algorithm>

#include "act_values.hpp"

namespace tedge::usecases {

Expected<MeasurementOfFile> record_measurement_of_file(const Acting& acting, const Uuid& case_id,
                                                       std::string_view sha256, casebook::FieldValues values,
                                                       const std::function<bool(const casebook::Body&)>& is_same) {
    const auto known = acting.book.records(case_id, "measurement");
    if (!known) return pass_on(known);
    const auto same = std::ranges::find_if(*known, [&](const casebook::Record& each) {
        return each.body.text_or("sha256") == sha256 && is_same(each.body);
    });
    if (same != known->end()) return MeasurementOfFile{{same->id, removal_of(same->id)}, true};
    casebook::Edit edit;
    edit.case_id = case_id;
    edit.kind = "measurement";
    edit.values = std::move(values.text("sha256", sha256));
    const auto made = acting.book.commit(acting.author, {edit});
    if (!made) return pass_on(made);
    return MeasurementOfFile{{made->front(), removal_of(made->front())}, false};
}

}  // namespace tedge::usecases
