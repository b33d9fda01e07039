#include "tedge/imaging/chart.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/mcc.hpp>

#include "chart_place.hpp"
#include "tedge/imaging/srgb_view.hpp"

#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/lsan_interface.h>
#endif

namespace tedge::imaging {
namespace {

// The detector's own model draws its box this far round the patches: 16.75 by 11.25 units, patches 2.75 apart.
constexpr int least_small_side_px = 32;  // of a small copy in which a chart may still be seen
constexpr double detector_box_share = 3.0 / 2.75;
constexpr double least_patch_px = 8.0;
constexpr double least_white = 0.02;
constexpr double most_clipped_white = 0.02;
// Below this in every photograph tried, 0.5 of it in hard tone curves; above 1.4 where the grid lay anywhere else.
constexpr double most_unlike = 0.8;
// Long sides at which the detector looks, px: coarse first, for it is quick; fine for charts small in the frame.
constexpr std::array<int, 3> long_sides{1200, 2400, 4000};

// 8 bits as a screen shows them, the brightest hundredth lifted to near white so that exposure does not matter.
cv::Mat small_copy(const Raster16& linear, int long_side) {
    // The detector only reads; OpenCV's header has no const view.
    const cv::Mat whole(linear.height_px(), linear.width_px(), CV_16UC3,
                        const_cast<std::uint16_t*>(linear.samples().data()));
    const double scale = std::min(1.0, static_cast<double>(long_side) / std::max(whole.cols, whole.rows));
    cv::Mat small;
    cv::resize(whole, small, {}, scale, scale, cv::INTER_AREA);
    std::vector<std::uint16_t> light;
    for (int y = 0; y < small.rows; y += 3)
        for (int x = 0; x < small.cols; x += 3) {
            const auto& p = small.at<cv::Vec3w>(y, x);
            light.push_back(std::max({p[0], p[1], p[2]}));
        }
    const auto rank = light.begin() + static_cast<std::ptrdiff_t>(static_cast<double>(light.size() - 1) * 0.99);
    std::ranges::nth_element(light, rank);
    const double gain = 0.9 / std::max(1.0, static_cast<double>(*rank));
    cv::Mat shown(small.size(), CV_8UC3);
    for (int y = 0; y < small.rows; ++y)
        for (int x = 0; x < small.cols; ++x)
            for (int c = 0; c < 3; ++c)
                shown.at<cv::Vec3b>(y, x)[2 - c] = cv::saturate_cast<std::uint8_t>(
                    255.0 * srgb_encoded(std::min(1.0, small.at<cv::Vec3w>(y, x)[c] * gain)));
    return shown;
}

// The detector keeps some buffers for good once it has run, the same 4.7 MB after one search as after twenty. Memory
// that it takes while this lives is not reported as lost; what is ours is watched as everywhere.
#ifdef __SANITIZE_ADDRESS__
using DetectorsOwnMemory = __lsan::ScopedDisabler;
#else
struct DetectorsOwnMemory {
    DetectorsOwnMemory() {}  // not trivial: a variable of it is not "unused"
};
#endif

// Boxes in pixels of the photograph, in the detector's order of corners.
std::vector<ChartCorners> detected(const cv::Mat& shown, double photo_from_small) {
    std::vector<ChartCorners> out;
    const DetectorsOwnMemory unwatched;
    cv::setRNGSeed(24);
    const auto detector = cv::mcc::CCheckerDetector::create();
    bool found = false;
    // Inside of a parallel loop OpenCV's own loops stay on the thread they are on: one order of work on every machine.
    cv::parallel_for_(cv::Range(0, 1), [&](const cv::Range&) {
        try {
            found = detector->process(shown, cv::mcc::MCC24, 4);
        } catch (const cv::Exception&) {
            found = false;  // it throws on some pictures in which it finds nothing to group
        }
    });
    if (!found) return out;
    for (const auto& chart : detector->getListColorChecker()) {
        const auto box = chart->getBox();
        if (box.size() != 4) continue;
        ChartCorners corners{};
        for (std::size_t i = 0; i < 4; ++i)
            corners[i] = {(static_cast<double>(box[i].x) + 0.5) * photo_from_small - 0.5,
                          (static_cast<double>(box[i].y) + 0.5) * photo_from_small - 0.5};
        out.push_back(corners);
    }
    return out;
}

struct Candidate {
    ChartPlace place{};
    std::array<PatchReading, chart_patches> patches{};
    double unlike = 1.0;
};

struct Tried {
    std::optional<Candidate> best;
    bool out_of_frame = false;
};

// Seen with y down.
bool clockwise(const ChartCorners& corners) {
    double twice_area = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
        const PointPx& a = corners[i];
        const PointPx& b = corners[(i + 1) % 4];
        twice_area += a.x_px * b.y_px - b.x_px * a.y_px;
    }
    return twice_area > 0.0;
}

// Every corner may be the first; the colours tell.
Tried best_turn(const ChartPicture& picture, ChartCorners corners, double share) {
    Tried tried;
    if (!clockwise(corners)) return tried;  // the detector follows a mirror image too
    for (int turn = 0; turn < 4; ++turn) {
        const auto rough = map_from_corners(corners, share);
        std::ranges::rotate(corners, corners.begin() + 1);
        if (!rough) continue;
        const auto place = refined(picture, *rough);
        if (!place) {
            tried.out_of_frame = tried.out_of_frame || !inside(picture, *rough, nominal_patch_share);
            continue;
        }
        if (!inside(picture, place->photo_from_chart, place->patch_share)) {
            tried.out_of_frame = true;
            continue;
        }
        Candidate candidate{.place = *place, .patches = read_patches(picture, *place)};
        candidate.unlike = unlikeness(candidate.patches);
        if (!tried.best || candidate.unlike < tried.best->unlike) tried.best = candidate;
    }
    if (tried.best && tried.best->unlike > most_unlike) tried.best.reset();
    return tried;
}

std::unexpected<Error> out_of_frame() {
    return fail("chart.out-of-frame", "Part of the colour chart lies outside the photograph.",
                "Take the photograph again with the whole chart in the frame.");
}

Expected<ChartReading> judged(const ChartPicture& picture, const Candidate& candidate) {
    const ChartPlace& place = candidate.place;
    if (place.patch_px < least_patch_px)
        return fail("chart.too-small", "The colour chart is too small in the photograph to be measured.",
                    "Bring the chart nearer, or photograph it in a frame of its own under the same light.");
    const PatchReading& white = candidate.patches[chart_white];
    if (white.clipped_share > most_clipped_white)
        return fail("chart.white-clipped", "The white patch of the colour chart is overexposed.",
                    "Expose less, until the white patch is not clipped in any channel.");
    if (std::max({white.mean.r, white.mean.g, white.mean.b}) < least_white)
        return fail("chart.too-dark", "The colour chart is far too dark to be measured.", "Expose more.");
    ChartReading reading{.light = picture.light, .place = place, .patches = candidate.patches};
    if (const auto clipped = std::ranges::count_if(
            reading.patches, [](const PatchReading& p) { return p.clipped_share > most_clipped_white; });
        clipped > 0)
        reading.notes.emplace_back("Some coloured patches are clipped in a channel and are left out of the fit.");
    return reading;
}

// A sensor without colour filters gives one.
Raster16 in_three_channels(const Raster16& linear) {
    if (linear.channels() == 3) return linear;
    Raster16 out(linear.width_px(), linear.height_px(), 3);
    for (std::size_t i = 0; i < linear.samples().size(); ++i)
        std::fill_n(out.samples().begin() + static_cast<std::ptrdiff_t>(3 * i), 3, linear.samples()[i]);
    return out;
}

// Clockwise as seen, y down, beginning anywhere.
ChartCorners in_turn(ChartCorners corners) {
    PointPx middle{};
    for (const PointPx& p : corners) middle = {middle.x_px + p.x_px / 4, middle.y_px + p.y_px / 4};
    std::ranges::sort(corners, {},
                      [&middle](const PointPx& p) { return std::atan2(p.y_px - middle.y_px, p.x_px - middle.x_px); });
    return corners;
}

}  // namespace

Expected<ChartPicture> chart_picture(const Picture& picture, const Progress& progress) {
    if (picture.is_grey())
        return fail("chart.grey", "The photograph is grey: no colour can be measured in it.",
                    "Take in the colour photograph.");
    return linear_picture(picture, progress);
}

Expected<ChartPicture> linear_picture(const Picture& picture, const Progress& progress) {
    if (picture.camera_space) {
        if (const auto* linear = std::get_if<Raster16>(&picture.pixels))
            return ChartPicture{.linear = in_three_channels(*linear), .light = ChartLight::camera};
    }
    auto encoded = to_srgb16(picture, progress);
    if (!encoded) return pass_on(encoded);
    std::vector<std::uint16_t> decoded(65536);
    for (std::size_t v = 0; v < decoded.size(); ++v)
        decoded[v] = static_cast<std::uint16_t>(std::lround(srgb_decoded(static_cast<double>(v) / 65535.0) * 65535.0));
    for (std::uint16_t& sample : encoded->samples()) sample = decoded[sample];
    return ChartPicture{.linear = std::move(*encoded), .light = ChartLight::srgb};
}

Expected<ChartReading> find_chart(const ChartPicture& picture, const Progress& progress) {
    const int longest = std::max(picture.linear.width_px(), picture.linear.height_px());
    const int shortest = std::min(picture.linear.width_px(), picture.linear.height_px());
    bool part_outside = false;
    for (std::size_t i = 0; i < long_sides.size(); ++i) {
        if (i > 0 && longest <= long_sides[i - 1]) break;
        if (progress.stopped()) return cancelled();
        if (shortest * std::min(long_sides[i], longest) < least_small_side_px * longest) continue;
        progress.at(static_cast<double>(i) / static_cast<double>(long_sides.size()), "looking for the colour chart");
        const cv::Mat shown = small_copy(picture.linear, long_sides[i]);
        const double photo_from_small = static_cast<double>(picture.linear.width_px()) / shown.cols;
        std::optional<Candidate> best;
        for (const ChartCorners& corners : detected(shown, photo_from_small)) {
            const Tried tried = best_turn(picture, corners, detector_box_share);
            part_outside = part_outside || tried.out_of_frame;
            if (tried.best && (!best || tried.best->unlike < best->unlike)) best = tried.best;
        }
        if (best) return judged(picture, *best);
    }
    if (part_outside) return out_of_frame();
    return fail("chart.not-found", "No whole 24-patch colour chart was found in the photograph.",
                "Point at the four corners of the chart, or photograph the whole chart, evenly lit.");
}

Expected<ChartReading> read_chart_at(const ChartPicture& picture, const ChartCorners& corners_px,
                                     const Progress& progress) {
    if (progress.stopped()) return cancelled();
    const Tried tried = best_turn(picture, in_turn(corners_px), nominal_patch_share);
    if (tried.best) return judged(picture, *tried.best);
    if (tried.out_of_frame) return out_of_frame();
    return fail("chart.corners", "No colour chart lies between these four corners.",
                "Point at the outer corners of the four corner patches.");
}

}  // namespace tedge::imaging
