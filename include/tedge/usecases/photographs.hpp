// Taking photographs in, and placing them on the picture.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tedge/base/progress.hpp"
#include "tedge/geometry/face_frame.hpp"
#include "tedge/imaging/registration.hpp"
#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/photograph_guess.hpp"
#include "tedge/usecases/photograph_look.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

struct NewPhotograph {
    Uuid case_id;
    std::filesystem::path file;
    Face face = Face::recto;
    std::string light = "normal";  // a word of the field table
    std::string raking_side;       // a word of the field table, may be empty; raking light only
    std::optional<double> raking_angle_degrees{};
    std::string stage;         // when: a word of the field table
    std::string photographer;  // a person's name, may be empty
    std::string licence;
    std::string caption;
    bool has_scale = false;
    bool has_chart = false;
    // A damaged picture may be the only witness: with this it is kept and marked, without it the act is refused.
    bool keep_damaged = false;
    // What of it nobody said; recorded as a guess until a person confirms it.
    std::vector<Guess> guesses{};
};

struct TakenPhotograph {
    Uuid id;
    std::string sha256;
    std::optional<SizePx> size;  // nothing for a damaged file of which even the head cannot be read
    bool already = false;        // the case had this very file; id is that record's
    std::string damaged;         // what is wrong with it, or ""
    // What reading it left out or took to be so, a sentence each: further pages, a colour profile of no use.
    std::vector<std::string> notes;
};

// Decodes the file to know that it is whole, stores it, then records it: durable when it returns.
// Errors: those of read_picture (picture.damaged can be overruled), photograph.unknown-word, photograph.not-raking,
// photograph.is-a-forecast (a cleaning forecast, known by what its file says of itself, by the word in its pixels, or
// as one that a case keeps), the casebook's, cancelled.
[[nodiscard]] Expected<TakenPhotograph> take_in_photograph(const Acting& acting, const NewPhotograph& wanted,
                                                           const Progress& progress = {});
// The case's photograph of this very file, told by its bytes alone, before anything is decoded: a folder that is taken
// in again costs its reading. Nothing where there is none, or where the kept original is missing or of another length:
// then taking it in again makes that whole. Errors: those of hash_file_hex, the casebook's.
[[nodiscard]] Expected<std::optional<TakenPhotograph>> taken_before(casebook::Casebook& book, const Uuid& case_id,
                                                                    const std::filesystem::path& file);
// The same of a file that was looked at just now.
[[nodiscard]] Expected<TakenPhotograph> take_in_looked_at(const Acting& acting, const NewPhotograph& wanted,
                                                          const PhotographLook& look, const Progress& progress = {});

// What is said of the frame of the face along with the corners.
struct FrameWanted {
    std::optional<SizeMm> size{};  // for a face without a frame; left out: that of the picture
    // The face has another size without work on the structure that tells of it (it was cut, or measured again): a frame
    // of its own from then on, after the present one. Lining or another stretcher is recorded as a step, which opens
    // the frame by itself (epochs.hpp).
    bool new_epoch = false;
    std::string epoch_from{};  // ISO date, may be empty
    std::string epoch_why{};   // may be empty
};

struct PlacedByCorners {
    Placement placement;
    Uuid face_frame;
    bool joined = false;     // a new epoch's frame and the one before it are joined: places are carried over
    std::vector<Done> done;  // in the order of the acts: the frame where one was made, then the placement
};

// A corner is set by eye: two pixels of the photograph are common practice, where the view shows them one to one.
constexpr double corner_error_px = 2.0;

// Fixes the face's frame by the four corners of the painted face in a photograph (top-left, top-right, bottom-right,
// bottom-left, in pixels): the way the reference photograph is placed. A frame of the face is made when there is none,
// from the size given or, for recto and verso, that of the picture. With a new epoch the photograph joins both frames
// where it was laid over the older one before: one photograph then lies in both, so new_from_old follows from it.
// `error_px`: how closely each corner was met, in pixels of the photograph; in a view that shows the whole picture one
// pixel of the screen holds many of them.
// Errors: photograph.no-size (no frame, and no size to make one from), photograph.no-older-epoch,
// photograph.same-size (a new epoch of the size that the face has), photograph.corners-crossed,
// photograph.corners-mirrored, photograph.corners-off, face.size-out-of-range, geometry.singular-map.
[[nodiscard]] Expected<PlacedByCorners> place_by_corners(const Acting& acting, const Uuid& photograph,
                                                         const std::array<PointPx, 4>& corners,
                                                         const FrameWanted& wanted = {},
                                                         double error_px = corner_error_px);

// The size a frame of this face would get without being asked: that of its frame, else of the picture's other side,
// else the case's. Edges and frames have none until somebody measures them.
[[nodiscard]] std::optional<SizeMm> known_size(const casebook::CaseSnapshot& snapshot, Face face);

// Another face is seen on the photograph than was said. A placement on the former face is taken off it.
[[nodiscard]] Expected<Done> say_face(const Acting& acting, const Uuid& photograph, Face face);

// Of several photographs of a face this one is shown first.
[[nodiscard]] Expected<Done> show_first(const Acting& acting, const Uuid& photograph);

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
    std::optional<imaging::PairsReport> pairs;  // what became of the pairs of points, where they were given
    std::optional<Done> frame_made;             // a back got its frame by this photograph
    std::optional<Done> placed;  // takes the placement, or the joint of the frames, back; nothing where none was made
};

// Lays a photograph over a placed one of the same face and places it; records how well that went. What is not usable is
// recorded as such and places nothing.
//
// Where canvas moved between the two (see epochs.hpp), the photograph belongs to the newer frame. Joined frames carry
// its place over. Frames that are not joined are joined by this photograph, which must stand on the new frame by its
// corners: `new_from_old` is written to the new frame and the photograph stays where it stands.
//
// A photograph of the verso by transmitted light is laid, mirror-wise, over a placed one of the recto and placed on the
// verso's own frame (x_verso = width - x_recto), which is made where there is none. In ordinary light a verso shows
// nothing of the painting and is placed by its measured corners.
//
// `pairs`: where a person has marked three or more points that both show (the reference's first), the search for
// features is left out; see RegistrationOptions.
// Errors: photograph.not-placed (the reference is not), photograph.other-face, photograph.other-epoch (a verso whose
// frame and the recto's are not joined), those of the pairs, photograph.new-frame (canvas moved
// between the two and nothing says where this photograph lies on the new frame), photograph.older-frame (the photograph
// is older than the reference and their frames are not joined).
[[nodiscard]] Expected<RegisteredPhotograph> register_photograph(const Acting& acting, const Uuid& reference,
                                                                 const Uuid& photograph, const Progress& progress = {},
                                                                 const std::vector<imaging::PointPair>& pairs = {});

}  // namespace tedge::usecases
