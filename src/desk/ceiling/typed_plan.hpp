// Between what is typed into a plan and its JSON, both ways. What cannot be read goes on as it was typed: the plan's
// own reader names the field and the reason.
#pragma once

#include <QString>
#include <nlohmann/json_fwd.hpp>

namespace tedge::desk {

// "12,500" is the number 12500.
[[nodiscard]] nlohmann::json amount_typed(const QString& typed);
// "600 – 900 – 1,800", or one amount for certain. Of two nobody knows the likely one: the plan's reader asks for it.
[[nodiscard]] nlohmann::json estimate_typed(const QString& typed);
// Percentages of a hundred: "40" is 0.4, "40 – 55 – 70" are three factors.
[[nodiscard]] nlohmann::json share_typed(const QString& percent);
[[nodiscard]] nlohmann::json shares_typed(const QString& percents);

// The same back: "" for null or what is no number.
[[nodiscard]] QString amount_text(const nlohmann::json& amount);
[[nodiscard]] QString estimate_text(const nlohmann::json& estimate);
[[nodiscard]] QString share_text(const nlohmann::json& share);
[[nodiscard]] QString shares_text(const nlohmann::json& shares);

}  // namespace tedge::desk
