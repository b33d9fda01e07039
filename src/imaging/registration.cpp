#include "tedge/imaging/registration.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>
#include <vector>

#include "registration_colour.hpp"
#include "registration_copy.hpp"
#include "registration_levels.hpp"
#include "registration_pairs.hpp"
#include "registration_repeats.hpp"
#include "registration_search.hpp"
#include "registration_verdict.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr int smallest_side_px = 64;  // one tile

MatchedOn matched_on(TileStyle style) {
    if (style.signal == TileSignal::edges) return MatchedOn::edges;
    return style.either_sign ? MatchedOn::changed_brightness : MatchedOn::brightness;
}

class Registration {
public:
    Registration(PictureView reference, PictureView moving, const RegistrationOptions& options,
                 const Progress& progress)
        : options_(options),
          progress_(progress),
          reference_view_(reference),
          moving_view_(moving),
          workers_(worker_count(options.threads)),
          reference_(reference, workers_, progress.part(0.0, 0.05)),
          moving_(moving, workers_, progress.part(0.05, 0.1)) {
        report_.reference_size = reference.size();
        report_.moving_size = moving.size();
    }

    RegistrationReport run() {
        CandidateSearch search(pair_);
        const std::optional<Candidate> best = search.look(progress_.part(0.1, 0.5));
        if (progress_.stopped()) return report_;
        if (!best) {
            refuse(report_,
                   search.enough_features() ? "registration.nothing-in-common" : "registration.too-little-structure");
            return report_;
        }
        return finish(*best);
    }

    // The same from where a person's pairs of points begin.
    RegistrationReport run_from(const PlaneOfPairs& plane) {
        report_.pairs = PairsReport{plane.residual_px, std::nullopt};
        auto best = CandidateSearch(pair_).begin_at(plane.reference_from_moving, progress_.part(0.1, 0.5));
        if (progress_.stopped()) return report_;
        if (!best) {
            report_.mirrored = plane.mirrored;
            report_.reference_from_moving.homography = plane.reference_from_moving;
            refuse(report_, "registration.pairs-not-borne-out");
            return report_;
        }
        best->mirrored = plane.mirrored;
        best->inliers = static_cast<int>(options_.pairs.size());
        finish(*best);
        if (report_.usable) report_.pairs->beside_px = beside_px(options_.pairs);
        return report_;
    }

private:
    RegistrationReport finish(const Candidate& best) {
        report_.mirrored = best.mirrored;
        report_.matched_on = matched_on(best.style);
        report_.inliers = best.inliers;
        const LevelResult fine = best.share < hopeless_share ? best.level : refine(best);
        LevelResult finest = better_of_coarser(fine, best);
        // Who marks pairs has seen that both show one painting.
        const bool copy = options_.pairs.empty() &&
                          looks_like_a_copy(fine, finest, {reference_, moving_, finest.map, best.style, workers_},
                                            progress_.part(0.85, 0.85));
        double shift_px = progress_.stopped() ? 0.0 : check_against_colour(finest);
        if (progress_.stopped()) return report_;
        const double shaded_px = check_against_coarse(finest, best.style);
        shift_px = std::max(shift_px, shaded_px);  // two signs of one cause
        if (progress_.stopped()) return report_;
        progress_.at(0.97, "estimating the error");
        const bool repeats = repeats_itself(best.level, {reference_, moving_, finest.map, best.style, workers_},
                                            progress_.part(0.97, 0.98));
        if (progress_.stopped()) return report_;
        const Circumstances circumstances{repeats, copy, shift_px};
        judge(finest, circumstances, options_, report_);
        if (report_.usable && shaded_px == 0.0) follow_bends(finest, best.style, circumstances);
        return report_;
    }

    // Below this the first round of tiles has said no already.
    static constexpr double hopeless_share = 0.1;
    // Pictures as sharp and clear as photographs usually are agree in more.
    static constexpr double clear_share = 0.8;
    // Rougher fields bend by more than lenses do.
    static constexpr double bent_roughness_px = 0.2;
    static constexpr std::size_t fewest_misfits = 4;
    // Of fainter pictures small tiles tell less than the lattice misses.
    static constexpr double clear_enough_to_follow = 0.5;
    static constexpr double most_pitch_to_follow = 8.0;
    // Below this a match would be refused, or nearly.
    static constexpr double sure_share = 0.35;
    // Below this they are not faint, but others.
    static constexpr double faint_share = 0.2;
    // Brightness that agrees so well was not shaded in one picture alone: made raking light reached 0.91.
    static constexpr double lit_alike_score = 0.95;
    // How far the relief of paint may shift edges: see RegistrationErrorMap.
    static constexpr double relief_of_one_side_samples = 0.5;
    static constexpr double relief_of_usual_lamps_px = relief_of_one_side_samples / 25.0;

    // RMS distance of the pairs from the map.
    [[nodiscard]] double beside_px(const std::vector<PointPair>& pairs) const {
        double squares = 0.0;
        for (const PointPair& pair : pairs) {
            const PointPx there = report_.reference_from_moving.map(pair.moving);
            const double distance = std::hypot(there.x_px - pair.reference.x_px, there.y_px - pair.reference.y_px);
            squares += distance * distance;
        }
        return std::sqrt(squares / static_cast<double>(pairs.size()));
    }

    LevelResult refine(const Candidate& candidate) {
        LevelResult level = candidate.level;
        const auto plans = plan_levels(report_.reference_size, report_.moving_size, level.map, candidate.style);
        const Progress progress = progress_.part(0.5, 0.85);
        for (std::size_t i = 1; i < plans.size() && !progress.stopped(); ++i) {
            const double rounds = static_cast<double>(plans.size() - 1);
            auto finer =
                match_level(reference_, moving_, level.map, plans[i], workers_,
                            progress.part(static_cast<double>(i - 1) / rounds, static_cast<double>(i) / rounds));
            if (!finer) break;
            level = *std::move(finer);
        }
        if (plans.size() > 1 && (candidate.bends || level.roughness_px > bent_roughness_px))
            level =
                carried_on(reference_, moving_, std::move(level), plans.back(), workers_, progress_.part(0.84, 0.85));
        return level;
    }

    // Smaller tiles where the map does not follow the canvas. Only what is usable without them is asked, and what they
    // make unusable is left as it was: they serve the map, and say nothing for or against the pair.
    void follow_bends(const LevelResult& level, TileStyle style, const Circumstances& circumstances) {
        if (report_.matched_on != MatchedOn::brightness || median_score(level) < clear_enough_to_follow) return;
        const double roughest = *std::ranges::max_element(level.roughness_of);
        if (level.pitch_px > most_pitch_to_follow || roughest <= bent_roughness_px) return;
        const auto places = misfits(level);
        if (places.size() < fewest_misfits) return;
        LevelPlan plan = plan_levels(report_.reference_size, report_.moving_size, level.map, style).back();
        plan.setup.pitch_px = level.pitch_px;
        const auto closer = match_together(reference_, moving_, level, places, with_smaller_tiles(plan), workers_,
                                           progress_.part(0.98, 0.99));
        if (!closer) return;
        RegistrationReport anew = report_;
        judge(*closer, circumstances, options_, anew);
        if (anew.usable) report_ = std::move(anew);
    }

    // Coarser samples, once or twice, where they promise the smaller error.
    LevelResult better_of_coarser(const LevelResult& fine, const Candidate& candidate) {
        LevelResult best = fine;
        if (agreeing_share(fine) >= clear_share || candidate.share < faint_share) return best;
        const PixelMap map = agreeing_share(fine) < faint_share ? candidate.level.map : fine.map;
        LevelPlan plan = plan_levels(report_.reference_size, report_.moving_size, map, candidate.style).back();
        for (int time = 0; time < 2 && !progress_.stopped(); ++time) {
            plan = with_coarser_samples(plan);
            auto coarser = match_level(reference_, moving_, map, plan, workers_, progress_.part(0.84, 0.85));
            if (!coarser || !promises_more(*coarser, best)) break;
            best = *std::move(coarser);
        }
        return best;
    }

    [[nodiscard]] bool promises_more(const LevelResult& coarser, const LevelResult& level) const {
        if (agreeing_share(coarser) < agreeing_share(level)) return false;
        if (agreeing_share(level) < sure_share) return true;
        const double before = error_px(level, report_.moving_size);
        return !progress_.stopped() && error_px(coarser, report_.moving_size) < before;
    }

    [[nodiscard]] double relief_px(double sample_px) const {
        switch (options_.light) {
            case LightDifference::none:
                return 0.0;
            case LightDifference::unknown:
                return shows_another_light() ? relief_of_usual_lamps_px : 0.0;
            case LightDifference::other_kind:
                return relief_of_usual_lamps_px;
            case LightDifference::one_side:
                return relief_of_one_side_samples * sample_px;
        }
        return 0.0;
    }

    // Dark and bright have changed places, or one of the two has no colour.
    [[nodiscard]] bool shows_another_light() const {
        return report_.matched_on != MatchedOn::brightness ||
               reference_view_.is_coloured() != moving_view_.is_coloured();
    }

    // Gives the shift of all tiles alike that the error must take in.
    double check_against_colour(LevelResult& finest) {
        const double relief = relief_px(finest.pitch_px);
        const bool unknown = options_.light == LightDifference::unknown;
        if (options_.light == LightDifference::none || agreeing_share(finest) < convincing_share) return relief;
        if (unknown && (shows_another_light() || median_score(finest) > lit_alike_score)) return relief;
        ColourCheck check =
            check_by_colour(reference_view_, moving_view_, finest.map, unknown ? light_unknown : light_differs,
                            workers_, progress_.part(0.85, 0.97));
        if (!check.beside_px) return relief;
        // What colour says and is not believed in may yet be so.
        if (!check.anew && unknown) return check.is_beside ? *check.beside_px : relief;
        if (!check.anew) return std::min(relief, *check.beside_px);
        if (agreeing_share(*check.anew) < convincing_share) return relief;
        finest = *std::move(check.anew);
        report_.matched_on = MatchedOn::colour;
        return check.unseen_px;
    }

    // Shading by light from one side shifts coarse structure otherwise than fine: its phase turns by the arc tangent of
    // what it adds, which grows with frequency. So where coarser samples lie beside the map on the whole by far more
    // than chance, by so much may the map lie beside. Which way, they do not tell.
    double check_against_coarse(const LevelResult& finest, TileStyle style) {
        if (options_.light == LightDifference::none || options_.light == LightDifference::other_kind) return 0.0;
        if (report_.matched_on != MatchedOn::brightness || agreeing_share(finest) < convincing_share ||
            median_score(finest) > lit_alike_score || !finest.map.displacement)
            return 0.0;
        const auto coarse = shift_of_coarse(finest, style, 2.0);
        if (!coarse || coarse->length_px() < least_shading_samples * finest.pitch_px ||
            coarse->length_px() < shading_standard_errors * coarse->error_px)
            return 0.0;
        const auto coarser = progress_.stopped() ? std::nullopt : shift_of_coarse(finest, style, 4.0);
        return coarser ? std::max(coarse->length_px(), coarser->length_px()) : coarse->length_px();
    }

    [[nodiscard]] std::optional<CommonShift> shift_of_coarse(const LevelResult& finest, TileStyle style, double times) {
        LevelPlan plan = plan_levels(report_.reference_size, report_.moving_size, finest.map, style).back();
        plan.setup.pitch_px = times * finest.pitch_px;
        plan.tiles_wanted = coarse_tiles;
        const auto level = match_level(reference_, moving_, finest.map, plan, workers_, progress_.part(0.97, 0.97));
        return level ? common_shift(*level, finest.map) : std::nullopt;
    }

    static constexpr int coarse_tiles = 300;
    // On made pairs samples twice as far apart lay 0.039 samples beside the finest ones and more, 7 standard errors and
    // more, where one was lit from the side; at most 0.019 samples at 6 standard errors under dirt and varnish.
    static constexpr double least_shading_samples = 0.03;
    static constexpr double shading_standard_errors = 6.5;

    RegistrationOptions options_;
    Progress progress_;
    PictureView reference_view_;
    PictureView moving_view_;
    int workers_;
    GrayPyramid reference_;
    GrayPyramid moving_;
    PicturePair pair_{reference_, moving_, workers_};
    RegistrationReport report_;
};

}  // namespace

std::string_view name_of(MatchedOn matched_on) {
    switch (matched_on) {
        case MatchedOn::brightness:
            return "brightness";
        case MatchedOn::changed_brightness:
            return "changed-brightness";
        case MatchedOn::edges:
            return "edges";
        case MatchedOn::colour:
            return "colour";
    }
    return "";
}

Expected<void> RegistrationOptions::check() const {
    if (threads < 0 || threads > 1024)
        return fail("registration.bad-options", "The number of threads must lie between 0 and 1024.", "Use 0 for all.");
    if (!(tolerance_px > 0.0) || !std::isfinite(tolerance_px))
        return fail("registration.bad-options", "The tolerance must be a positive number of pixels.", "Use 1.5.");
    if (reference_mm_per_px && !(*reference_mm_per_px > 0.0 && std::isfinite(*reference_mm_per_px)))
        return fail("registration.bad-options", "The size of a pixel must be a positive number of millimetres.",
                    "Leave it out when it is not known.");
    return {};
}

Expected<RegistrationReport> register_pictures(PictureView reference, PictureView moving,
                                               const RegistrationOptions& options, const Progress& progress) {
    if (const auto good = options.check(); !good) return pass_on(good);
    for (const SizePx size : {reference.size(), moving.size()}) {
        if (size.width_px < smallest_side_px || size.height_px < smallest_side_px)
            return fail("registration.picture-too-small",
                        "A photograph of less than 64 pixels a side cannot be laid on another.",
                        "Use a larger photograph.");
    }
    const auto start = std::chrono::steady_clock::now();
    std::optional<PlaneOfPairs> given;
    if (!options.pairs.empty()) {
        const auto plane = plane_through(options.pairs, reference.size(), moving.size());
        if (!plane) return pass_on(plane);
        given = *plane;
    }
    Registration registration(reference, moving, options, progress);
    RegistrationReport report = given ? registration.run_from(*given) : registration.run();
    if (progress.stopped()) return cancelled();
    report.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    progress.at(1.0, "registered");
    return report;
}

}  // namespace tedge::imaging
