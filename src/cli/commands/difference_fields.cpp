#include "difference_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/number_text.hpp"

namespace tedge::cli {

nlohmann::json statistics_fields(const imaging::DifferenceStatistics& figures) {
    return {{"mean", figures.mean}, {"p50", figures.p50}, {"p95", figures.p95},
            {"max", figures.max},   {"p05", figures.p05}, {"min", figures.min}};
}

std::string statistics_line(imaging::DifferenceKind kind, const imaging::DifferenceStatistics& figures) {
    const auto text = [](double value) { return format_fixed(value, 2); };
    if (!imaging::has_sign(kind))
        return fmt::format("{} mean {}, median {}, 95 % below {}, largest {}", imaging::symbol_of(kind),
                           text(figures.mean), text(figures.p50), text(figures.p95), text(figures.max));
    return fmt::format("{} mean {}, median {}, 5 % below {}, 95 % below {}, from {} to {}", imaging::symbol_of(kind),
                       text(figures.mean), text(figures.p50), text(figures.p05), text(figures.p95), text(figures.min),
                       text(figures.max));
}

std::string laid_line(double error_mm) {
    return fmt::format("Laid over each other to ± {} mm. Grey is not compared.",
                       format_fixed(std::max(error_mm, 0.01), 2));
}

}  // namespace tedge::cli
