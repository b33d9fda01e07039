#include "tedge/imaging/crack_change.hpp"

#include <algorithm>
#include <cmath>

#include "crack_evidence.hpp"
#include "crack_finding.hpp"
#include "tedge/imaging/registration_error.hpp"

namespace tedge::imaging {
namespace {

constexpr double thinning_px = 1.5;  // two maps of one crack differ by that with no error of registration
constexpr double deviations = 2.5;   // of the registration's error that are allowed for
constexpr double most_reach_px = 12.0;
constexpr std::size_t stretch_px = 20;  // looked for in one piece: moved as a whole, it is not met by chance
constexpr double there = 0.5;           // of what is asked of a sure pixel, on average over a stretch
constexpr double absent = 0.28;
constexpr double crossing_px = 30;
constexpr double on_lines = 0.6;  // of a stretch that lies on the other's map

struct Offset {
    int x = 0;
    int y = 0;
};

std::vector<Offset> offsets_within(double reach) {
    std::vector<Offset> out;
    const int whole = static_cast<int>(reach);
    for (int y = -whole; y <= whole; ++y)
        for (int x = -whole; x <= whole; ++x)
            if (std::hypot(x, y) <= reach) out.push_back({x, y});
    return out;
}

// The other photograph, asked for a stretch of a crack.
class Other {
public:
    Other(const FoundCracks& found, const CrackChangeOptions& options)
        : evidence_(found.evidence), lines_(crack_lines(found.map)), options_(options) {}

    // How far off a crack may lie here; nothing where that is further than is looked, or where nothing lies.
    [[nodiscard]] std::optional<double> reach_at(PixelXY at) const {
        const double error =
            error_at(options_.error_px, options_.error_maps, {static_cast<double>(at.x), static_cast<double>(at.y)});
        const double reach = thinning_px + deviations * error;
        return error < 0.0 || reach > most_reach_px ? std::nullopt : std::optional(reach);
    }

    // same, appeared (which stands for: not here) or undecided.
    [[nodiscard]] CrackFate fate(const std::vector<CrackPixel>& pixels, std::size_t from, std::size_t past) const {
        double best = 0.0;
        double best_lines = 0.0;
        const auto reach = reach_at(pixels[(from + past) / 2].at);
        for (const Offset offset : offsets_within(reach.value_or(most_reach_px))) {
            double sum = 0.0;
            double on = 0.0;
            for (std::size_t i = from; i < past; ++i) {
                const PixelXY at{pixels[i].at.x + offset.x, pixels[i].at.y + offset.y};
                if (!inside(at)) continue;
                sum += std::min(2.0, evidence_.at(at.x, at.y) / static_cast<double>(evidence_unit));
                on += beside_line(at) ? 1.0 : 0.0;
            }
            const auto count = static_cast<double>(past - from);
            best = std::max(best, sum / count);
            best_lines = std::max(best_lines, on / count);
        }
        if (best >= there || best_lines >= on_lines) return CrackFate::same;
        return best < absent && reach ? CrackFate::appeared : CrackFate::undecided;
    }

private:
    [[nodiscard]] bool inside(PixelXY at) const {
        return at.x >= 0 && at.y >= 0 && at.x < lines_.width_px() && at.y < lines_.height_px();
    }
    [[nodiscard]] bool beside_line(PixelXY at) const {
        for (int y = at.y - 1; y <= at.y + 1; ++y)
            for (int x = at.x - 1; x <= at.x + 1; ++x)
                if (inside({x, y}) && lines_.at(x, y) != 0) return true;
        return false;
    }

    const Raster8& evidence_;
    Raster8 lines_;
    const CrackChangeOptions& options_;
};

// A run of pixels of one crack with one fate.
struct Run {
    std::size_t from = 0;
    std::size_t past = 0;
    CrackFate fate = CrackFate::same;
    [[nodiscard]] double length() const { return static_cast<double>(past - from); }
};

std::vector<Run> joined(const std::vector<Run>& runs) {
    std::vector<Run> out;
    for (const Run& run : runs) {
        if (!out.empty() && out.back().fate == run.fate)
            out.back().past = run.past;
        else
            out.push_back(run);
    }
    return out;
}

std::vector<Run> fates_along(const Crack& crack, const Other& other) {
    std::vector<Run> runs;
    const std::size_t count = crack.pixels.size();
    const std::size_t stretches = std::max<std::size_t>(1, count / stretch_px);
    for (std::size_t i = 0; i < stretches; ++i) {
        const std::size_t from = i * count / stretches;
        const std::size_t past = (i + 1) * count / stretches;
        runs.push_back({from, past, other.fate(crack.pixels, from, past)});
    }
    return joined(runs);
}

bool all_round_missing(const std::vector<Run>& runs, std::size_t i) {
    const bool before = i == 0 || runs[i - 1].fate == CrackFate::appeared;
    const bool after = i + 1 == runs.size() || runs[i + 1].fate == CrackFate::appeared;
    return before && after && runs.size() > 1;
}

// Where a new crack meets an old one the other photograph shows something too: a short doubt between what is missing
// goes with it. A short difference by itself says nothing.
std::vector<Run> settled(std::vector<Run> runs, double least_length_px) {
    for (std::size_t i = 0; i < runs.size(); ++i)
        if (runs[i].fate == CrackFate::undecided && runs[i].length() < crossing_px && all_round_missing(runs, i))
            runs[i].fate = CrackFate::appeared;
    runs = joined(runs);
    for (Run& run : runs)
        if (run.fate == CrackFate::appeared && run.length() < least_length_px) run.fate = CrackFate::undecided;
    return joined(runs);
}

CrackPiece piece_of(const Crack& crack, const Run& run, CrackFate fate, bool of_after) {
    CrackPiece out;
    for (std::size_t i = run.from; i < run.past; ++i) out.pixels.push_back(crack.pixels[i].at);
    out.length_px = crack.length_px * run.length() / static_cast<double>(crack.pixels.size());
    out.fate = fate;
    out.of_after = of_after;
    return out;
}

void add_pieces(const CrackMap& map, const Other& other, const CrackChangeOptions& options, bool of_after,
                std::vector<CrackPiece>& out) {
    for (const Crack& crack : map.cracks)
        for (const Run& run : settled(fates_along(crack, other), options.least_length_px)) {
            const bool missing = run.fate == CrackFate::appeared;
            const CrackFate fate = missing && !of_after ? CrackFate::gone : run.fate;
            if (of_after || fate != CrackFate::same) out.push_back(piece_of(crack, run, fate, of_after));
        }
}

Expected<void> check(const Raster8& before, const Raster8& after) {
    if (before.size() == after.size()) return {};
    return fail("cracks.sizes-differ", "The two photographs do not lie pixel on pixel.",
                "Register one to the other first.");
}

}  // namespace

double CrackChange::length_px(CrackFate fate, bool of_after) const {
    double sum = 0.0;
    for (const CrackPiece& piece : pieces)
        if (piece.fate == fate && piece.of_after == of_after) sum += piece.length_px;
    return sum;
}

Expected<CrackChange> crack_change(const Raster8& before, const Raster8& after, const CrackChangeOptions& options,
                                   const Progress& progress) {
    if (const auto fine = check(before, after); !fine) return pass_on(fine);
    const auto earlier = find_cracks(before, options.cracks, progress.part(0.0, 0.45));
    if (!earlier) return pass_on(earlier);
    const auto later = find_cracks(after, options.cracks, progress.part(0.45, 0.9));
    if (!later) return pass_on(later);
    progress.at(0.9, "comparing cracks");
    CrackChange out{after.size(), {}};
    add_pieces(later->map, Other(*earlier, options), options, true, out.pieces);
    if (progress.stopped()) return cancelled();
    add_pieces(earlier->map, Other(*later, options), options, false, out.pieces);
    if (progress.stopped()) return cancelled();
    return out;
}

const CrackPiece* crack_at(const CrackChange& change, PixelXY at, double reach_px) {
    const CrackPiece* nearest = nullptr;
    double distance = reach_px;
    for (const CrackPiece& piece : change.pieces)
        for (const PixelXY pixel : piece.pixels)
            if (const double here = std::hypot(pixel.x - at.x, pixel.y - at.y); here <= distance) {
                if (nearest != nullptr && here == distance) continue;  // the first of equal ones
                nearest = &piece;
                distance = here;
            }
    return nearest;
}

}  // namespace tedge::imaging
