// Small tiles of two photographs laid on each other to a fraction of a pixel.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "registration_gray.hpp"
#include "tedge/imaging/registration.hpp"
#include "tile_match_peak.hpp"

namespace tedge::imaging {

// What is compared: gray values, or how strong the edges are (for light in which dark and bright change places).
enum class TileSignal { gray, edges };

struct TileSetup {
    int side = 64;              // samples across a tile, a power of two
    double pitch_px = 1.0;      // distance of samples, pixels of the reference; a power of two
    double search_samples = 8;  // how far off the guess may be
    TileSignal signal = TileSignal::gray;
    bool either_sign = false;  // dark may have become bright: the strongest peak up or down counts
    bool keep_around = false;  // the answers keep the correlation around their peaks
};

// Both tiles are under a Hann window; the square of one has this deviation, as a share of its width.
inline constexpr double window_deviation = 0.1415;

// One tile's answer. The shift says where the moving picture really shows the content: at reference point
// reference + pitch·shift by the map that was guessed.
struct TileMatch {
    PointPx reference;          // centre of the tile
    PointPx moving;             // the point of the moving picture found for it
    double score = 0.0;         // normalised correlation at the peak, 0 to 1
    double significance = 0.0;  // height of the peak in standard deviations of the correlation around it
    double distinctness = 0.0;  // height of the peak over the next one
    std::array<double, 3>
        information{};  // xx, xy, yy of the inverse covariance, 1 / (reference px)², up to a common factor
    std::array<double, 2> reach_px{};  // deviation of the window under which the shift is a mean, x and y
    bool structured = false;           // both pictures show structure here
    bool found = false;                // a peak inside the search range
    std::vector<float> around;  // the correlation around the peak, out to a quarter of the tile, its height being 1
};

// The nearest centre whose samples fall on pixels of a level, so that the reference is read without interpolation.
[[nodiscard]] PointPx aligned_centre(const TileSetup& setup, PointPx near);

// A map with its local linear form at a point of the reference.
struct LocalMap {
    PointPx moving;
    std::array<double, 4> moving_per_reference{};  // Jacobian, row by row
};
[[nodiscard]] std::optional<LocalMap> local_map(const PixelMap& reference_from_moving, PointPx reference,
                                                double step_px);

// Keeps the scratch of one worker.
class TileMatcher {
public:
    TileMatcher(const GrayPyramid& reference, const GrayPyramid& moving, const TileSetup& setup);

    // centre: an aligned one. guess: where the tile is expected. A tile that is not wholly inside both pictures is not
    // structured, not found.
    [[nodiscard]] TileMatch match(PointPx centre, const LocalMap& guess);

private:
    // The samples of a tile that lie inside both pictures: columns and rows [first, last).
    struct Part {
        int first_column, last_column, first_row, last_row;
    };

    [[nodiscard]] std::optional<Part> part_inside(PointPx centre, const LocalMap& guess) const;
    void set_window(const Part& part);
    // False where samples are so far apart that the reference has no copy so small: a few tiles would cover it.
    [[nodiscard]] bool read_reference(PointPx centre);
    [[nodiscard]] bool read_moving(const LocalMap& guess);
    [[nodiscard]] double prepare(std::vector<float>& tile);

    const GrayPyramid& reference_;
    const GrayPyramid& moving_;
    TileSetup setup_;
    int margin_;
    int patch_side_;
    CrossSpectrum spectrum_;
    std::vector<float> window_x_, window_y_;
    std::vector<float> patch_, source_, scratch_;
    std::vector<float> tile_reference_, tile_moving_;
};

}  // namespace tedge::imaging
