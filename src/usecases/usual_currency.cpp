#include "tedge/usecases/usual_currency.hpp"

#include <algorithm>
#include <optional>

namespace tedge::usecases {

namespace {

using casebook::FieldType;
using casebook::Record;

constexpr std::size_t cases_looked_at = 20;

std::optional<Currency> currency_in(const Record& record) {
    const casebook::Kind* kind = casebook::find_kind(record.kind);
    if (kind == nullptr) return std::nullopt;
    for (const casebook::Field& field : kind->fields) {
        if (field.type == FieldType::money) {
            if (const auto money = record.body.money(field.name)) return money->currency;
        }
        if (field.type == FieldType::money_estimate) {
            if (const auto estimate = record.body.money_estimate(field.name)) return estimate->currency;
        }
    }
    return std::nullopt;
}

std::optional<Currency> newest_in(casebook::Casebook& book, const Uuid& case_id) {
    auto snapshot = book.snapshot(case_id);
    if (!snapshot) return std::nullopt;
    std::vector<Record> records = std::move(snapshot->records);
    records.push_back(std::move(snapshot->picture));
    std::ranges::stable_sort(records, std::ranges::greater{}, &Record::last_written);
    for (const Record& record : records) {
        if (const auto currency = currency_in(record)) return currency;
    }
    return std::nullopt;
}

}  // namespace

Currency usual_currency(casebook::Casebook& book, const Uuid& case_id) {
    if (const auto here = newest_in(book, case_id)) return *here;
    auto cases = book.cases();
    if (!cases) return Currency::parse("GBP").value();
    std::ranges::stable_sort(*cases, std::ranges::greater{}, &Record::last_written);
    for (std::size_t i = 0; i < std::min(cases->size(), cases_looked_at); ++i) {
        if (const auto there = newest_in(book, (*cases)[i].id)) return *there;
    }
    return Currency::parse("GBP").value();
}

Currency currency_of_sale(casebook::Casebook& book, const casebook::CaseSnapshot& snapshot) {
    for (const char* kind : {"lot", "ceiling"}) {
        const auto records = snapshot.of_kind(kind);
        if (records.empty()) continue;
        for (const char* field : {"estimate_low", "estimate_high", "hammer", "limit"})
            if (const auto money = records.back()->body.money(field)) return money->currency;
    }
    return usual_currency(book, snapshot.picture.id);
}

}  // namespace tedge::usecases
