// Two photographs of one painting laid over each other: reference_from_moving, and whether it can be trusted.
//
// The surface may have changed a great deal between the two (dirt and varnish gone, retouching, another light or
// sensor), so the steps rest on local structure alone. Papers are cited from memory:
//  1. Features on small copies whose local mean and deviation are evened out: Lowe, International Journal of Computer
//     Vision 60, 91-110 (2004), nearest over second-nearest distance as in its section 7.1; descriptors
//     root-normalised (Arandjelović and Zisserman, CVPR 2012). Large against small copies for a detail.
//  2. The homography most of them agree on: MAGSAC++, Barath and others, CVPR 2020.
//  3. Tiles of 64 samples laid on each other to a fraction of a pixel, coarse to fine: phase correlation (Kuglin and
//     Hines, Proceedings of the International Conference on Cybernetics and Society, 1975), the cross spectrum divided
//     by the square root of its amplitude within a band; its peak is found on the band-limited correlation itself, as
//     Guizar-Sicairos, Thurman and Fienup do (Optics Letters 33, 156-158, 2008), here by Newton's method. What each
//     tile is worth follows from the Cramér-Rao bound of a shift (Robinson and Milanfar, IEEE Transactions on Image
//     Processing 13, 1185-1199, 2004).
//  4. A smoothing B-spline through what the homography leaves over: P-splines, Eilers and Marx, Statistical Science 11,
//     89-121 (1996); weights fall as those of Student's distribution (Lange, Little and Taylor, Journal of the American
//     Statistical Association 84, 881-896, 1989); the smoothness is the one by which either half of the tiles best
//     foretells the other. The covariance of the fit, scaled by what the residuals say, gives the error map. Where
//     canvas moved further than tiles look, those beside the ones that agree are looked for where the map leads on. A
//     tile tells the mean of the bend under its window, which is undone by what the map knows of the bend; where canvas
//     bends within a tile, as scallops at the rim do, tiles of half the side follow on a lattice of half the width.
//  5. Where both pictures have colour, the map is held against 100·ln(red / blue), which shading by light from one side
//     leaves alone; when the two differ by far more than chance, the map is moved to that. A rule of our own.
//  6. Pictures that are faint, noisy or seen through canvas are laid on each other in samples twice or four times as
//     far apart, where that promises the smaller error.
//
// The result does not depend on the number of threads. Pixel centres stand at integers, (0, 0) the top-left one, x to
// the right, y down, in both pictures.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/geometry/displacement.hpp"
#include "tedge/geometry/homography.hpp"
#include "tedge/geometry/placement.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::imaging {

// Looks at a raster of any depth without copying it; must not outlive it. One channel is gray, three or more begin with
// red, green, blue. Values are display-encoded (as in an sRGB file): 0 to 255, 0 to 65535, or 0 to 1 for floats.
class PictureView {
public:
    PictureView(const Raster8& raster) : raster8_(&raster), size_(raster.size()) {}
    PictureView(const Raster16& raster) : raster16_(&raster), size_(raster.size()) {}
    PictureView(const RasterF& raster) : raster_f_(&raster), size_(raster.size()) {}

    [[nodiscard]] SizePx size() const { return size_; }
    // Gray values 0 to 255 of `count` pixels of row y from x0 on; all of them must lie inside.
    void gray_row(int y, int x0, int count, float* gray) const;
    // The same of red and of blue; of a picture in gray both are its gray.
    void red_and_blue_row(int y, int x0, int count, float* red, float* blue) const;
    // The raster itself when it has eight bits and three channels, otherwise null.
    [[nodiscard]] const Raster8* eight_bit_rgb() const;
    // More than a few pixels differ in their channels.
    [[nodiscard]] bool is_coloured() const;

private:
    const Raster8* raster8_ = nullptr;
    const Raster16* raster16_ = nullptr;
    const RasterF* raster_f_ = nullptr;
    SizePx size_;
};

// How the light of the two photographs differs. See "What the error covers" below.
enum class LightDifference {
    unknown,     // nobody said: the pictures themselves are asked
    none,        // of one kind, from the usual sides
    other_kind,  // one shows fluorescence, infrared or X-rays
    one_side     // one was lit from the side, or each from another
};

// The same point of the painting in both pictures.
struct PointPair {
    PointPx reference;
    PointPx moving;
};

struct RegistrationOptions {
    int threads = 0;               // worker threads; 0: as many as the machine has
    bool accept_mirrored = false;  // a verso by transmitted light: a mirrored match is then usable
    double tolerance_px = 1.5;  // largest residual (RMS, pixels of the reference) at which a match may be called usable
    std::optional<double> reference_mm_per_px{};  // when known, the report says its residual in mm too
    // Where it differs, colour is asked where brightness was shifted. Under like light it is not: files keep colour
    // coarser than brightness and up to half a pixel beside it, more than like light ever shifts.
    LightDifference light = LightDifference::unknown;
    // Where a person says the two belong together, to some pixels: three or more pairs, far from one another and not on
    // a line. Then no features are looked for: the plane map through them (affine for three; with more the homography
    // of least squares) is refined in the usual way.
    std::vector<PointPair> pairs{};

    // Errors: registration.bad-options.
    [[nodiscard]] Expected<void> check() const;
};

// reference_from_moving: q = homography(moving px), reference px = q + displacement(q). The displacement is the lattice
// of geometry/displacement.hpp with its lengths in pixels of the reference instead of mm.
struct PixelMap {
    Homography homography;
    std::optional<BsplineDisplacement> displacement;

    [[nodiscard]] PointPx map(PointPx moving) const;
    // By fixed-point iteration. Errors: geometry.no-inverse (a folded displacement).
    [[nodiscard]] Expected<PointPx> inverse(PointPx reference) const;

    friend bool operator==(const PixelMap&, const PixelMap&) = default;
};

// Estimated error of the map (one standard deviation of the distance, pixels of the reference) in square cells over the
// reference, row by row. Negative where the moving picture does not reach.
//
// What the error covers:
//  - the covariance of the fit: how far the tiles scatter about the map, how few they are and how far off, and how
//    freely the spline bends, which is as freely as lets either half of the tiles foretell the other best (place by
//    place where that differs much) and, for the error alone, one step more. Where nothing agrees, in a dark surround
//    or on new paint, the map is carried on from beside and this grows fast;
//  - 0.005 px for what no tile tells (interpolation, the pictures' own grids);
//  - what shifts all tiles alike, which no tile tells either. Light shades the slopes of the paint, and where paint is
//    thick as it is bright the shaded picture is the picture itself, shifted; as long as both are lit alike, alike.
//    Light at 9 degrees from one side does so by up to half a pixel of the coarser picture (measured on made pictures:
//    0.01 px where thickness had nothing to do with brightness, 0.25 px for invented brushwork, 0.3 to 0.8 px where
//    paint was as thick as it was bright). The usual lamps at both sides leave about a twenty-fifth of its shading: a
//    picture that is not shaded at all, being another kind of light, lies 0.5 / 25 px of the reference beside. Colour
//    is not shaded. Where it told, and the map was moved to it, the error takes in the 0.08 pixels (of the coarser
//    picture) that the comparison would not have seen. Where colour lay on brightness, by how far the two differ on the
//    whole stands for the half pixel of light from one side; where nobody said how the light differed and colour lies
//    beside by far more than chance, but fits too badly to be followed, by how far it lies beside stands in the error.
//    Shading shifts coarse structure otherwise than fine: where brightness in samples twice as far apart lies beside
//    the map on the whole by far more than chance, by how far it does (there or in samples four times as far apart, the
//    larger) stands in the error where that is more;
//  - by how much the middle of a tile lies beside the tile's mean where canvas bends within a tile.
struct RegistrationErrorMap {
    double cell_px = 0.0;
    int columns = 0;
    int rows = 0;
    std::vector<float> error_px;

    [[nodiscard]] double at(PointPx reference) const;
    friend bool operator==(const RegistrationErrorMap&, const RegistrationErrorMap&) = default;
};

// Whole cells joined until there are at most so many a side: the root mean square of those that are reached.
[[nodiscard]] RegistrationErrorMap coarser(const RegistrationErrorMap& map, int most_cells_a_side);

// What of the two pictures was laid on each other in the end.
enum class MatchedOn {
    brightness,
    changed_brightness,  // dark and bright have changed places, at least here and there (ultraviolet, infrared)
    edges,               // only where edges are, not which side is bright
    colour               // brightness is shifted against colour: the relief of one picture is lit from one side
};

// "brightness", "changed-brightness", "edges", "colour".
[[nodiscard]] std::string_view name_of(MatchedOn matched_on);

// What became of the pairs given.
struct PairsReport {
    double residual_px = 0.0;           // RMS distance from the plane map through them; nothing for three or four
    std::optional<double> beside_px{};  // RMS distance from the refined map, where the pictures bore them out
};

struct RegistrationReport {
    bool usable = false;  // exactly when the code is registration.good
    // registration.good, or why not: registration.too-little-structure, .nothing-in-common, .pairs-not-borne-out,
    // .mirrored, .small-overlap, .tiles-disagree, .only-part-agrees, .copy, .repeats-itself, .residual-too-large,
    // .implausible-map.
    std::string code;
    std::string reason;  // the same as one plain English sentence

    bool mirrored = false;  // the moving picture shows the painting mirror-wise; the map undoes it
    MatchedOn matched_on = MatchedOn::brightness;
    int inliers = 0;             // features that agree with the homography, or pairs given
    int tiles = 0;               // tiles with structure inside the overlap
    int tiles_agreeing = 0;      // of these, tiles that agree with the map
    double overlap_share = 0.0;  // of the reference that the moving picture covers
    double residual_px = 0.0;    // RMS distance of agreeing tiles from the map, pixels of the reference
    double error_px = 0.0;       // estimated error of the map itself, RMS where tiles agree
    std::optional<double> residual_mm;
    std::optional<PairsReport> pairs;

    PixelMap reference_from_moving;  // meaningful when usable or mirrored
    RegistrationErrorMap error_map;
    SizePx reference_size;
    SizePx moving_size;
    double seconds = 0.0;
};

// Always comes back with a report when it could look at the pictures; `usable` says whether to trust it. The pictures
// may be of any two sizes, depths and numbers of channels. Memory beside the pictures: 4 bytes for every third of
// their pixels, twice that where colour is compared at full size. Progress names the step; work that is to stop returns
// within some tenths of a second.
// Errors: registration.bad-options; registration.picture-too-small (a side below 64 px); of the pairs given
// registration.too-few-pairs, .pair-outside, .pairs-in-line, .pairs-contradict (naming the worst); cancelled.
[[nodiscard]] Expected<RegistrationReport> register_pictures(PictureView reference, PictureView moving,
                                                             const RegistrationOptions& options = {},
                                                             const Progress& progress = {});

// The moving picture as seen in the reference's frame: every pixel interpolated once from the original with the cubic
// kernel of Keys (IEEE Transactions on Acoustics, Speech and Signal Processing 29, 1981; a = -0.5). Where the moving
// picture does not reach, all channels are 0.
// Errors: registration.bad-options (size not positive); geometry.no-inverse; cancelled.
[[nodiscard]] Expected<Raster8> resample(const Raster8& moving, const PixelMap& reference_from_moving, SizePx reference,
                                         int threads = 0, const Progress& progress = {});
[[nodiscard]] Expected<Raster16> resample(const Raster16& moving, const PixelMap& reference_from_moving,
                                          SizePx reference, int threads = 0, const Progress& progress = {});
[[nodiscard]] Expected<RasterF> resample(const RasterF& moving, const PixelMap& reference_from_moving, SizePx reference,
                                         int threads = 0, const Progress& progress = {});

// face_from_moving = face_from_reference ∘ reference_from_moving, as the one transform that is stored. The homographies
// compose exactly; the displacement is a B-spline in mm fitted to both displacements over the pixels of the moving
// picture.
struct ComposedPlacement {
    Placement face_from_moving;  // its error_mm joins the reference's and the registration's in quadrature
    double fit_error_mm = 0.0;   // largest deviation from the exact composition, at points between those fitted
};

// Errors: geometry.singular-map, geometry.bad-lattice; registration.not-usable (a report that is not to be trusted).
[[nodiscard]] Expected<ComposedPlacement> compose_placement(const Placement& face_from_reference,
                                                            const RegistrationReport& report);

}  // namespace tedge::imaging
