// What a user can cause comes back as a value, never as an exception.
//
// An Error carries a stable code (for translation and scripts), one plain English sentence, what to do next, and the
// values that the sentence was made from, so that the desk can say the same thing in another language.
#pragma once

#include <expected>
#include <map>
#include <string>
#include <utility>

namespace tedge {

struct Error {
    std::string code;                           // "money.bands-out-of-order": area, dot, what went wrong
    std::string message;                        // one sentence, no trailing advice
    std::string next;                           // what the person can do about it; may be empty
    std::map<std::string, std::string> values;  // what the sentence was made from, locale-free

    friend bool operator==(const Error&, const Error&) = default;
};

template <class T>
using Expected = std::expected<T, Error>;

// `return fail("files.missing", "There is no file …", "Check the path.");`
[[nodiscard]] inline std::unexpected<Error> fail(std::string code, std::string message, std::string next = {},
                                                 std::map<std::string, std::string> values = {}) {
    return std::unexpected(Error{std::move(code), std::move(message), std::move(next), std::move(values)});
}

// Hands the error of one result on as the error of another: `if (!page) return pass_on(page);`
template <class T>
[[nodiscard]] std::unexpected<Error> pass_on(const Expected<T>& failed) {
    return std::unexpected(failed.error());
}

}  // namespace tedge
