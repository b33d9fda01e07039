// What commands about money share: the plan in a file, a report in fields and lines.
#pragma once

#include "amounts.hpp"
#include "answer.hpp"
#include "arguments.hpp"
#include "tedge/money/courses.hpp"

namespace tedge::cli {

// The text of the file that an option names. Errors: those of read_file.
[[nodiscard]] Expected<std::string> plan_text(const Arguments& arguments, std::string_view option);

// Fields of `tedge ceiling`, and the three ceilings in lines.
[[nodiscard]] Answer ceiling_answer(const money::CeilingReport& report);

// {"hammer", "all_in", "margin_price", "expected_profit", "loss_probability", "quantiles"}
[[nodiscard]] nlohmann::json profit_fields(const money::ProfitAtHammer& at);

void add_remarks(const std::vector<money::Remark>& remarks, Answer& answer);

}  // namespace tedge::cli
