#include "photographs/measuring_acts.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "tedge/base/number_text.hpp"
#include "tedge/usecases/measure_board.hpp"
#include "tedge/usecases/measure_noise.hpp"
#include "tedge/usecases/measure_sharpness.hpp"
#include "tedge/usecases/session_chart.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using usecases::Acting;

QString joined(const std::vector<std::string>& sentences) {
    QStringList told;
    for (const std::string& each : sentences) told << shown(each);
    return told.join(QLatin1Char(' '));
}

// Pixels count from their centre, the box from the edge of its first one.
imaging::BoxPx box_between(PointPx a, PointPx b) {
    const auto edge = [](double centre) { return static_cast<int>(std::lround(centre + 0.5)); };
    const int left = edge(std::min(a.x_px, b.x_px)), top = edge(std::min(a.y_px, b.y_px));
    return {left, top, edge(std::max(a.x_px, b.x_px)) - left, edge(std::max(a.y_px, b.y_px)) - top};
}

}  // namespace

MeasureOne chart_measured(const std::optional<imaging::ChartCorners>& corners_px) {
    return [corners_px](const Acting& acting, const Uuid& photograph, const Progress& progress) -> Expected<Measured> {
        usecases::ChartWanted wanted;
        wanted.corners_px = corners_px;
        auto measured = usecases::measure_chart(acting, photograph, wanted, progress);
        if (!measured) return pass_on(measured);
        std::vector<std::string> told = measured->figures.fit.notes;
        if (measured->figures.evened) told.push_back(measured->figures.evened->sentence);
        if (!measured->guessed_light.empty()) told.push_back(measured->guessed_light);
        return Measured{{std::move(measured->done)}, joined(told)};
    };
}

MeasureOne session_chart_measured(const Uuid& case_id, const std::filesystem::path& chart,
                                  const std::vector<Uuid>& photographs) {
    return [=](const Acting& acting, const Uuid& /*first*/, const Progress& progress) -> Expected<Measured> {
        auto measured = usecases::measure_session_chart(acting, case_id, chart, photographs, {}, progress);
        if (!measured) return pass_on(measured);
        Measured out;
        // A chart that was measured before is not ours to take back.
        if (!measured->already) out.done.push_back(std::move(measured->done));
        std::ranges::move(measured->named, std::back_inserter(out.done));
        out.told = joined(measured->figures.fit.notes);
        return out;
    };
}

MeasureOne session_chart_named(const Uuid& measurement, const std::vector<Uuid>& photographs) {
    return [=](const Acting& acting, const Uuid& /*first*/, const Progress&) -> Expected<Measured> {
        auto named = usecases::name_chart(acting, measurement, photographs);
        if (!named) return pass_on(named);
        return Measured{*std::move(named), {}};
    };
}

MeasureOne edge_measured(PointPx from, PointPx to) {
    return [box = box_between(from, to)](const Acting& acting, const Uuid& photograph,
                                         const Progress& progress) -> Expected<Measured> {
        auto measured = usecases::measure_sharpness(acting, photograph, box, progress);
        if (!measured) return pass_on(measured);
        return Measured{{std::move(measured->done)}, shown(measured->caution)};
    };
}

MeasureOne noise_measured(PointPx from, PointPx to) {
    return [box = box_between(from, to)](const Acting& acting, const Uuid& photograph,
                                         const Progress& progress) -> Expected<Measured> {
        auto measured = usecases::measure_noise(acting, photograph, box, progress);
        if (!measured) return pass_on(measured);
        return Measured{{std::move(measured->done)}, {}};
    };
}

MeasureOne scale_measured(const std::optional<usecases::RulerSeen>& ruler) {
    return [ruler](const Acting& acting, const Uuid& photograph, const Progress& progress) -> Expected<Measured> {
        auto measured = usecases::measure_scale(acting, photograph, ruler, progress);
        if (!measured) return pass_on(measured);
        std::vector<std::string> told;
        std::ranges::transform(measured->tolerances, std::back_inserter(told), &imaging::ToleranceLine::sentence);
        return Measured{{std::move(measured->done)}, joined(told)};
    };
}

MeasureOne board_measured(const Uuid& case_id, const std::filesystem::path& board,
                          const std::vector<Uuid>& photographs) {
    return [=](const Acting& acting, const Uuid& /*first*/, const Progress& progress) -> Expected<Measured> {
        auto measured = usecases::measure_board(acting, case_id, board, photographs, progress);
        if (!measured) return pass_on(measured);
        Measured out;
        // A board that was measured before is not ours to take back.
        if (!measured->already) out.done.push_back(std::move(measured->done));
        std::ranges::move(measured->named, std::back_inserter(out.done));
        out.told = QObject::tr("The light was %1 % uneven; evened by the board, %2 % are left.")
                       .arg(shown(format_fixed(measured->non_uniformity_percent, 1)),
                            shown(format_fixed(measured->evened_percent, 1)));
        if (measured->already) out.told += u' ' + QObject::tr("This very board had been measured before.");
        return out;
    };
}

MeasureOne board_named(const Uuid& measurement, const std::vector<Uuid>& photographs) {
    return [=](const Acting& acting, const Uuid& /*first*/, const Progress&) -> Expected<Measured> {
        auto named = usecases::name_board(acting, measurement, photographs);
        if (!named) return pass_on(named);
        return Measured{*std::move(named), {}};
    };
}

}  // namespace tedge::desk
