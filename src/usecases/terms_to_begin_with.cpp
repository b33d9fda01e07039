#include "tedge/usecases/terms_to_begin_with.hpp"

#include "case_plan.hpp"
#include "lot_on_record.hpp"

namespace tedge::usecases {

using nlohmann::json;

json terms_of_preset(const money::SalePreset& preset) {
    json bands = json::array();
    for (const money::PremiumBand& band : preset.terms.premium) {
        json one = {{"percent", band.percent.to_double()}};
        if (band.up_to_minor) one["up_to"] = decimal_amount(Money{*band.up_to_minor, preset.terms.currency});
        bands.push_back(std::move(one));
    }
    return {{"premium", bands},
            {"premium_includes_vat", preset.terms.premium_includes_vat},
            {"vat_on_premium_percent", preset.terms.vat_on_premium_percent.to_double()},
            {"vat_on_hammer_percent", preset.terms.vat_on_hammer_percent.to_double()},
            {"royalty", preset.terms.royalty.has_value()},
            {"increments", preset.increments}};
}

Expected<money::SaleTerms> sale_terms_in(const casebook::Body& lot, const Currency& currency) {
    return terms_in_sale(terms_in_lot(lot), currency);
}

}  // namespace tedge::usecases
