// A case on its way through a sale, with invented figures.
#pragma once

#include "../usecase_book.hpp"
#include "tedge/usecases/ceilings.hpp"

namespace tedge {

inline Money pounds(std::int64_t minor) {
    return {minor, must(Currency::parse("GBP"))};
}

// Everything certain: sells at 20,000, cleaned for 3,000; sold untouched it brings 9,000.
inline constexpr std::string_view certain_plan = R"({"currency": "GBP",
 "sale": {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20, "costs": [{"name": "cleaning", "amount": 3000}],
 "outcomes": [{"name": "by the master", "price": 20000, "months": 6}],
 "target": {"profit": 4000, "cash": 16000}, "as_found": {"price": 9000, "months": 2}})";

struct BoughtPicture : UsecaseBook {
    usecases::FixedCeiling fixed() {
        clock.advance(std::chrono::seconds(1));
        return must(usecases::fix_ceiling(acting, case_id, certain_plan, "seen twice"));
    }
    std::optional<usecases::CeilingStanding> standing() { return usecases::ceiling_standing(snapshot()); }
    Uuid bought() {
        return add("purchase",
                   casebook::FieldValues().money("hammer", pounds(850'000)).text("bought_on", "2026-03-05"));
    }
    Uuid paid(std::string_view name, std::int64_t minor) {
        return add("cost_line", casebook::FieldValues().text("name", name).money("actual", pounds(minor)));
    }
};

}  // namespace tedge
