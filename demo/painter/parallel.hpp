// Rows shared out in bands over threads. What a band writes depends on its rows alone, so the number of threads never
// shows in the result.
#pragma once

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace tedge::painter {

// work(first_row, end_row) for bands of `band` rows, on `threads` threads (the caller's included).
template <class Work>
void for_bands(int rows, int band, int threads, const Work& work) {
    std::atomic<int> next{0};
    const auto run = [&] {
        for (int first = next.fetch_add(band); first < rows; first = next.fetch_add(band))
            work(first, std::min(first + band, rows));
    };
    std::vector<std::jthread> others;
    for (int i = 1; i < threads; ++i) others.emplace_back(run);
    run();
}

}  // namespace tedge::painter
