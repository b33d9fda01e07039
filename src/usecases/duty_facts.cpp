#include "duty_facts.hpp"

#include <algorithm>

#include "account_records.hpp"
#include "tedge/base/text.hpp"
#include "tedge/provenance/edtf.hpp"

namespace tedge::usecases {

namespace {

std::string country_at(const casebook::Record* record, std::string_view field) {
    const auto country = record != nullptr ? parse_country(record->body.text_or(field)) : Expected<std::string>("");
    return country ? *country : std::string();
}

void read_age(DutyFacts& facts) {
    const auto made = provenance::parse_edtf(facts.snapshot->picture.body.text_or("date_made"));
    if (!made) return;
    if (made->lower) facts.made_from_year = provenance::civil_day(*made->lower).year;
    if (made->upper) facts.made_to_year = provenance::civil_day(*made->upper).year;
}

void read_value(DutyFacts& facts) {
    const auto take = [&](const std::optional<Money>& amount, const char* what) {
        if (facts.value || !amount) return;
        facts.value = amount;
        facts.value_is = what;
    };
    if (facts.sale != nullptr) take(facts.sale->body.money("price"), "sold for");
    take(facts.snapshot->picture.body.money("asking_price"), "asked for it are");
    if (facts.purchase != nullptr) take(facts.purchase->body.money("all_in"), "bought for");
}

void read_days(DutyFacts& facts) {
    facts.deal_day = facts.today;
    for (const auto& [record, field] : {std::pair{facts.purchase, "bought_on"}, std::pair{facts.sale, "sold_on"}}) {
        const auto day = record != nullptr ? parse_date(record->body.text_or(field)) : parse_date("");
        if (day) facts.deal_day = *day;
    }
}

void read_way(DutyFacts& facts) {
    const std::string bought_in = country_at(facts.purchase, "bought_in");
    const std::string goes_to = country_at(facts.sale, "destination");
    if (!bought_in.empty() && !facts.country.empty() && bought_in != facts.country)
        facts.crossings.push_back({bought_in, facts.country, "purchase"});
    if (!goes_to.empty() && !facts.country.empty() && goes_to != facts.country)
        facts.crossings.push_back({facts.country, goes_to, "sale"});
    facts.way_is_known = !facts.country.empty() && !bought_in.empty() && !goes_to.empty();
}

}  // namespace

DutyFacts duty_facts(const casebook::CaseSnapshot& snapshot, const House& house, std::chrono::year_month_day today) {
    DutyFacts facts;
    facts.snapshot = &snapshot;
    facts.today = today;
    facts.country = house.country;
    facts.purchase = standing_purchase(snapshot);
    if (const auto sale = standing_sale(snapshot); sale && *sale) facts.sale = (*sale)->record;
    facts.group = money::picture_group(snapshot.picture.body.text_or("technique"));
    read_age(facts);
    read_value(facts);
    read_days(facts);
    read_way(facts);
    return facts;
}

// The member states in 2026, from memory.
bool is_in_european_union(std::string_view country) {
    const auto members = split("AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK", ' ');
    return std::ranges::find(members, country) != members.end();
}

}  // namespace tedge::usecases
