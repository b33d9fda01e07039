#include "tedge/imaging/flat_field.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <opencv2/core.hpp>
#include <optional>

#include "linear_light.hpp"

namespace tedge::imaging {
namespace {

constexpr int blocks_across = 40;
constexpr int least_board_side = 64;
constexpr double least_light = 0.02;
constexpr double most_clipped = 0.001;
constexpr double most_misfit_percent = 2.0;
constexpr int rounds = 3;

// x and y from -1 to 1 over the frame.
FlatField::Surface terms_at(double x, double y) {
    FlatField::Surface out{};
    std::size_t term = 0;
    for (int degree = 0; degree <= 4; ++degree)
        for (int in_y = 0; in_y <= degree; ++in_y) out[term++] = std::pow(x, degree - in_y) * std::pow(y, in_y);
    return out;
}

double of_frame(double at, int side) {
    return 2.0 * at / (side - 1) - 1.0;
}

double value(const FlatField::Surface& surface, double x, double y) {
    const auto terms = terms_at(x, y);
    double sum = 0.0;
    for (std::size_t t = 0; t < terms.size(); ++t) sum += surface[t] * terms[t];
    return sum;
}

struct Block {
    double x = 0.0, y = 0.0;  // -1 to 1
    std::array<double, 3> log_light{};
    double weight = 1.0;
};

struct Blocks {
    std::vector<Block> all;
    double clipped_share = 0.0;
    double mean_light = 0.0;
};

Blocks blocks_of(const Raster16& linear) {
    Blocks out;
    const int side = std::max(8, std::max(linear.width_px(), linear.height_px()) / blocks_across);
    std::size_t clipped = 0;
    std::size_t pixels = 0;
    for (int y0 = 0; y0 + side <= linear.height_px(); y0 += side) {
        for (int x0 = 0; x0 + side <= linear.width_px(); x0 += side) {
            std::array<double, 3> sum{};
            for (int y = y0; y < y0 + side; ++y) {
                const std::uint16_t* row = linear.row(y);
                for (int x = x0; x < x0 + side; ++x) {
                    const std::uint16_t* p = row + std::ptrdiff_t{3} * x;
                    for (std::size_t c = 0; c < 3; ++c) sum[c] += p[c];
                    clipped += std::max({p[0], p[1], p[2]}) >= clipped_from ? 1U : 0U;
                }
            }
            const double count = static_cast<double>(side) * side;
            pixels += static_cast<std::size_t>(side) * static_cast<std::size_t>(side);
            Block block{.x = of_frame(x0 + (side - 1) / 2.0, linear.width_px()),
                        .y = of_frame(y0 + (side - 1) / 2.0, linear.height_px())};
            for (std::size_t c = 0; c < 3; ++c) block.log_light[c] = std::log(std::max(1.0, sum[c] / count) / 65535.0);
            out.mean_light += sum[1] / count / 65535.0;
            out.all.push_back(block);
        }
    }
    out.mean_light /= static_cast<double>(std::max<std::size_t>(1, out.all.size()));
    out.clipped_share = static_cast<double>(clipped) / static_cast<double>(std::max<std::size_t>(1, pixels));
    return out;
}

std::optional<FlatField::Surface> fitted(const std::vector<Block>& blocks, std::size_t channel) {
    cv::Mat left(static_cast<int>(blocks.size()), static_cast<int>(FlatField::terms), CV_64F);
    cv::Mat right(left.rows, 1, CV_64F);
    for (int i = 0; i < left.rows; ++i) {
        const Block& block = blocks[static_cast<std::size_t>(i)];
        const auto terms = terms_at(block.x, block.y);
        for (int t = 0; t < left.cols; ++t) left.at<double>(i, t) = terms[static_cast<std::size_t>(t)] * block.weight;
        right.at<double>(i) = block.log_light[channel] * block.weight;
    }
    cv::Mat solution;
    if (!cv::solve(left, right, solution, cv::DECOMP_SVD)) return std::nullopt;
    FlatField::Surface out{};
    for (int t = 0; t < left.cols; ++t) out[static_cast<std::size_t>(t)] = solution.at<double>(t);
    return out;
}

// Blocks on a speck or a label lose their say. Returns what is left of the others.
FlatField::Left reweighted(std::vector<Block>& blocks, const FlatField::Surface& green) {
    std::vector<double> away;
    away.reserve(blocks.size());
    for (const Block& block : blocks) away.push_back(block.log_light[1] - value(green, block.x, block.y));
    std::vector<double> sorted;
    std::ranges::transform(away, std::back_inserter(sorted), [](double each) { return std::abs(each); });
    const auto half = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::ranges::nth_element(sorted, half);
    const double limit = std::max(4.0 * *half, 1e-4);
    double sum = 0.0, brightest = -1e9, darkest = 1e9;
    int kept = 0;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        blocks[i].weight = std::abs(away[i]) <= limit ? 1.0 : 0.0;
        if (blocks[i].weight == 0.0) continue;
        sum += away[i] * away[i];
        brightest = std::max(brightest, away[i]);
        darkest = std::min(darkest, away[i]);
        ++kept;
    }
    // Where a tenth and more stands apart, it is no speck but the picture.
    if (kept * 10 < static_cast<int>(blocks.size()) * 9) return {100.0, 100.0};
    return {100.0 * std::sqrt(sum / std::max(1, kept)), 100.0 * (1.0 - std::exp(darkest - brightest))};
}

// A row divided by the light that fell on it: the surface is taken every few pixels and is linear between them, for it
// bends far more slowly. divide(sample, fallen) is called for the three samples of each pixel.
template <class T, class Divide>
void even_row(T* row, int width_px, int y, const FlatField& light, const Divide& divide) {
    constexpr int stride = 16;
    Rgb here = light.light({0.0, static_cast<double>(y)});
    for (int x0 = 0; x0 < width_px; x0 += stride) {
        const Rgb next = light.light({static_cast<double>(x0 + stride), static_cast<double>(y)});
        for (int x = x0; x < std::min(x0 + stride, width_px); ++x) {
            const double t = static_cast<double>(x - x0) / stride;
            const std::array<double, 3> fallen{here.r + t * (next.r - here.r), here.g + t * (next.g - here.g),
                                               here.b + t * (next.b - here.b)};
            for (int c = 0; c < 3; ++c) divide(row[3 * x + c], fallen[static_cast<std::size_t>(c)]);
        }
        here = next;
    }
}

std::unexpected<Error> other_size() {
    return fail("flat-field.size", "The photograph of the board has another size than this photograph.",
                "Photograph the board with the same camera, lens and settings, and hold the camera alike.");
}

}  // namespace

FlatField::FlatField(SizePx size, const std::array<Surface, 3>& surfaces, const Left& left)
    : size_(size), surfaces_(surfaces), left_(left) {
    for (Surface& surface : surfaces_) surface[0] = 0.0;  // the middle of the frame is 1
    double brightest = -1e9;
    double darkest = 1e9;
    for (int j = -8; j <= 8; ++j)
        for (int i = -8; i <= 8; ++i) {
            const double light = value(surfaces_[1], i / 8.0, j / 8.0);
            brightest = std::max(brightest, light);
            darkest = std::min(darkest, light);
        }
    non_uniformity_percent_ = 100.0 * (1.0 - std::exp(darkest - brightest));
}

Rgb FlatField::light(const PointPx& at) const {
    const double x = of_frame(at.x_px, size_.width_px);
    const double y = of_frame(at.y_px, size_.height_px);
    return {std::exp(value(surfaces_[0], x, y)), std::exp(value(surfaces_[1], x, y)),
            std::exp(value(surfaces_[2], x, y))};
}

Expected<FlatField> flat_field_of(const ChartPicture& board) {
    if (std::min(board.linear.width_px(), board.linear.height_px()) < least_board_side)
        return fail("flat-field.too-small", "The photograph of the board is too small to tell how the light falls.",
                    "Take the whole photograph of the board.");
    Blocks blocks = blocks_of(board.linear);
    if (blocks.clipped_share > most_clipped)
        return fail("flat-field.clipped", "The photograph of the board is overexposed.", "Expose the board less.");
    if (blocks.mean_light < least_light)
        return fail("flat-field.too-dark", "The photograph of the board is too dark.", "Expose the board more.");
    std::array<FlatField::Surface, 3> surfaces{};
    FlatField::Left left{100.0, 100.0};
    for (int round = 0; round < rounds; ++round) {
        for (std::size_t c = 0; c < 3; ++c) {
            const auto surface = fitted(blocks.all, c);
            if (!surface) return fail("flat-field.not-even", "The photograph is not of an even board.");
            surfaces[c] = *surface;
        }
        left = reweighted(blocks.all, surfaces[1]);
    }
    if (left.misfit_percent > most_misfit_percent)
        return fail("flat-field.not-even", "The photograph is not of an even board.",
                    "Photograph a plain matt board in the place of the picture, a little out of focus.");
    return FlatField(board.linear.size(), surfaces, left);
}

Expected<ChartPicture> evened(const ChartPicture& picture, const FlatField& light) {
    if (picture.linear.size() != light.size()) return other_size();
    ChartPicture out = picture;
    for (int y = 0; y < out.linear.height_px(); ++y)
        even_row(out.linear.row(y), out.linear.width_px(), y, light, [](std::uint16_t& sample, double fallen) {
            // What was clipped stays clipped, so that nobody takes it for measured.
            if (sample >= clipped_from) return;
            sample = static_cast<std::uint16_t>(std::lround(std::min(65535.0, sample / fallen)));
        });
    return out;
}

Expected<Raster8> evened(const Raster8& srgb, const FlatField& light) {
    if (srgb.size() != light.size()) return other_size();
    const LinearLight& tables = linear_light();
    Raster8 out = srgb;
    for (int y = 0; y < out.height_px(); ++y)
        even_row(out.row(y), out.width_px(), y, light, [&tables](std::uint8_t& sample, double fallen) {
            const std::uint16_t linear = tables.from_srgb8[sample];
            if (linear >= clipped_from) return;
            const double even = std::min(65535.0, linear / fallen);
            sample = tables.to_srgb8[static_cast<std::size_t>(std::lround(even))];
        });
    return out;
}

}  // namespace tedge::imaging
