// What a command has to say: fields for scripts, lines for people, and how it ended.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::cli {

enum class ExitCode {
    done = 0,
    refused = 1,  // or failed, or found faulty, with a reason
    wrong_use = 2,
    not_to_be_trusted = 3,  // done, but the report says so
    cancelled = 4
};

struct Answer {
    nlohmann::json fields = nlohmann::json::object();
    std::vector<std::string> lines;
    ExitCode code = ExitCode::done;
    bool printed = false;  // the command has said everything itself
};

// Wrong use: usage.*, or what names the option that it comes from (said_by).
[[nodiscard]] ExitCode code_of(const Error& error);
// {"error": {"code": …, "message": …, "next": …}}; with values where there are any.
[[nodiscard]] nlohmann::json error_fields(const Error& error);
// One line of JSON; text that is not UTF-8 (a file name) is shown with replacement characters.
[[nodiscard]] std::string one_line(const nlohmann::json& fields);

}  // namespace tedge::cli
