// Keeping a picture that was computed from photographs: the file, what it was made from, and the recipe that makes the
// same bytes again.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/geometry/placement.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct NewDerivedPicture {
    Uuid case_id;
    std::string kind = "derived_picture";  // or "cleaning_forecast", which names no buyer
    std::string what;                      // a word of the kind's field "what"
    // By the photograph's record, what it was taken for ("before", "after", "raking light").
    std::map<Uuid, std::string> from_photographs;
    std::optional<Uuid> face_frame{};
    std::optional<Placement> face_from_picture{};  // goes with face_frame
    std::string caption;
};

struct KeptPicture {
    Done done;
    std::string sha256;
    bool already = false;  // the case keeps this very picture; done.record is that record, done.inverse removes it
};

// `file` is the picture encoded (imaging/write_picture.hpp), `recipe` an object: method, parameters, digests of the
// files. Stored like an original, then recorded: durable when it returns.
// Errors: derived.no-photographs, photograph.not-a-photograph, casebook.deleted-record, derived.other-case (one of its
// photographs), those of probe_picture and files.hpp, and the casebook's.
[[nodiscard]] Expected<KeptPicture> keep_derived_picture(const Acting& acting, const NewDerivedPicture& wanted,
                                                         std::string_view file, const nlohmann::json& recipe);

struct DerivedFile {
    NewDerivedPicture wanted;
    std::string_view file;
};

// Several that one making gave, by one recipe: all are recorded in one commit or none is. Answered in their order.
// Errors: as above.
[[nodiscard]] Expected<std::vector<KeptPicture>> keep_derived_pictures(const Acting& acting,
                                                                       const std::vector<DerivedFile>& pictures,
                                                                       const nlohmann::json& recipe);

}  // namespace tedge::usecases
