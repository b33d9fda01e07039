// Nearest neighbours among feature descriptors, by trying all.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "tedge/base/progress.hpp"

namespace tedge::imaging {

struct NearestTwo {
    int index = -1;
    float distance2 = 0.0F;       // squared, to the nearest
    float next_distance2 = 0.0F;  // squared, to the second nearest
};

struct NearestNeighbours {
    std::vector<NearestTwo> of_first;  // for each descriptor of the first set, in the second
    std::vector<int> of_second;        // for each descriptor of the second set, the nearest in the first
};

constexpr std::size_t descriptor_length = 128;

// Descriptors row by row, each of descriptor_length numbers and of length one. Ties go to the lower index. Without
// meaning when progress says stop.
[[nodiscard]] NearestNeighbours nearest_neighbours(std::span<const float> first, std::span<const float> second,
                                                   int workers, const Progress& progress = {});

}  // namespace tedge::imaging
