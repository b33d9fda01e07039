#include "plan_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tedge::money {

namespace {

using Kind = JsonText::Kind;

std::string_view kind_name(Kind kind) {
    constexpr std::array<std::string_view, 6> names{"null",   "true or false", "a number",
                                                    "a text", "a list",        "an object"};
    return names.at(static_cast<std::size_t>(kind));
}

std::string below(const PlanField& object, std::string_view name) {
    return object.path.empty() ? std::string(name) : fmt::format("{}.{}", object.path, name);
}

bool is_remark(std::string_view name) {
    return name == "comment" || name == "note" || name == "notes";
}

}  // namespace

void PlanReader::refuse(std::string code, const std::string& path, std::string reason, std::string next) {
    if (failed()) return;
    problem_ = Error{.code = std::move(code),
                     .message = path.empty() ? fmt::format("The plan {}.", reason)
                                             : fmt::format("The plan cannot be used: {} {}.", path, reason),
                     .next = next.empty() ? "Mend that field of the plan." : std::move(next),
                     .values = {{"field", path}, {"reason", reason}}};
}

void PlanReader::refuse(const std::string& path, const Error& error) {
    if (failed()) return;
    problem_ = error;
    problem_->values.emplace("field", path);
    problem_->values.emplace("reason", error.message);
    problem_->message = fmt::format("The plan cannot be used: {}: {}", path, error.message);
}

void PlanReader::expect_object(const PlanField& field, std::initializer_list<std::string_view> known) {
    if (failed()) return;
    if (field.value->kind != Kind::object) {
        return refuse("plan.wrong-kind", field.path, fmt::format("is {}, not an object", kind_name(field.value->kind)));
    }
    for (const auto& [name, value] : field.value->members) {
        if (is_remark(name) || std::ranges::find(known, name) != known.end()) continue;
        refuse("plan.unknown-field", below(field, name), "is not a field of a plan",
               "Check how it is spelt; remarks go into \"comment\".");
    }
}

PlanField PlanReader::member(const PlanField& object, std::string_view name) const {
    PlanField found{nullptr, below(object, name)};
    if (object.value == nullptr || object.value->kind != Kind::object) return found;
    for (const auto& [key, value] : object.value->members) {
        if (key == name && value.kind != Kind::null) found.value = &value;
    }
    return found;
}

PlanField PlanReader::needed(const PlanField& object, std::string_view name) {
    PlanField found = member(object, name);
    if (!found.is_given()) refuse("plan.missing-field", found.path, "is missing", "A plan needs it: fill it in.");
    return found;
}

bool PlanReader::truth(const PlanField& field) {
    if (failed()) return false;
    if (field.value->kind != Kind::boolean) {
        refuse("plan.wrong-kind", field.path, fmt::format("is {}, not true or false", kind_name(field.value->kind)));
    }
    return field.value->truth;
}

std::string PlanReader::text(const PlanField& field) {
    if (failed()) return {};
    if (field.value->kind != Kind::string) {
        refuse("plan.wrong-kind", field.path, fmt::format("is {}, not a text", kind_name(field.value->kind)));
    }
    return field.value->text;
}

bool PlanReader::is_number(const PlanField& field) {
    if (failed()) return false;
    if (field.value->kind == Kind::number) return true;
    refuse("plan.wrong-kind", field.path, fmt::format("is {}, not a number", kind_name(field.value->kind)));
    return false;
}

Decimal PlanReader::decimal(const PlanField& field) {
    if (!is_number(field)) return {};
    const auto value = rounded_decimal(field.value->text);
    if (!value) {
        refuse("plan.out-of-range", field.path,
               fmt::format("is {}, which is too large", shown_number(field.value->text)));
    }
    return value.value_or(Decimal{});
}

std::int64_t PlanReader::amount(const PlanField& field, const Currency& currency) {
    if (!is_number(field)) return 0;
    const auto value = parse_money(field.value->text, currency);
    if (value) return value->minor;
    if (value.error().code == "money.too-many-decimals") {
        refuse("plan.too-many-decimals", field.path,
               fmt::format("is {}, which has more decimals than {} has", shown_number(field.value->text),
                           currency.code()));
    } else {
        refuse("plan.out-of-range", field.path,
               fmt::format("is {}, which is too large to be counted", shown_number(field.value->text)));
    }
    return 0;
}

std::optional<std::array<PlanField, 3>> PlanReader::three_points(const PlanField& field) {
    if (failed()) return std::nullopt;
    if (field.value->kind == Kind::number) return std::array{field, field, field};
    if (field.value->kind != Kind::array || field.value->items.size() != 3) {
        refuse("plan.wrong-kind", field.path, "is neither a number nor a list of three: low, likely, high");
        return std::nullopt;
    }
    const auto point = [&](std::size_t at) {
        return PlanField{&field.value->items[at], fmt::format("{}[{}]", field.path, at)};
    };
    return std::array{point(0), point(1), point(2)};
}

Estimate<Decimal> PlanReader::decimal_estimate(const PlanField& field) {
    const auto points = three_points(field);
    if (!points) return {};
    return {decimal((*points)[0]), decimal((*points)[1]), decimal((*points)[2])};
}

Estimate<std::int64_t> PlanReader::amount_estimate(const PlanField& field, const Currency& currency) {
    const auto points = three_points(field);
    if (!points) return {};
    return {amount((*points)[0], currency), amount((*points)[1], currency), amount((*points)[2], currency)};
}

void PlanReader::each(const PlanField& array, const std::function<void(const PlanField&)>& visit) {
    if (failed()) return;
    if (array.value->kind != Kind::array) {
        return refuse("plan.wrong-kind", array.path, fmt::format("is {}, not a list", kind_name(array.value->kind)));
    }
    for (std::size_t i = 0; i < array.value->items.size(); ++i) {
        visit({&array.value->items[i], fmt::format("{}[{}]", array.path, i)});
    }
}

namespace {

constexpr int decimals_kept = 9;

struct Digits {
    std::string digits;   // without the point
    int after_point = 0;  // how many of them stand after it; may be negative
};

Digits digits_of(std::string_view number) {
    const std::size_t e = number.find_first_of("eE");
    Digits result;
    const std::string_view mantissa = number.substr(0, e);
    const std::size_t point = mantissa.find('.');
    for (const char c : mantissa) {
        if (c >= '0' && c <= '9') result.digits += c;
    }
    if (point != std::string_view::npos) result.after_point = static_cast<int>(mantissa.size() - point - 1);
    if (e == std::string_view::npos) return result;
    int exponent = 0;
    bool negative = false;
    for (const char c : number.substr(e + 1)) {
        if (c == '-') negative = true;
        if (c >= '0' && c <= '9') exponent = std::min(exponent * 10 + (c - '0'), 100'000);
    }
    result.after_point += negative ? exponent : -exponent;
    return result;
}

}  // namespace

Expected<Decimal> rounded_decimal(std::string_view number) {
    Digits value = digits_of(number);
    if (value.after_point > decimals_kept) {
        const auto surplus = static_cast<std::size_t>(value.after_point - decimals_kept);
        const bool up = surplus <= value.digits.size() && value.digits[value.digits.size() - surplus] >= '5';
        value.digits.resize(value.digits.size() - std::min(surplus, value.digits.size()));
        if (value.digits.empty()) value.digits = "0";
        value.after_point = decimals_kept;
        auto whole = Decimal::parse(fmt::format("{}e-{}", value.digits, value.after_point));
        if (!whole) return whole;
        const std::int64_t units = whole->units() + (up ? 1 : 0);
        return Decimal::from_units(number.starts_with('-') ? -units : units);
    }
    return Decimal::parse(number);
}

}  // namespace tedge::money
