#include "long_work.hpp"

#include <chrono>
#include <memory>

#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::chrono::milliseconds between_reports{40};

}  // namespace

LongWork::~LongWork() {
    worker_.request_stop();
    if (worker_.joinable()) worker_.join();
}

// Work may report a thousand times a second; a bar need not be drawn that often.
Progress::Report LongWork::reporter() {
    const auto last = std::make_shared<std::chrono::steady_clock::time_point>();
    return [this, last](double fraction, std::string_view what) {
        const auto now = std::chrono::steady_clock::now();
        if (now - *last < between_reports) return;
        *last = now;
        tell([this, fraction, text = shown(what)] { emit progress(fraction, text); });
    };
}

void LongWork::begin(Act act) {
    if (running_) return;
    running_ = true;
    worker_ = std::jthread([this, act = std::move(act)](const std::stop_token& stop) {
        act(Progress(stop, reporter()));
        const bool was_cancelled = stop.stop_requested();
        tell([this, was_cancelled] {
            running_ = false;
            emit finished(was_cancelled);
        });
    });
}

Expected<WorkersBook> open_for_worker(const BookSession::Opened& how) {
    auto book = casebook::Casebook::open(how.folder, {how.clock, how.ids});
    if (!book) return pass_on(book);
    const auto author = book->person_named(how.author);
    if (!author && !book->read_only()) return pass_on(author);
    return WorkersBook{*std::move(book), author.value_or(Uuid{})};
}

}  // namespace tedge::desk
