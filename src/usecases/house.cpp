#include "tedge/usecases/house.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/text.hpp"

namespace tedge::usecases {

namespace {

using casebook::FieldValues;
using casebook::Record;

// The one written first: a second may come by merging two books.
Expected<std::optional<Record>> house_record(casebook::Casebook& book) {
    const auto houses = book.records(Uuid{}, "house");
    if (!houses) return pass_on(houses);
    if (houses->empty()) return std::optional<Record>();
    return std::optional(
        *std::ranges::min_element(*houses, {}, [](const Record& r) { return std::pair(r.first_written, r.id); }));
}

Expected<void> check_change(const HouseChange& change) {
    if (change.currency)
        if (const auto known = Currency::parse(*change.currency); !known) return pass_on(known);
    if (change.country)
        if (const auto known = parse_country(*change.country); !known) return pass_on(known);
    if (change.price_code && !change.price_code->empty())
        if (const auto known = money::PriceCode::parse(*change.price_code); !known) return pass_on(known);
    return {};
}

}  // namespace

Expected<std::string> parse_country(std::string_view text) {
    std::string letters = lowered_ascii(trimmed(text));
    if (letters.size() != 2 || !std::ranges::all_of(letters, [](char c) { return c >= 'a' && c <= 'z'; })) {
        return fail("house.not-a-country", fmt::format("\"{}\" is no country in two letters.", text),
                    "Write it as ISO 3166-1 has it, such as GB or FR.");
    }
    for (char& c : letters) c = static_cast<char>(c - 'a' + 'A');
    return letters;
}

Expected<House> house_of(casebook::Casebook& book) {
    const auto record = house_record(book);
    if (!record) return pass_on(record);
    House house{{}, Currency::parse("GBP").value(), {}, {}};
    if (!*record) return house;
    const casebook::Body& body = (*record)->body;
    house.name = body.text_or("name");
    house.price_code = body.text_or("price_code");
    if (const auto currency = Currency::parse(body.text_or("currency"))) house.currency = *currency;
    if (const auto country = parse_country(body.text_or("country"))) house.country = *country;
    return house;
}

Expected<Done> change_house(const Acting& acting, const HouseChange& change) {
    if (auto fits = check_change(change); !fits) return pass_on(fits);
    return acting.book.in_one_act([&]() -> Expected<Done> {
        FieldValues values;
        if (change.name) values.text("name", *change.name);
        if (change.currency) values.text("currency", Currency::parse(*change.currency)->code());
        if (change.country) values.text("country", *parse_country(*change.country));
        if (change.price_code && !change.price_code->empty()) values.text("price_code", *change.price_code);
        const auto record = house_record(acting.book);
        if (!record) return pass_on(record);
        const bool takes_away = change.price_code && change.price_code->empty();
        if (takes_away && *record && (*record)->body.has("price_code")) values.unset("price_code");
        if (*record) return change_record(acting, (*record)->id, values);
        casebook::Edit edit;
        edit.kind = "house";
        edit.values = values;
        const auto made = acting.book.commit(acting.author, {edit});
        if (!made) return pass_on(made);
        casebook::Edit inverse;
        inverse.operation = casebook::Operation::remove;
        inverse.record = made->front();
        return Done{made->front(), inverse};
    });
}

}  // namespace tedge::usecases
