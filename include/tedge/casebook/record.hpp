// What a record says, and what is to be written into one, without any JSON type in sight.
#pragma once

#include <cstdint>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"
#include "tedge/base/estimate.hpp"
#include "tedge/base/money.hpp"
#include "tedge/base/uuid.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/geometry/region.hpp"

namespace tedge::casebook {

// The fields of a record as they stand now. Paths are field names; inside a map they go on with "/": "answers/support".
// A value of another type than asked for counts as absent: bodies written by newer programs must not break readers.
class Body {
public:
    Body();
    explicit Body(nlohmann::json fields);  // an object

    [[nodiscard]] bool has(std::string_view path) const;
    [[nodiscard]] std::optional<std::string> text(std::string_view path) const;
    [[nodiscard]] std::string text_or(std::string_view path, std::string_view otherwise = {}) const;
    [[nodiscard]] std::optional<double> number(std::string_view path) const;
    [[nodiscard]] std::optional<std::int64_t> integer(std::string_view path) const;
    [[nodiscard]] bool flag(std::string_view path) const;  // false where absent
    [[nodiscard]] std::optional<Money> money(std::string_view path) const;
    // Minor units; the currency beside them.
    struct MoneyEstimate {
        Estimate<std::int64_t> minor;
        Currency currency;
    };
    [[nodiscard]] std::optional<MoneyEstimate> money_estimate(std::string_view path) const;
    [[nodiscard]] std::optional<Uuid> record(std::string_view path) const;
    [[nodiscard]] std::optional<Region> region(std::string_view path) const;
    [[nodiscard]] std::optional<Placement> placement(std::string_view path) const;
    [[nodiscard]] std::vector<std::string> keys(std::string_view path = {}) const;  // of an object, sorted

    [[nodiscard]] std::string canonical_json() const;  // UTF-8, sorted keys, no spaces
    [[nodiscard]] const nlohmann::json& as_json() const { return *fields_; }

    friend bool operator==(const Body& a, const Body& b);

private:
    [[nodiscard]] const nlohmann::json* at(std::string_view path) const;
    std::shared_ptr<const nlohmann::json> fields_;
};

// Values on their way into a record: {"set": {path: value}, "unset": [path]}.
class FieldValues {
public:
    FieldValues();
    FieldValues(const FieldValues& other);
    FieldValues& operator=(const FieldValues& other);
    FieldValues(FieldValues&&) noexcept;
    FieldValues& operator=(FieldValues&&) noexcept;
    ~FieldValues();

    FieldValues& text(std::string_view path, std::string_view value);
    FieldValues& number(std::string_view path, double value);
    FieldValues& integer(std::string_view path, std::int64_t value);
    FieldValues& flag(std::string_view path, bool value);
    FieldValues& money(std::string_view path, const Money& value);
    FieldValues& money_estimate(std::string_view path, const Estimate<std::int64_t>& minor, const Currency& currency);
    FieldValues& record(std::string_view path, const Uuid& id);
    FieldValues& region(std::string_view path, const Region& value);
    FieldValues& placement(std::string_view path, const Placement& value);
    FieldValues& value(std::string_view path, const nlohmann::json& value);
    FieldValues& unset(std::string_view path);

    [[nodiscard]] bool empty() const;
    [[nodiscard]] const nlohmann::json& set_values() const;  // object: path to value
    [[nodiscard]] const std::vector<std::string>& unset_paths() const;

private:
    std::unique_ptr<nlohmann::json> set_;
    std::vector<std::string> unset_;
};

struct Record {
    Uuid id;
    Uuid case_id;  // nil for what belongs to the whole book
    std::string kind;
    int schema = 1;
    bool deleted = false;
    bool newer = false;  // written by a newer program: show it, do not edit it
    Body body;           // public and personal fields together
    std::vector<Uuid> newest_changes;
    Instant first_written;
    Instant last_written;
};

}  // namespace tedge::casebook
