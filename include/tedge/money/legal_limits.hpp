// Limits that laws set on a deal in a picture, each with the days it held, its source and how sure the source is:
// resources/reference/legal_limits.csv, export_limits.csv, duties.csv. They are for asking the right question, never
// for answering it: what is lawful is for licensed advice to say.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/money.hpp"

namespace tedge::money {

struct LegalSource {
    std::string source{};
    std::string status{};
    // Some or all of it is from memory or was never seen in print.
    [[nodiscard]] bool from_memory() const;
};

struct LegalLimit {
    std::string parameter{};
    std::string value{};
    std::string unit{};
    std::string jurisdiction{};
    LegalSource source{};
};

// The row of that name that holds on the day; none where no law is known for it.
[[nodiscard]] std::optional<LegalLimit> legal_limit_on(std::string_view parameter, std::chrono::year_month_day day);

struct MoneyLimit {
    Money amount;
    LegalSource source;
};

// From which sum on, in one transaction or linked ones, a dealer in art of the United Kingdom identifies the other
// side: 10,000 euros from 10 January 2020, 10,000 pounds from 30 June 2026. None before.
[[nodiscard]] std::optional<MoneyLimit> money_laundering_limit_on(std::chrono::year_month_day day);

// What the table groups pictures by; `unknown` takes the lowest limit of all.
enum class PictureGroup { painting, watercolour, drawing, unknown };
// By the words of the technique: "oil on canvas", "gouache", "pen and ink".
[[nodiscard]] PictureGroup picture_group(std::string_view technique);

struct ExportLimit {
    std::string regime{};
    std::string category{};
    int least_age_years = 0;
    std::optional<Money> threshold{};  // none: at any value
    LegalSource source{};
};

// `area`: GB, EU, FR, IT, US, or EU-import for what comes into the Union. Those that may concern a picture of the
// group, portraits of known persons among them; own choice of rows, by the categories as printed.
[[nodiscard]] std::vector<ExportLimit> border_limits(std::string_view area, PictureGroup group);

struct DutyText {
    std::string duty{};
    std::string question{};
    LegalSource source{};
};
[[nodiscard]] std::vector<DutyText> duty_texts();  // in the order in which they are asked

}  // namespace tedge::money
