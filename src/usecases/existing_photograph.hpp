// A photograph as it stands in the casebook, and its original as light.
#pragma once

#include <filesystem>

#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/imaging/chart.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

// Errors: photograph.not-a-photograph, casebook.deleted-record.
[[nodiscard]] Expected<casebook::Record> existing_photograph(casebook::Casebook& book, const Uuid& id);

// A measurement of the photograph, asked of it again in the act that records: measuring takes a second, in which the
// photograph may have been deleted. Errors: those of existing_photograph and add_record.
[[nodiscard]] Expected<Done> record_measurement(const Acting& acting, const Uuid& photograph,
                                                const casebook::FieldValues& values);

// Linear light, a raw file in the camera's own colours; grey where the file is grey, as infrared often is. Errors:
// those of read_picture and linear_picture.
[[nodiscard]] Expected<imaging::ChartPicture> linear_light_of(const std::filesystem::path& file,
                                                              const Progress& progress);
// The same for what is measured in colour. Errors: those of read_picture and chart_picture.
[[nodiscard]] Expected<imaging::ChartPicture> coloured_light_of(const std::filesystem::path& file,
                                                                const Progress& progress);

}  // namespace tedge::usecases
