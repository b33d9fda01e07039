// Premium by bands, as it is printed in the terms of a sale: "25 % to 50000; 20 % to 1000000; 14.5 %".
#pragma once

#include <QString>
#include <nlohmann/json_fwd.hpp>

#include "tedge/base/error.hpp"

namespace tedge::desk {

// Of [{"up_to": 50000, "percent": 25}, {"percent": 20}]; "" for anything else.
[[nodiscard]] QString bands_text(const nlohmann::json& bands);
// "25 % up to 50 000, then 20 %"
[[nodiscard]] QString bands_in_words(const nlohmann::json& bands);

// Amounts may be written 50000, 50,000, 50 000 or 50k. Errors: bands.not-read, bands.percent, bands.not-rising,
// bands.no-open-band.
[[nodiscard]] Expected<nlohmann::json> read_bands(const QString& text);

}  // namespace tedge::desk
