// Words of a command line taken apart: positions, options with a value, flags. "--" ends options.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"

namespace tedge::cli {

// What a command takes. Option names stand without "--".
struct Grammar {
    std::vector<std::string_view> positions;  // all needed, in this order: {"DIR", "CASE"}
    std::set<std::string_view> options;       // take a value
    std::set<std::string_view> needed = {};   // options that must be there
    std::set<std::string_view> flags = {};
    std::set<std::string_view> pictures = {};  // of the options, those that name a picture to be written
    std::string_view may_follow = {};          // one position more that may be left out: "CASE", or all of them
};

// What an option or a word of the command says was looked at and is none of what it may be: wrong use, whatever the
// error's code. (An error that a use case gives to what was said well is a refusal.)
template <class T>
[[nodiscard]] Expected<T> said_by(std::string_view name, Expected<T> judged) {
    if (judged) return judged;
    Error error = std::move(judged).error();
    error.values["option"] = name;
    return std::unexpected(std::move(error));
}

class Arguments {
public:
    // Errors: usage.* (wrong use, exit code 2): unknown-option, missing-value, missing-argument, too-many-arguments,
    // given-twice.
    [[nodiscard]] static Expected<Arguments> parse(const std::vector<std::string>& words, const Grammar& grammar);

    [[nodiscard]] const std::string& position(
        std::string_view name) const;  // throws std::out_of_range when not declared
    [[nodiscard]] std::optional<std::string> position_if_given(std::string_view name) const;
    [[nodiscard]] std::optional<std::string> option(std::string_view name) const;
    [[nodiscard]] std::string option_or(std::string_view name, std::string_view otherwise) const;
    [[nodiscard]] bool flag(std::string_view name) const;
    // Errors: usage.not-a-number, naming the option.
    [[nodiscard]] Expected<std::optional<double>> number(std::string_view name) const;
    // Errors: the same, usage.not-above-zero.
    [[nodiscard]] Expected<std::optional<double>> positive(std::string_view name) const;

private:
    std::map<std::string, std::string, std::less<>> positions_;
    std::map<std::string, std::string, std::less<>> options_;
    std::set<std::string, std::less<>> flags_;
};

}  // namespace tedge::cli
