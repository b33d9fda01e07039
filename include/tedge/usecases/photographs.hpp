// Taking photographs in, and placing them on the picture.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "tedge/base/progress.hpp"
#include "tedge/geometry/face_frame.hpp"
#include "tedge/usecases/acting.hpp"

namespace tedge::usecases {

struct NewPhotograph {
    Uuid case_id;
    std::filesystem::path file;
    Face face = Face::recto;
    std::string light = "normal";  // a word of the field table
    std::string stage;             // when: a word of the field table
    std::string photographer;      // a person's name, may be empty
    std::string licence;
    std::string caption;
    bool has_scale = false;
    bool has_chart = false;
    // A damaged picture may be the only witness: with this it is kept and marked, without it the act is refused.
    bool keep_damaged = false;
};

struct TakenPhotograph {
    Uuid id;
    std::string sha256;
    std::optional<SizePx> size;  // nothing for a damaged file of which even the head cannot be read
    bool already = false;        // the case had this very file; id is that record's
    std::string damaged;         // what is wrong with it, or ""
};

// Decodes the file to know that it is whole, stores it, then records it: durable when it returns.
// Errors: those of read_picture (picture.damaged can be overruled), photograph.unknown-word, the casebook's, cancelled.
[[nodiscard]] Expected<TakenPhotograph> take_in_photograph(const Acting& acting, const NewPhotograph& wanted,
                                                           const Progress& progress = {});

// Fixes the face's frame by the four corners of the painted face in a photograph (top-left, top-right, bottom-right,
// bottom-left, in pixels): the way the reference photograph is placed. A frame of the face is made from the case's size
// when there is none. Errors: photograph.no-size (no frame, and no size to make one from), geometry.singular-map.
[[nodiscard]] Expected<Placement> place_by_corners(const Acting& acting, const Uuid& photograph,
                                                   const std::array<PointPx, 4>& corners);

struct RegisteredPhotograph {
    Uuid registration;  // the record that says how well it went
    bool usable = false;
    std::string reason;
    int inliers = 0;
    double residual_px = 0.0;
    double error_mm = 0.0;
    double seconds = 0.0;
    // Set where this photograph measured how the canvas moved: the new frame is joined to the one before.
    struct Move {
        Uuid frame;
        double mean_mm = 0.0;
        double most_mm = 0.0;
        double error_mm = 0.0;
    };
    std::optional<Move> move;
};

// Lays a photograph over a placed one of the same face and places it; records how well that went. What is not usable is
// recorded as such and places nothing.
//
// Where canvas moved between the two (see epochs.hpp), the photograph belongs to the newer frame. Joined frames carry
// its place over. Frames that are not joined are joined by this photograph, which must stand on the new frame by its
// corners: `new_from_old` is written to the new frame and the photograph stays where it stands.
// Errors: photograph.not-placed (the reference is not), photograph.other-face, photograph.new-frame (canvas moved
// between the two and nothing says where this photograph lies on the new frame), photograph.older-frame (the photograph
// is older than the reference and their frames are not joined).
[[nodiscard]] Expected<RegisteredPhotograph> register_photograph(const Acting& acting, const Uuid& reference,
                                                                 const Uuid& photograph, const Progress& progress = {});

}  // namespace tedge::usecases
