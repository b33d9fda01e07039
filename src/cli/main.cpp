#include <chrono>
#include <condition_variable>
#include <csignal>
#include <exception>
#include <iostream>
#include <mutex>
#include <stop_token>
#include <thread>

#include "command.hpp"

namespace {

volatile std::sig_atomic_t interrupted = 0;

// Turns Ctrl-C into a request to stop: work in progress leaves nothing half-written.
// The end of the work wakes it, so that no command waits for its next look.
void watch_for_interrupt(const std::stop_token& end, std::stop_source& stop) {
    std::mutex mutex;
    std::condition_variable_any ended;
    std::unique_lock lock(mutex);
    while (!end.stop_requested()) {
        if (interrupted != 0) {
            stop.request_stop();
            return;
        }
        ended.wait_for(lock, end, std::chrono::milliseconds(20), [] { return interrupted != 0; });
    }
}

}  // namespace

int main(int count, char** words) {
    try {
        static std::stop_source stop;
        std::signal(SIGINT, [](int) { interrupted = 1; });
        // A file that may not grow is told like a full disk; by default it would end the program.
        std::signal(SIGXFSZ, SIG_IGN);
        const std::jthread watch([](const std::stop_token& end) { watch_for_interrupt(end, stop); });
        return tedge::cli::run_program({words + 1, words + count}, stop.get_token());
    } catch (const std::exception& fault) {
        std::cerr << "tedge met a fault of its own and stopped: " << fault.what()
                  << ". What was saved is safe; please report this.\n";
        return 1;
    }
}
