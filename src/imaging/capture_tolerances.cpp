#include "tedge/imaging/capture_tolerances.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "embedded_tables.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"

namespace tedge::imaging {
namespace {

struct Parameter {
    const char* key;   // in the table
    const char* name;  // for people
    std::optional<double> CaptureFigures::* value;
    int decimals;
};

constexpr std::array<Parameter, 11> parameters{
    Parameter{"colour-mean", "mean colour error", &CaptureFigures::colour_mean_delta_e00, 2},
    Parameter{"colour-p90", "90th percentile of the colour error", &CaptureFigures::colour_p90_delta_e00, 2},
    Parameter{"colour-max", "largest colour error", &CaptureFigures::colour_max_delta_e00, 2},
    Parameter{"colour-mean-flat", "mean colour error", &CaptureFigures::colour_mean_flat_delta_e00, 2},
    Parameter{"colour-max-flat", "largest colour error", &CaptureFigures::colour_max_flat_delta_e00, 2},
    Parameter{"white-balance", "white balance error", &CaptureFigures::white_balance_delta_ab, 2},
    Parameter{"tone", "tone error", &CaptureFigures::tone_delta_l, 2},
    Parameter{"noise", "noise", &CaptureFigures::noise_l, 2},
    Parameter{"non-uniformity", "unevenness of the light", &CaptureFigures::non_uniformity_percent, 1},
    Parameter{"sfr10", "sampling efficiency (SFR10)", &CaptureFigures::sfr10_percent, 0},
    Parameter{"scale", "error of the scale", &CaptureFigures::scale_error_percent, 2}};

struct Limit {
    std::string guideline, level, parameter, relation, unit, source, status;
    double limit = 0.0;
};

const std::vector<Limit>& limits() {
    static const std::vector<Limit> all = [] {
        const auto table = Table::parse(embedded::imaging_tolerances_csv);
        if (!table) throw std::logic_error("imaging_tolerances.csv");
        std::vector<Limit> out;
        for (std::size_t i = 0; i < table->row_count(); ++i)
            out.push_back({table->cell(i, "guideline"), table->cell(i, "level"), table->cell(i, "parameter"),
                           table->cell(i, "relation"), table->cell(i, "unit"), table->cell(i, "source"),
                           table->cell(i, "status"), parse_number(table->cell(i, "limit")).value()});
        return out;
    }();
    return all;
}

bool keeps(const Limit& limit, double value) {
    if (limit.relation == "below") return value < limit.limit;
    if (limit.relation == "above") return value > limit.limit;
    return value <= limit.limit;
}

bool stricter(const Limit& a, const Limit& b) {
    return a.relation == "above" ? a.limit > b.limit : a.limit < b.limit;
}

std::string begun(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

// The strictest level kept, or else the widest that there is.
ToleranceLine line_of(const Parameter& parameter, double value, const std::vector<const Limit*>& of_guideline) {
    const Limit* kept = nullptr;
    const Limit* widest = of_guideline.front();
    for (const Limit* limit : of_guideline) {
        if (stricter(*widest, *limit)) widest = limit;
        if (keeps(*limit, value) && (kept == nullptr || stricter(*limit, *kept))) kept = limit;
    }
    const Limit& shown = kept != nullptr ? *kept : *widest;
    ToleranceLine line{.guideline = shown.guideline,
                       .parameter = parameter.name,
                       .measured = value,
                       .unit = shown.unit,
                       .level = {},
                       .limit = shown.limit,
                       .sentence = {},
                       .source = shown.source,
                       .status = shown.status};
    const std::string bound = " (" + shown.relation + " " + format_number(shown.limit) + ")";
    line.sentence = begun(parameter.name) + " " + format_fixed(value, parameter.decimals) + " " + shown.unit + " is ";
    if (kept != nullptr) {
        line.level = kept->level;
        line.sentence += "within the " + shown.guideline + " " + shown.level + " tolerance" + bound;
    } else if (of_guideline.size() == 1) {
        line.sentence += "outside the " + shown.guideline + " " + shown.level + " tolerance" + bound;
    } else {
        line.sentence += "outside every " + shown.guideline + " tolerance, the widest being " + shown.level + bound;
    }
    if (shown.status.starts_with("as reported")) line.sentence += ", as reported";
    line.sentence += ".";
    return line;
}

}  // namespace

CaptureFigures capture_figures(const ColourFit& fit) {
    CaptureFigures out;
    out.colour_mean_delta_e00 = fit.foretold.mean;
    out.colour_p90_delta_e00 = fit.foretold.p90;
    out.colour_max_delta_e00 = fit.foretold.max;
    out.colour_mean_flat_delta_e00 = fit.foretold_flat.mean;
    out.colour_max_flat_delta_e00 = fit.foretold_flat.max;
    out.white_balance_delta_ab = fit.white_balance_delta_ab;
    out.tone_delta_l = fit.tone_delta_l;
    out.noise_l = fit.noise_l;
    return out;
}

std::vector<ToleranceLine> beside_tolerances(const CaptureFigures& figures) {
    std::vector<ToleranceLine> lines;
    for (const Parameter& parameter : parameters) {
        const std::optional<double>& value = figures.*parameter.value;
        if (!value) continue;
        std::vector<std::string> told;
        for (const Limit& limit : limits()) {
            if (limit.parameter != parameter.key || std::ranges::count(told, limit.guideline) > 0) continue;
            told.push_back(limit.guideline);
            std::vector<const Limit*> of_guideline;
            for (const Limit& other : limits())
                if (other.parameter == limit.parameter && other.guideline == limit.guideline)
                    of_guideline.push_back(&other);
            lines.push_back(line_of(parameter, *value, of_guideline));
        }
    }
    return lines;
}

}  // namespace tedge::imaging
