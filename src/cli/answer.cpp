#include "answer.hpp"

namespace tedge::cli {

using nlohmann::json;

ExitCode code_of(const Error& error) {
    if (error.code.starts_with("usage.") || error.values.contains("option")) return ExitCode::wrong_use;
    if (error.code == "cancelled") return ExitCode::cancelled;
    return ExitCode::refused;
}

json error_fields(const Error& error) {
    json fields = {{"code", error.code}, {"message", error.message}, {"next", error.next}};
    if (!error.values.empty()) fields["values"] = error.values;
    return {{"error", fields}};
}

std::string one_line(const json& fields) {
    return fields.dump(-1, ' ', false, json::error_handler_t::replace);
}

}  // namespace tedge::cli
