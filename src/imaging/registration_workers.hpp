// Work shared among threads so that the result cannot depend on their number: every index is done once, alone.
#pragma once

#include <algorithm>
#include <atomic>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace tedge::imaging {

[[nodiscard]] inline int worker_count(int wanted) {
    if (wanted > 0) return wanted;
    return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

// Calls body(index, worker) for every index below count, worker in [0, workers). Indices are handed out in order.
// Returns early, with indices left undone, once stopped() says so. The first exception of a body is thrown again here.
template <class Body, class Stopped>
void for_each_index(int count, int workers, const Stopped& stopped, const Body& body) {
    std::atomic<int> next{0};
    std::exception_ptr failure;
    std::mutex failure_mutex;
    const auto run = [&](int worker) {
        try {
            for (int index = next++; index < count && !stopped(); index = next++) body(index, worker);
        } catch (...) {
            const std::scoped_lock lock(failure_mutex);
            if (!failure) failure = std::current_exception();
            next = count;
        }
    };
    {
        std::vector<std::jthread> helpers;
        const int threads = std::clamp(workers, 1, std::max(1, count));
        for (int worker = 1; worker < threads; ++worker) helpers.emplace_back(run, worker);
        run(0);
    }
    if (failure) std::rethrow_exception(failure);
}

}  // namespace tedge::imaging
