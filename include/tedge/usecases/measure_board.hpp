// Evenness of the light of a session, by a photograph of an even board (white or gray, matt) in the place of the
// picture: measured, and named for the photographs of that session, which are then evened by it where their colours are
// measured or compared. The board's photograph shows nothing of the picture, so it is none of the case's photographs:
// it is kept as the file of its measurement.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/imaging/capture_tolerances.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct MeasuredBoard {
    Done done;  // the measurement: non-uniformity in percent; the same board again answers the first record
    bool already = false;
    std::string sha256;
    double non_uniformity_percent = 0.0;  // of the light, corners included (flat_field.hpp)
    double evened_percent = 0.0;          // of the board once it is evened
    double misfit_percent = 0.0;
    std::vector<imaging::ToleranceLine> tolerances;
    std::vector<Done> named;  // for each photograph that it was named for
};

// Measured, recorded and named for these photographs in one act. Errors: those of read_picture, flat_field_of and
// name_board, and the casebook's.
[[nodiscard]] Expected<MeasuredBoard> measure_board(const Acting& acting, const Uuid& case_id,
                                                    const std::filesystem::path& board,
                                                    const std::vector<Uuid>& photographs = {},
                                                    const Progress& progress = {});

// Says of photographs that this board stands for the light they were taken in. All of them or none.
// Errors: photograph.not-a-photograph, casebook.deleted-record, flat-field.no-board (the measurement is of none),
// flat-field.other-case, flat-field.size (one has another size), those of change_record.
[[nodiscard]] Expected<std::vector<Done>> name_board(const Acting& acting, const Uuid& measurement,
                                                     const std::vector<Uuid>& photographs);

}  // namespace tedge::usecases
