#include "plan_file.hpp"

#include <fmt/format.h>

#include "tedge/base/files.hpp"
#include "tedge/usecases/ceilings.hpp"

namespace tedge::cli {

using nlohmann::json;

namespace {

constexpr std::uint64_t largest_plan_bytes = 10'000'000;

std::string ceiling_line(std::string_view name, const std::optional<money::Ceiling>& ceiling) {
    if (!ceiling) return fmt::format("{:7} not asked for", name);
    return fmt::format("{:7} hammer up to {}, bid {}{}", name, to_display_text(ceiling->hammer),
                       to_display_text(ceiling->bid), ceiling->reason ? " (" + ceiling->reason->text + ")" : "");
}

}  // namespace

Expected<std::string> plan_text(const Arguments& arguments, std::string_view option) {
    return read_file(path_from_utf8(arguments.option_or(option, "")), largest_plan_bytes);
}

Answer ceiling_answer(const money::CeilingReport& report) {
    Answer answer;
    answer.fields = usecases::ceiling_values(report);
    for (const auto& [name, ceiling] :
         {std::pair{"target", report.target}, std::pair{"risk", report.risk}, std::pair{"cash", report.cash}}) {
        answer.lines.push_back(ceiling_line(name, ceiling));
    }
    if (report.binding) answer.lines.push_back(fmt::format("Binding: {}.", money::limit_name(*report.binding)));
    if (const auto& at = report.at_bid) {
        answer.lines.push_back(fmt::format("At {}: all-in {}, expected profit {}, chance of loss {} %.",
                                           to_display_text(at->hammer), to_display_text(at->all_in),
                                           to_display_text(at->expected_profit),
                                           format_fixed(100 * at->loss_probability, 1)));
    }
    for (const money::Remark& remark : report.remarks) answer.lines.push_back(remark.text);
    return answer;
}

json profit_fields(const money::ProfitAtHammer& at) {
    return {{"hammer", amount(at.hammer)},
            {"all_in", amount(at.all_in)},
            {"margin_price", amount(at.margin_price)},
            {"expected_profit", amount(at.expected_profit)},
            {"loss_probability", at.loss_probability},
            {"quantiles",
             {{"p5", amount(at.quantiles.p5)}, {"p50", amount(at.quantiles.p50)}, {"p95", amount(at.quantiles.p95)}}}};
}

void add_remarks(const std::vector<money::Remark>& remarks, Answer& answer) {
    answer.fields["remarks"] = json::array();
    for (const money::Remark& remark : remarks) {
        answer.fields["remarks"].push_back({{"code", remark.code}, {"text", remark.text}});
        answer.lines.push_back(remark.text);
    }
}

}  // namespace tedge::cli
