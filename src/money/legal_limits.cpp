#include "tedge/money/legal_limits.hpp"

#include <algorithm>
#include <array>

#include "embedded_tables.hpp"
#include "reference_cells.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::money {

namespace {

LegalSource source_in(const Table& table, std::size_t row) {
    return {table.cell(row, "source"), table.cell(row, "status")};
}

bool has_word_of(std::string_view text, std::initializer_list<std::string_view> words) {
    return std::ranges::any_of(words, [&](std::string_view word) { return text.find(word) != std::string_view::npos; });
}

bool may_concern(std::string_view row_group, PictureGroup group) {
    if (row_group == "any" || row_group == "portrait") return true;
    if (row_group == "other") return false;
    if (group == PictureGroup::unknown) return true;
    if (row_group == "painting") return group == PictureGroup::painting;
    if (row_group == "watercolour") return group == PictureGroup::watercolour;
    if (row_group == "drawing") return group == PictureGroup::drawing;
    return group != PictureGroup::painting;  // the general limit, where nothing has its own
}

}  // namespace

bool LegalSource::from_memory() const {
    const std::string said = lowered_ascii(status + " " + source);
    return has_word_of(said, {"memory", "unconfirmed", "not read", "not seen", "not fully read"});
}

std::optional<LegalLimit> legal_limit_on(std::string_view parameter, std::chrono::year_month_day day) {
    const Table table = reference_table(embedded::legal_limits_csv);
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (table.cell(row, "parameter") != parameter || !holds_on(table, row, day)) continue;
        return LegalLimit{table.cell(row, "parameter"), table.cell(row, "value"), table.cell(row, "unit"),
                          table.cell(row, "jurisdiction"), source_in(table, row)};
    }
    return std::nullopt;
}

std::optional<MoneyLimit> money_laundering_limit_on(std::chrono::year_month_day day) {
    const auto limit = legal_limit_on("money-laundering threshold", day);
    if (!limit) return std::nullopt;
    return MoneyLimit{parse_money(limit->value, Currency::parse(limit->unit).value()).value(), limit->source};
}

PictureGroup picture_group(std::string_view technique) {
    const std::string words = lowered_ascii(technique);
    if (has_word_of(words, {"oil", "tempera", "acrylic", "encaustic"})) return PictureGroup::painting;
    if (has_word_of(words, {"watercolour", "watercolor", "gouache", "pastel"})) return PictureGroup::watercolour;
    if (has_word_of(words, {"ink", "chalk", "charcoal", "pencil", "etching", "engraving", "lithograph", "woodcut"}))
        return PictureGroup::drawing;
    return PictureGroup::unknown;
}

std::vector<ExportLimit> border_limits(std::string_view area, PictureGroup group) {
    const Table table = reference_table(embedded::export_limits_csv);
    std::vector<ExportLimit> limits;
    for (std::size_t row = 0; row < table.row_count(); ++row) {
        if (table.cell(row, "area") != area || !may_concern(table.cell(row, "group"), group)) continue;
        ExportLimit limit{table.cell(row, "regime"),
                          table.cell(row, "category"),
                          static_cast<int>(parse_integer(table.cell(row, "min_age_years")).value()),
                          {},
                          source_in(table, row)};
        if (const auto& currency = table.cell(row, "currency"); !currency.empty()) {
            const Money threshold =
                parse_money(table.cell(row, "threshold"), Currency::parse(currency).value()).value();
            if (threshold.minor > 0) limit.threshold = threshold;  // 0: at any value
        }
        limits.push_back(std::move(limit));
    }
    return limits;
}

std::vector<DutyText> duty_texts() {
    const Table table = reference_table(embedded::duties_csv);
    std::vector<DutyText> texts;
    for (std::size_t row = 0; row < table.row_count(); ++row)
        texts.push_back({table.cell(row, "duty"), table.cell(row, "question"), source_in(table, row)});
    return texts;
}

}  // namespace tedge::money
