// What holds for the whole house: the currency its accounts are kept in, its country, its private price code.
#pragma once

#include <optional>
#include <string>

#include "tedge/money/price_code.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct House {
    std::string name{};
    Currency currency;         // GBP where nobody said: the first users trade in it
    std::string country{};     // ISO 3166-1 alpha-2, "" where nobody said
    std::string price_code{};  // the word; "" where there is none
};

[[nodiscard]] Expected<House> house_of(casebook::Casebook& book);

// What is left out stays as it was.
struct HouseChange {
    std::optional<std::string> name{};
    std::optional<std::string> currency{};
    std::optional<std::string> country{};
    std::optional<std::string> price_code{};  // "" takes it away
};

// Errors: money.unknown-currency, house.not-a-country, price-code.*, and those of Casebook::commit.
[[nodiscard]] Expected<Done> change_house(const Acting& acting, const HouseChange& change);

// Two letters, in capitals. Whether the standard lists them is not asked. Errors: house.not-a-country.
[[nodiscard]] Expected<std::string> parse_country(std::string_view text);

}  // namespace tedge::usecases
