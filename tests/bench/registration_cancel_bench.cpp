// How soon a registration of two photographs of 40 megapixels returns once it is asked to stop, at random moments of
// its run: of one painting, also with light from one side, where colour is asked too, and of two paintings, where every
// way of looking is tried. Told as durations and as shares of the whole run, for machines are noisy.
//
// bench_registration_cancel [FOLDER] [MOMENTS]   the pictures are made in the folder once (minutes), as by
// bench_registration; ends with 1 when the worst moment takes longer than 0.3 s
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <optional>
#include <random>
#include <stop_token>
#include <string>
#include <thread>
#include <variant>
#include <vector>

#include "large_pair.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/registration.hpp"

using namespace tedge;
using namespace tedge::imaging;
using namespace tedge::test_support;
using Clock = std::chrono::steady_clock;

namespace {

constexpr double bar_seconds = 0.3;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

Raster8 pixels_of(const std::filesystem::path& file) {
    auto picture = read_picture(file);
    if (picture) return std::get<Raster8>(std::move(picture->pixels));
    std::fprintf(stderr, "%s\n", picture.error().message.c_str());
    std::exit(2);
}

// The other work of the machine: jobs that run or wait, mean of the last minute (Linux).
double load() {
    double jobs = 0.0;
    std::ifstream("/proc/loadavg") >> jobs;
    return jobs;
}

// What the registration has said last that it is doing.
class LastStep {
public:
    [[nodiscard]] Progress progress(const std::stop_source& stop) {
        return Progress(stop.get_token(), [this](double, std::string_view what) {
            const std::scoped_lock lock(mutex_);
            what_ = what;
        });
    }
    [[nodiscard]] std::string what() const {
        const std::scoped_lock lock(mutex_);
        return what_;
    }

private:
    mutable std::mutex mutex_;
    std::string what_;
};

struct Stop {
    double seconds = 0.0;
    double after = 0.0;  // asked so many seconds from the beginning
    std::string step;    // that it interrupted
};

struct Subject {
    const Raster8& reference;
    const Raster8& moving;
    RegistrationOptions options;
};

// Empty when the work was done before.
std::optional<Stop> stop_after(const Subject& subject, double after) {
    std::stop_source source;
    LastStep step;
    Clock::time_point asked{};
    std::string interrupted;
    std::jthread asker([&] {
        std::this_thread::sleep_for(std::chrono::duration<double>(after));
        interrupted = step.what();
        asked = Clock::now();
        source.request_stop();
    });
    const auto report = register_pictures(subject.reference, subject.moving, subject.options, step.progress(source));
    const auto returned = Clock::now();
    asker.join();
    if (report) return std::nullopt;
    return Stop{std::chrono::duration<double>(returned - asked).count(), after, interrupted};
}

void say_by_step(const std::vector<Stop>& stops) {
    std::map<std::string, std::pair<int, double>> by_step;  // how many, the longest
    for (const Stop& each : stops) {
        auto& [count, longest] = by_step[each.step];
        ++count;
        longest = std::max(longest, each.seconds);
    }
    for (const auto& [step, told] : by_step)
        std::printf("    %-22s %3d, longest %.3f s\n", step.c_str(), told.first, told.second);
}

// The longest time that a stop took.
double measured(const char* what, const Subject& subject, int moments) {
    const auto start = Clock::now();
    const auto report = register_pictures(subject.reference, subject.moving, subject.options);
    if (!report) std::exit(2);
    const double whole = seconds_since(start);
    std::mt19937 random(1);  // its numbers are the same everywhere
    std::vector<Stop> stops;
    for (int i = 0; i < moments; ++i) {
        const double after = whole * static_cast<double>(random()) / 4294967296.0;
        if (auto stop = stop_after(subject, after)) stops.push_back(*std::move(stop));
    }
    if (stops.empty()) std::exit(2);
    std::ranges::sort(stops, {}, &Stop::seconds);
    const Stop& worst = stops.back();
    std::printf("%s: %s after %.2f s, load %.1f\n", what, report->code.c_str(), whole, load());
    std::printf(
        "  %zu of %d moments stopped it: median %.3f s (%.2f %% of the whole run), worst %.3f s (%.2f %%; asked after "
        "%.2f s)\n",
        stops.size(), moments, stops[stops.size() / 2].seconds, 100.0 * stops[stops.size() / 2].seconds / whole,
        worst.seconds, 100.0 * worst.seconds / whole, worst.after);
    say_by_step(stops);
    std::fflush(stdout);
    return worst.seconds;
}

}  // namespace

int main(int count, char** arguments) {
    const std::filesystem::path folder =
        count > 1 ? arguments[1] : std::filesystem::temp_directory_path() / "tedge-bench";
    const int moments = count > 2 ? std::atoi(arguments[2]) : 60;
    if (!make_large_pictures(folder, true)) return 2;
    const Raster8 reference = pixels_of(folder / "after.jpg");
    double worst = 0.0;
    for (const char* name : {"before.jpg", "other.jpg"}) {
        const Raster8 moving = pixels_of(folder / name);
        worst = std::max(worst, measured(name, {reference, moving, {}}, moments));
        if (std::string(name) == "before.jpg")
            worst = std::max(worst, measured("before.jpg, light from one side",
                                             {reference, moving, {.light = LightDifference::one_side}}, moments));
    }
    std::printf("worst of all %.3f s (bar %.1f s)\n", worst, bar_seconds);
    return worst <= bar_seconds ? 0 : 1;
}
