// Reads fields of a plan one after another and remembers the first that is wrong, so that the reading code stays flat.
#pragma once

#include <functional>
#include <initializer_list>
#include <optional>

#include "json_text.hpp"
#include "tedge/base/decimal.hpp"
#include "tedge/base/estimate.hpp"
#include "tedge/base/money.hpp"

namespace tedge::money {

// A value and where it stands: "outcomes[0].price". `value` is null where the field is left out.
struct PlanField {
    const JsonText* value = nullptr;
    std::string path{};

    [[nodiscard]] bool is_given() const { return value != nullptr; }
};

class PlanReader {
public:
    [[nodiscard]] bool failed() const { return problem_.has_value(); }
    [[nodiscard]] const Error& problem() const { return *problem_; }
    void refuse(std::string code, const std::string& path, std::string reason, std::string next = {});
    void refuse(const std::string& path, const Error& error);  // an error from elsewhere, with the field it concerns

    // Fields of an object by name. `known` are the names it may have.
    void expect_object(const PlanField& field, std::initializer_list<std::string_view> known);
    [[nodiscard]] PlanField member(const PlanField& object, std::string_view name) const;
    [[nodiscard]] PlanField needed(const PlanField& object, std::string_view name);

    // Each reads a field that is given; what is wrong is remembered and a harmless value returned.
    [[nodiscard]] bool truth(const PlanField& field);
    [[nodiscard]] std::string text(const PlanField& field);
    [[nodiscard]] Decimal decimal(const PlanField& field);
    [[nodiscard]] std::int64_t amount(const PlanField& field, const Currency& currency);
    [[nodiscard]] Estimate<Decimal> decimal_estimate(const PlanField& field);
    [[nodiscard]] Estimate<std::int64_t> amount_estimate(const PlanField& field, const Currency& currency);
    void each(const PlanField& array, const std::function<void(const PlanField&)>& visit);

private:
    [[nodiscard]] bool is_number(const PlanField& field);
    [[nodiscard]] std::optional<std::array<PlanField, 3>> three_points(const PlanField& field);
    std::optional<Error> problem_;
};

// "0.3333333333333333" -> 0.333333333: the text of a JSON number rounded to nine decimals, half away from zero.
// Errors: decimal.out-of-range.
[[nodiscard]] Expected<Decimal> rounded_decimal(std::string_view number);

}  // namespace tedge::money
