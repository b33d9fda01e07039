// A picture with a limit and a lot of an invented sale, whose day has come.
#pragma once

#include "bought_picture.hpp"
#include "tedge/usecases/invoice_check.hpp"
#include "tedge/usecases/lot_results.hpp"

namespace tedge {

struct SoldLot : BoughtPicture {
    Uuid lot = add("lot", terms_of_lot());
    usecases::FixedCeiling limit = fixed();

    SoldLot() { clock.advance(std::chrono::hours(24 * 4)); }  // 7 March 2026

    // 5 March 2026, 14:30 by London's clocks; premium 25 % and VAT on it.
    static casebook::FieldValues terms_of_lot() {
        return casebook::FieldValues()
            .text("saleroom", "Quay Rooms")
            .text("sale", "Old Pictures")
            .text("lot_number", "212")
            .text("sale_at", "2026-03-05T14:30:00Z")
            .text("sale_zone", "Europe/London")
            .money("estimate_low", pounds(400'000))
            .value("terms/premium", nlohmann::json::array({{{"percent", 25}}}))
            .number("terms/vat_on_premium_percent", 20)
            .text("terms/risk_passes", "fall-of-hammer")
            .text("terms/register_by", "2026-03-04")
            .integer("terms/pay_within_days", 5)
            .integer("terms/storage_free_days", 10)
            .integer("terms/return_window_days", 21);
    }
    usecases::RecordedResult bought_for(std::int64_t minor) {
        return must(usecases::record_lot_result(acting, case_id, {.result = "bought", .hammer = pounds(minor)}));
    }
    casebook::Record only(std::string_view kind) {
        const auto held = snapshot();
        const auto records = held.of_kind(kind);
        REQUIRE(records.size() == 1);
        return *records.front();
    }
    // Day on which the deadline of that term falls due; "" for none.
    std::string due(std::string_view term) {
        const auto held = snapshot();
        for (const auto* deadline : held.of_kind("deadline"))
            if (deadline->body.text("term") == std::string(term)) return deadline->body.text_or("on");
        return {};
    }
};

}  // namespace tedge
