// A measurement of a photograph that is none of the case's: its file is kept with the measurement.
#pragma once

#include <functional>

#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct MeasurementOfFile {
    Done done;
    bool already = false;
};

// Within an act. `values` with the stored file's digest; `is_same` says of a measurement of that file whether it says
// what this one does: then it is answered. By the casebook's own act, for what is read from a file is typed by nobody
// (add_record).
[[nodiscard]] Expected<MeasurementOfFile> record_measurement_of_file(
    const Acting& acting, const Uuid& case_id, std::string_view sha256, casebook::FieldValues values,
    const std::function<bool(const casebook::Body&)>& is_same);

}  // namespace tedge::usecases
