// Registration tells what it is doing, and stops soon after it was asked to.
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <optional>
#include <set>
#include <stop_token>
#include <string>
#include <thread>

#include "painted_pair.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;
using Clock = std::chrono::steady_clock;

namespace {

// Instrumented code runs about ten times as slowly. How long a stop takes at full size is measured by
// bench_registration_cancel.
#if defined(__SANITIZE_ADDRESS__)
constexpr double most_seconds_to_stop = 1.0;
constexpr SizePx size{300, 232};
constexpr int moments = 4;
#else
constexpr double most_seconds_to_stop = 0.3;
constexpr SizePx size{1300, 1000};
constexpr int moments = 12;
#endif

Raster8 picture(std::uint64_t seed) {
    return photograph({.seed = seed, .stroke_px = 70.0, .layers = 2}, size, {}, {.noise = 3.0}, seed, 2);
}

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

// Seconds from the request, made `after` seconds from the beginning, to the return; empty when the work was done
// before.
std::optional<double> seconds_to_stop(const Raster8& reference, const Raster8& moving, double after) {
    std::stop_source source;
    Clock::time_point asked{};
    std::jthread asker([&](const std::stop_token& work_is_done) {
        const auto end = Clock::now() + std::chrono::duration<double>(after);
        while (Clock::now() < end && !work_is_done.stop_requested())
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        asked = Clock::now();
        source.request_stop();
    });
    const auto report = register_pictures(reference, moving, {}, Progress(source.get_token(), {}));
    const auto returned = Clock::now();
    asker.request_stop();
    asker.join();
    if (report) return std::nullopt;
    CHECK(report.error().code == "cancelled");
    return std::chrono::duration<double>(returned - asked).count();
}

void check_stops_soon(const Raster8& reference, const Raster8& moving) {
    const auto start = Clock::now();
    REQUIRE(register_pictures(reference, moving));
    const double whole = seconds_since(start);
    int cancelled = 0;
    for (int i = 0; i < moments; ++i) {
        const double after = whole * (i + 0.5) / moments;
        const auto seconds = seconds_to_stop(reference, moving, after);
        if (!seconds) continue;
        ++cancelled;
        CAPTURE(whole, after);
        CHECK(*seconds < most_seconds_to_stop);
    }
    CHECK(cancelled >= moments / 2);
}

}  // namespace

TEST_CASE("Registration stops soon wherever it is when it is asked to") {
    const Raster8 reference = picture(31);
    // Found at the first attempt, then refined.
    check_stops_soon(
        reference, photograph({.seed = 31, .stroke_px = 70.0, .layers = 2}, size,
                              {seen_from({.degrees = 3.0, .scale = 0.97}, size, size), 2.0, 900.0}, old_varnish, 5, 2));
    // Another picture: every way of looking is tried.
    check_stops_soon(reference, picture(32));
}

TEST_CASE("Progress says what is being done, goes forward only and ends at one") {
    const PaintedScene scene{.seed = 3, .stroke_px = 65.0, .layers = 4};
    const SizePx small{300, 232};
    const Raster8 reference = photograph(scene, small, {}, {.noise = 1.5}, 11, 2);
    const Raster8 moving = photograph(scene, small, {}, {.noise = 2.0}, 18, 2);
    double last = 0.0;
    double longest_step = 0.0;
    bool forward = true;
    std::set<std::string> steps;
    const Progress progress({}, [&](double fraction, std::string_view what) {
        forward = forward && fraction >= last;
        // A first attempt that succeeds leaves out the others, which are 0.4 of the way.
        longest_step = std::max(longest_step, fraction - last);
        last = fraction;
        steps.emplace(what);
    });
    REQUIRE(register_pictures(reference, moving, {}, progress));
    CHECK(forward);
    CHECK(last == 1.0);
    CHECK(longest_step < 0.45);
    for (const char* step : {"making smaller copies", "looking for features", "comparing features", "matching tiles",
                             "fitting the map", "estimating the error", "registered"})
        CHECK(steps.contains(step));
    CHECK_FALSE(steps.contains(""));
}
