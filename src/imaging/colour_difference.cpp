#include "tedge/imaging/colour_difference.hpp"

#include <algorithm>
#include <chrono>
#include <memory>

#include "delta_e_block.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int rows_in_chunk = 16;

std::unexpected<Error> refused(std::string_view what, std::string_view why, std::string_view next) {
    return fail("colour-difference." + std::string(what), std::string(why), std::string(next));
}

// Encoded sRGB to linear light, one value per code.
template <class T>
const std::vector<float>& light_table() {
    static const std::vector<float> table = [] {
        constexpr std::size_t codes = std::size_t{std::numeric_limits<T>::max()} + 1;
        std::vector<float> out(codes);
        for (std::size_t i = 0; i < codes; ++i)
            out[i] = static_cast<float>(srgb_decoded(static_cast<double>(i) / static_cast<double>(codes - 1)));
        return out;
    }();
    return table;
}

LightToXyz light_to_xyz() {
    const Matrix3& m = xyz_d50_from_linear_srgb();
    const double white[3] = {d50_white.x, d50_white.y, d50_white.z};
    LightToXyz out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) out.row[i][j] = static_cast<float>(m[i][j] / white[i]);
    return out;
}

template <class T>
void fill(LightBlock& block, const T* rgb, std::size_t pixels) {
    const float* table = light_table<T>().data();
    for (std::size_t i = 0; i < pixels; ++i, rgb += 3) {
        block.red[i] = table[rgb[0]];
        block.green[i] = table[rgb[1]];
        block.blue[i] = table[rgb[2]];
    }
}

struct Work {
    LightBlock first{};
    LightBlock second{};
    alignas(32) std::array<float, delta_e_block_pixels> out{};
    LightToXyz matrix = light_to_xyz();
};

template <class T>
Lab exact_lab(const T* rgb) {
    constexpr double top = std::numeric_limits<T>::max();
    return lab_from_srgb({rgb[0] / top, rgb[1] / top, rgb[2] / top});
}

// What is computed of each pair of pixels.
struct Wanted {
    DifferenceKind kind = DifferenceKind::delta_e00;
    LightnessWeight lightness = LightnessWeight::standard;
};

constexpr LabPart lab_part(DifferenceKind kind) {
    switch (kind) {
        case DifferenceKind::delta_a:
            return LabPart::a;
        case DifferenceKind::delta_b:
            return LabPart::b;
        case DifferenceKind::delta_c:
            return LabPart::chroma;
        case DifferenceKind::delta_h:
            return LabPart::hue;
        default:
            return LabPart::lightness;
    }
}

template <class T>
void compare_row(Work& work, const T* first, const T* second, std::size_t pixels, const Wanted& wanted, float* out) {
    for (std::size_t x = 0; x < pixels; x += delta_e_block_pixels) {
        const std::size_t count = std::min(delta_e_block_pixels, pixels - x);
        fill(work.first, first + 3 * x, count);
        fill(work.second, second + 3 * x, count);
        if (wanted.kind != DifferenceKind::delta_e00) {
            lab_difference_block(work.first, work.second, work.matrix, lab_part(wanted.kind), work.out.data());
            std::copy_n(work.out.data(), count, out + x);
            continue;
        }
        delta_e00_block(work.first, work.second, work.matrix, wanted.lightness == LightnessWeight::one,
                        work.out.data());
        for (std::size_t i = 0; i < count; ++i)
            out[x + i] = work.out[i] == delta_e_unsure
                             ? static_cast<float>(delta_e00(exact_lab(first + 3 * (x + i)),
                                                            exact_lab(second + 3 * (x + i)), wanted.lightness))
                             : work.out[i];
    }
}

// Every row by itself, on as many threads as the machine has: the map cannot depend on their number.
template <class T>
Expected<RasterF> computed_map(const Raster<T>& reference, const Raster<T>& registered, const Wanted& wanted,
                               int threads, const Progress& progress) {
    RasterF map(reference.width_px(), reference.height_px(), 1);
    const int rows = reference.height_px();
    const int chunks = (rows + rows_in_chunk - 1) / rows_in_chunk;
    const int workers = worker_count(threads);
    std::vector<std::unique_ptr<Work>> work(static_cast<std::size_t>(workers));
    for (auto& one : work) one = std::make_unique<Work>();
    const auto pixels = static_cast<std::size_t>(reference.width_px());
    for_each_index(
        chunks, workers, [&progress] { return progress.stopped(); },
        [&](int chunk, int worker) {
            // Reports come from the thread that was asked for the work.
            if (worker == 0) progress.at(static_cast<double>(chunk) / chunks, "comparing colours");
            for (int y = chunk * rows_in_chunk; y < std::min(rows, (chunk + 1) * rows_in_chunk); ++y)
                compare_row(*work[static_cast<std::size_t>(worker)], reference.row(y), registered.row(y), pixels,
                            wanted, map.row(y));
        });
    if (progress.stopped()) return cancelled();
    return map;
}

template <class T>
Expected<void> check(const Raster<T>& reference, const Raster<T>& registered, const Raster8* counted) {
    if (reference.empty()) return refused("empty", "There is no pixel to compare.", "Choose two pictures.");
    if (!(reference.size() == registered.size()))
        return refused("sizes-differ",
                       "The two pictures have different sizes, so they are not registered to one another.",
                       "Register the second one to the first, then compare.");
    if (reference.channels() != 3 || registered.channels() != 3)
        return refused("not-colour", "Colours can only be compared between two colour pictures.",
                       "Convert both to sRGB first.");
    if (counted != nullptr && (!(counted->size() == reference.size()) || counted->channels() != 1))
        return refused("gate-differs", "The gate has another size than the pictures.", "Make it for these pictures.");
    return {};
}

template <class T>
Expected<ColourDifference> compared(const Raster<T>& reference, const Raster<T>& registered,
                                    const ColourDifferenceOptions& options, const Progress& progress) {
    if (const auto fine = check(reference, registered, options.counted); !fine) return pass_on(fine);
    const auto start = std::chrono::steady_clock::now();
    auto map = computed_map(reference, registered, Wanted{DifferenceKind::delta_e00, options.lightness},
                            options.threads, progress);
    if (!map) return pass_on(map);
    ColourDifference out{std::move(*map), {}};
    out.report.all = statistics_of(out.delta_e00).value_or(DifferenceStatistics{});
    if (options.counted != nullptr) out.report.gated = statistics_of(out.delta_e00, options.counted);
    if (!options.both_cross_polarised) out.report.note = "includes gloss";
    out.report.megapixels = static_cast<double>(out.delta_e00.samples().size()) / 1e6;
    out.report.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    return out;
}

}  // namespace

Expected<ColourDifference> colour_difference(const Raster8& reference_srgb, const Raster8& registered_srgb,
                                             const ColourDifferenceOptions& options, const Progress& progress) {
    return compared(reference_srgb, registered_srgb, options, progress);
}

Expected<ColourDifference> colour_difference(const Raster16& reference_srgb, const Raster16& registered_srgb,
                                             const ColourDifferenceOptions& options, const Progress& progress) {
    return compared(reference_srgb, registered_srgb, options, progress);
}

Expected<RasterF> difference_map(const Raster8& reference_srgb, const Raster8& registered_srgb, DifferenceKind kind,
                                 int threads, const Progress& progress) {
    if (const auto fine = check(reference_srgb, registered_srgb, nullptr); !fine) return pass_on(fine);
    return computed_map(reference_srgb, registered_srgb, Wanted{.kind = kind}, threads, progress);
}

}  // namespace tedge::imaging
