#include "forecast_lay.hpp"

#include <algorithm>
#include <cmath>

#include "encoded_light.hpp"
#include "quiet_rows.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int lattice_cells = 32;  // along the longer side; thickness is smooth
constexpr int band_px = 64;        // rows whose noise is taken out together
constexpr int least_cell_px = 4;
constexpr int cells_along = 192;

// Thickness and its deviation at knots over the picture, straight between them.
class Lattice {
public:
    Lattice(const ThicknessField& field, SizePx size, int workers, const Progress& progress)
        : spacing_(std::max(1.0, std::max(size.width_px, size.height_px) / static_cast<double>(lattice_cells))),
          columns_(static_cast<int>(size.width_px / spacing_) + 2),
          rows_(static_cast<int>(size.height_px / spacing_) + 2),
          knots_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {
        for_each_index(
            rows_, workers, [&] { return progress.stopped(); },
            [&](int row, int) {
                for (int column = 0; column < columns_; ++column)
                    knots_[index(column, row)] = field.at({column * spacing_, row * spacing_});
            });
    }

    [[nodiscard]] ThicknessThere at(double x, double y) const {
        const int column = std::min(static_cast<int>(x / spacing_), columns_ - 2);
        const int row = std::min(static_cast<int>(y / spacing_), rows_ - 2);
        const double right = x / spacing_ - column;
        const double below = y / spacing_ - row;
        const auto between = [&](double ThicknessThere::* part) {
            const auto knot = [&](int i, int j) { return knots_[index(column + i, row + j)].*part; };
            return (1 - below) * ((1 - right) * knot(0, 0) + right * knot(1, 0)) +
                   below * ((1 - right) * knot(0, 1) + right * knot(1, 1));
        };
        return {between(&ThicknessThere::thickness), between(&ThicknessThere::sd)};
    }

private:
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
    }

    double spacing_;
    int columns_;
    int rows_;
    std::vector<ThicknessThere> knots_;
};

template <class T>
void lay_row(const float* from, const Coat& coat, const Lattice& lattice, int y, Raster<T>& out) {
    // What a thickness does to the three channels changes little from pixel to pixel: told anew every few of them.
    constexpr int run_px = 8;
    T* to = out.row(y);
    for (int x0 = 0; x0 < out.width_px(); x0 += run_px) {
        const int x1 = std::min(x0 + run_px, out.width_px());
        const CoatThere there(coat, lattice.at(0.5 * (x0 + x1 - 1), y).thickness);
        for (int x = x0; x < x1; ++x) {
            const auto seen = [&](int c) { return static_cast<double>(from[3 * x + c]); };
            const Light3 paint = there.without({seen(0), seen(1), seen(2)});
            for (int c = 0; c < 3; ++c) to[3 * x + c] = encoded_of_light<T>(paint[static_cast<std::size_t>(c)]);
        }
    }
}

// Frame and wall have no coat that the windows could tell of.
template <class T>
void keep_unpainted(const Raster<T>& uncleaned, const Raster8& painted, int y, Raster<T>& out) {
    const std::uint8_t* paint = painted.row(y);
    for (int x = 0; x < out.width_px(); ++x)
        if (paint[x] == 0) std::copy_n(&uncleaned.at(x, y), 3, &out.at(x, y));
}

double mean_where_painted(const RasterF& cells, int cell_px, const Raster8* painted) {
    double sum = 0.0;
    int counted = 0;
    for (int row = 0; row < cells.height_px(); ++row)
        for (int column = 0; column < cells.width_px(); ++column) {
            const auto middle = [cell_px](int cell, int length) {
                return std::min(cell * cell_px + cell_px / 2, length - 1);
            };
            if (painted != nullptr &&
                painted->at(middle(column, painted->width_px()), middle(row, painted->height_px())) == 0)
                continue;
            sum += static_cast<double>(cells.at(column, row));
            ++counted;
        }
    return sum / std::max(1, counted);
}

template <class T>
Light3 mean_light(const Raster<T>& picture, int left, int top, int side) {
    const auto& light = light_of_encoded<T>();
    const int right = std::min(left + side, picture.width_px());
    const int bottom = std::min(top + side, picture.height_px());
    Light3 sum{};
    for (int y = top; y < bottom; ++y)
        for (int x = left; x < right; ++x)
            for (std::size_t c = 0; c < 3; ++c) sum[c] += static_cast<double>(light[(&picture.at(x, y))[c]]);
    for (double& each : sum) each /= (right - left) * (bottom - top);
    return sum;
}

}  // namespace

template <class T>
Expected<void> lay_forecast(const Raster<T>& uncleaned, const CoatForecast& forecast, const Raster8* painted,
                            int threads, const Progress& progress, CleaningForecast& out) {
    const SizePx size = uncleaned.size();
    const int workers = worker_count(threads);
    const auto stopped = [&] { return progress.stopped(); };
    progress.at(0.0, "laying the forecast");
    const Lattice lattice(forecast.field(), size, workers, progress);
    Raster<T> picture(size.width_px, size.height_px, 3);
    for_each_index((size.height_px + band_px - 1) / band_px, workers, stopped, [&](int band, int) {
        const int top = band * band_px;
        const int bottom = std::min(top + band_px, size.height_px);
        const auto quiet = quiet_rows(uncleaned, top, bottom, forecast.noise());
        for (int y = top; y < bottom; ++y) {
            lay_row(quiet.data() + static_cast<std::size_t>(y - top) * uncleaned.row_samples(), forecast.fitted().coat,
                    lattice, y, picture);
            if (painted != nullptr) keep_unpainted(uncleaned, *painted, y, picture);
        }
    });
    progress.at(0.6, "how sure it is");
    out.cell_px = std::max(least_cell_px, std::max(size.width_px, size.height_px) / cells_along);
    const auto cells = [&](int length) { return (length + out.cell_px - 1) / out.cell_px; };
    out.uncertainty = RasterF(cells(size.width_px), cells(size.height_px), 1);
    for_each_index(out.uncertainty.height_px(), workers, stopped, [&](int row, int) {
        for (int column = 0; column < out.uncertainty.width_px(); ++column) {
            const int left = column * out.cell_px;
            const int top = row * out.cell_px;
            const auto there = lattice.at(std::min(left + out.cell_px / 2, size.width_px - 1),
                                          std::min(top + out.cell_px / 2, size.height_px - 1));
            out.uncertainty.at(column, row) =
                static_cast<float>(forecast.pixel_sd(mean_light(uncleaned, left, top, out.cell_px), there));
        }
    });
    if (progress.stopped()) return cancelled();
    out.mean_uncertainty = mean_where_painted(out.uncertainty, out.cell_px, painted);
    out.picture = std::move(picture);
    return {};
}

template Expected<void> lay_forecast(const Raster8&, const CoatForecast&, const Raster8*, int, const Progress&,
                                     CleaningForecast&);
template Expected<void> lay_forecast(const Raster16&, const CoatForecast&, const Raster8*, int, const Progress&,
                                     CleaningForecast&);

}  // namespace tedge::imaging
