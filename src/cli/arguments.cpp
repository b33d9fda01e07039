#include "arguments.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "tedge/base/number_text.hpp"

namespace tedge::cli {

namespace {

std::unexpected<Error> wrong_use(std::string code, std::string message) {
    return fail("usage." + std::move(code), std::move(message),
                "tedge help, and the name of the command, shows what it takes.");
}

}  // namespace

Expected<Arguments> Arguments::parse(const std::vector<std::string>& words, const Grammar& grammar) {
    Arguments arguments;
    std::vector<std::string> plain;
    bool options_end = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (options_end || !word.starts_with("--")) {
            plain.push_back(word);
            continue;
        }
        if (word == "--") {
            options_end = true;
            continue;
        }
        const std::string name = word.substr(2);
        if (grammar.flags.contains(name)) {
            arguments.flags_.insert(name);
            continue;
        }
        if (!grammar.options.contains(name))
            return wrong_use("unknown-option", fmt::format("There is no option {}.", word));
        if (i + 1 == words.size()) return wrong_use("missing-value", fmt::format("The option {} needs a value.", word));
        if (!arguments.options_.emplace(name, words[++i]).second) {
            return wrong_use("given-twice", fmt::format("The option {} was given twice.", word));
        }
    }
    if (plain.size() < grammar.positions.size()) {
        return wrong_use("missing-argument", fmt::format("{} is missing.", grammar.positions[plain.size()]));
    }
    std::vector<std::string_view> positions = grammar.positions;
    if (!grammar.may_follow.empty()) positions.push_back(grammar.may_follow);
    if (plain.size() > positions.size()) {
        return wrong_use("too-many-arguments",
                         fmt::format("\"{}\" is more than this command takes.", plain[positions.size()]));
    }
    if (!plain.empty() && plain.front().empty() && grammar.positions.front() == "DIR") {
        return wrong_use("missing-argument", "DIR is empty.");
    }
    for (std::size_t i = 0; i < plain.size(); ++i) arguments.positions_.emplace(positions[i], plain[i]);
    for (const std::string_view name : grammar.needed) {
        if (!arguments.options_.contains(name)) {
            return wrong_use("missing-option", fmt::format("The option --{} is missing.", name));
        }
    }
    return arguments;
}

const std::string& Arguments::position(std::string_view name) const {
    const auto found = positions_.find(name);
    if (found == positions_.end()) throw std::out_of_range("no position " + std::string(name));
    return found->second;
}

std::optional<std::string> Arguments::position_if_given(std::string_view name) const {
    const auto found = positions_.find(name);
    return found != positions_.end() ? std::optional(found->second) : std::nullopt;
}

std::optional<std::string> Arguments::option(std::string_view name) const {
    const auto found = options_.find(name);
    return found != options_.end() ? std::optional(found->second) : std::nullopt;
}

std::string Arguments::option_or(std::string_view name, std::string_view otherwise) const {
    return option(name).value_or(std::string(otherwise));
}

bool Arguments::flag(std::string_view name) const {
    return flags_.contains(name);
}

Expected<std::optional<double>> Arguments::number(std::string_view name) const {
    const auto text = option(name);
    if (!text) return std::nullopt;
    const auto value = parse_number(*text);
    if (!value) return wrong_use("not-a-number", fmt::format("--{} is to be a number, not \"{}\".", name, *text));
    return *value;
}

Expected<std::optional<double>> Arguments::positive(std::string_view name) const {
    auto value = number(name);
    if (value && *value && !(**value > 0.0))
        return wrong_use("not-above-zero", fmt::format("--{} is to be more than zero, not {}.", name, *option(name)));
    return value;
}

}  // namespace tedge::cli
