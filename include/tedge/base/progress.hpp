// All that long work knows of the outside: "how far" and "stop?". Whoever starts the work owns the thread.
#pragma once

#include <functional>
#include <stop_token>
#include <string_view>
#include <utility>

#include "tedge/base/error.hpp"

namespace tedge {

// Cheap to copy. A default-made Progress reports nowhere and never stops.
class Progress {
public:
    // fraction in [0, 1]; what: the step in a few English words ("matching tiles"). Called on the working thread.
    using Report = std::function<void(double fraction, std::string_view what)>;

    Progress() = default;
    Progress(std::stop_token stop, Report report) : stop_(std::move(stop)), report_(std::move(report)) {}

    // True once somebody asked to cancel: test it in the innermost loop that takes more than some milliseconds.
    [[nodiscard]] bool stopped() const { return stop_.stop_requested(); }

    void at(double fraction, std::string_view what) const {
        if (report_) report_(from_ + (to_ - from_) * fraction, what);
    }

    // The share of this progress that a part of the work may fill: progress.part(0.2, 0.6).
    [[nodiscard]] Progress part(double from, double to) const {
        Progress share = *this;
        share.from_ = from_ + (to_ - from_) * from;
        share.to_ = from_ + (to_ - from_) * to;
        return share;
    }

private:
    std::stop_token stop_;
    Report report_;
    double from_ = 0.0;
    double to_ = 1.0;
};

// The one error for cancelled work (code "cancelled"); the command line turns it into exit code 4.
[[nodiscard]] inline std::unexpected<Error> cancelled() {
    return fail("cancelled", "The work was cancelled and nothing of it was kept.", "Start it again when you want it.");
}

}  // namespace tedge
