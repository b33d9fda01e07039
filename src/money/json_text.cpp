#include "json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace tedge::money {

namespace {

constexpr std::size_t deepest = 16;  // a plan nests four deep

// Receives the events of the parser and builds the tree; returning false stops the parser.
class Builder {
public:
    bool null() { return add({.kind = JsonText::Kind::null}); }
    bool boolean(bool value) { return add({.kind = JsonText::Kind::boolean, .truth = value}); }
    bool number_integer(std::int64_t value) { return number(fmt::format("{}", value)); }
    bool number_unsigned(std::uint64_t value) { return number(fmt::format("{}", value)); }
    bool number_float(double, const std::string& text) { return number(text); }
    bool string(std::string& value) { return add({.kind = JsonText::Kind::string, .text = value}); }
    bool binary(nlohmann::json::binary_t&) { return false; }
    bool start_object(std::size_t) { return open(JsonText::Kind::object); }
    bool start_array(std::size_t) { return open(JsonText::Kind::array); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }

    bool key(std::string& name) {
        auto& members = open_.back().members;
        const bool repeated = std::ranges::any_of(members, [&](const auto& member) { return member.first == name; });
        if (repeated) {
            members.emplace_back(name, JsonText{});
            const std::string field = path();
            problem_ = Error{.code = "plan.repeated-field",
                             .message = fmt::format("The plan cannot be used: {} stands twice.", field),
                             .next = "Keep one of them.",
                             .values = {{"field", field}, {"reason", "stands twice"}}};
            return false;
        }
        members.emplace_back(name, JsonText{});
        return true;
    }

    bool parse_error(std::size_t position, const std::string& token, const nlohmann::detail::exception& problem) {
        constexpr int number_overflow = 406;  // the parser's own number for it
        if (problem.id != number_overflow) return refuse(fmt::format("it cannot be read beyond byte {}", position));
        const std::string field = path();
        const std::string reason = fmt::format("is {}, which is too large to be counted", shown_number(token));
        problem_ =
            Error{.code = "plan.out-of-range",
                  .message = fmt::format("The plan cannot be used: {} {}.", field.empty() ? "it" : field, reason),
                  .next = "Mend that field of the plan.",
                  .values = {{"field", field}, {"reason", reason}}};
        return false;
    }

    Expected<JsonText> result() {
        if (!problem_.code.empty()) return std::unexpected(problem_);
        return std::move(root_);
    }

private:
    // Where the parser stands: "outcomes[1].price".
    [[nodiscard]] std::string path() const {
        std::string result;
        for (const JsonText& level : open_) {
            if (level.kind == JsonText::Kind::array) {
                result += fmt::format("[{}]", level.items.size());
            } else if (!level.members.empty()) {
                result += (result.empty() ? "" : ".") + level.members.back().first;
            }
        }
        return result;
    }

    bool number(std::string text) { return add({.kind = JsonText::Kind::number, .text = std::move(text)}); }

    bool add(JsonText value) {
        if (open_.empty()) {
            root_ = std::move(value);
        } else if (open_.back().kind == JsonText::Kind::array) {
            open_.back().items.push_back(std::move(value));
        } else {
            open_.back().members.back().second = std::move(value);
        }
        return true;
    }

    bool open(JsonText::Kind kind) {
        if (open_.size() == deepest) return refuse("it nests deeper than any plan does");
        open_.push_back({.kind = kind});
        return true;
    }

    bool close() {
        JsonText done = std::move(open_.back());
        open_.pop_back();
        return add(std::move(done));
    }

    bool refuse(std::string reason) {
        problem_ = Error{.code = "plan.not-json",
                         .message = fmt::format("The plan is not JSON: {}.", reason),
                         .next = "Check quotes, commas and brackets there.",
                         .values = {{"field", ""}, {"reason", reason}}};
        return false;
    }

    JsonText root_;
    std::vector<JsonText> open_;
    Error problem_;
};

}  // namespace

std::string shown_number(std::string_view number) {
    constexpr std::size_t longest = 24;
    return std::string(number.substr(0, longest)) + (number.size() > longest ? "…" : "");
}

Expected<JsonText> parse_json_text(std::string_view json) {
    Builder builder;
    nlohmann::json::sax_parse(json.begin(), json.end(), &builder);
    return builder.result();
}

}  // namespace tedge::money
