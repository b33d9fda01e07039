#include "tedge/cleaning/mixture.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/decimal.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::cleaning {

namespace {

constexpr const char* how_to_write =
    "Write each solvent with its percent by volume, decimals with a point: "
    "ethanol 20, isooctane 80.";

struct Part {
    std::string_view name;
    std::string_view share;
};

// "ethanol 20 %" in two; nothing when it does not end in a number that stands apart.
std::optional<Part> name_and_share(std::string_view text) {
    text = trimmed(text);
    if (text.ends_with('%')) text = trimmed(text.substr(0, text.size() - 1));
    const auto blank = text.find_last_of(" \t");
    if (blank == std::string_view::npos) return std::nullopt;
    const Part part{trimmed(text.substr(0, blank)), text.substr(blank + 1)};
    if (part.name.empty() || !Decimal::parse(part.share)) return std::nullopt;
    return part;
}

// A comma ends a component only after a share, so that "1,4-dioxane 30" stays whole.
Expected<std::vector<Part>> parts_of(std::string_view text) {
    std::vector<Part> parts;
    std::size_t start = 0;
    for (std::size_t comma = 0; start < text.size() && comma != std::string_view::npos;) {
        comma = text.find_first_of(",;", comma);
        const auto piece = text.substr(start, comma == std::string_view::npos ? comma : comma - start);
        const auto part = name_and_share(piece);
        if (part) {
            parts.push_back(*part);
            start = comma == std::string_view::npos ? text.size() : comma + 1;
        }
        if (comma != std::string_view::npos) ++comma;
    }
    if (start < text.size()) {
        return fail("mixture.no-share", fmt::format("\"{}\" has no percent by volume.", trimmed(text.substr(start))),
                    how_to_write, {{"component", std::string(trimmed(text.substr(start)))}});
    }
    return parts;
}

Expected<Component> component_of(const Part& part) {
    const double percent = Decimal::parse(part.share).value().to_double();
    if (percent <= 0 || percent > 100) {
        return fail("mixture.bad-share", fmt::format("{} % of {} is not a share of a mixture.", part.share, part.name),
                    "Give a percentage above 0 and up to 100.",
                    {{"component", std::string(part.name)}, {"share", std::string(part.share)}});
    }
    const auto solvent = find_solvent(part.name);
    if (!solvent) return pass_on(solvent);
    return Component{*solvent, percent};
}

bool holds(const Mixture& mixture, const Solvent* solvent) {
    return std::ranges::any_of(mixture, [&](const Component& c) { return c.solvent == solvent; });
}

double total_percent(const Mixture& mixture) {
    double total = 0;
    for (const Component& component : mixture) total += component.percent;
    return total;
}

constexpr double tolerance_percent = 0.01;
constexpr double rounding = 1e-9;  // of adding up doubles, far below what is measured

}  // namespace

Expected<Mixture> parse_mixture(std::string_view text) {
    text = trimmed(text);
    if (text.empty()) return fail("mixture.empty", "No solvent is named.", how_to_write);
    const auto parts = parts_of(text);
    if (!parts) return pass_on(parts);
    Mixture mixture;
    for (const Part& part : *parts) {
        const auto component = component_of(part);
        if (!component) return pass_on(component);
        if (holds(mixture, component->solvent)) {
            return fail("mixture.named-twice",
                        fmt::format("{} stands twice in the mixture.", short_name(*component->solvent)),
                        "Give each solvent once, with its whole share.", {{"component", component->solvent->name}});
        }
        mixture.push_back(*component);
    }
    const double total = total_percent(mixture);
    if (std::abs(total - 100) > tolerance_percent + rounding) {
        return fail("mixture.not-100", fmt::format("The shares total {} %, not 100 %.", format_fixed(total, 2)),
                    "Give shares by volume that total 100.", {{"total", format_fixed(total, 2)}});
    }
    return mixture;
}

std::string to_text(const Mixture& mixture) {
    std::vector<std::string> parts;
    for (const Component& c : mixture)
        parts.push_back(fmt::format("{} {}", short_name(*c.solvent), format_number(c.percent)));
    return join(parts, ", ");
}

TeasParameters average_teas(const Mixture& mixture) {
    TeasParameters sum;
    const double total = total_percent(mixture);
    for (const Component& component : mixture) {
        const double share = component.percent / total;
        const TeasParameters& own = component.solvent->teas.value;
        sum = {sum.fd + share * own.fd, sum.fp + share * own.fp, sum.fh + share * own.fh};
    }
    return sum;
}

std::optional<HansenParameters> average_hansen(const Mixture& mixture) {
    HansenParameters sum;
    const double total = total_percent(mixture);
    for (const Component& component : mixture) {
        if (!component.solvent->hansen) return std::nullopt;
        const double share = component.percent / total;
        const HansenParameters& own = component.solvent->hansen->value;
        sum = {sum.dD + share * own.dD, sum.dP + share * own.dP, sum.dH + share * own.dH};
    }
    return sum;
}

MixtureFigures figures_of(const Mixture& mixture) {
    return {average_teas(mixture), average_hansen(mixture), warnings_for(mixture)};
}

}  // namespace tedge::cleaning
