#include "feature_nearest.hpp"

#include <algorithm>
#include <array>

#include "registration_clones.hpp"
#include "registration_workers.hpp"

namespace tedge::imaging {
namespace {

constexpr std::size_t queries = 4;  // first descriptors at a time
constexpr std::size_t block = 16;   // second descriptors at a time
using Products = std::array<std::array<float, block>, queries>;

// Scalar products of 4 descriptors with 16, these laid out number by number. Every sum runs along the descriptor in its
// own register, so nothing is reordered.
TEDGE_CLONES void multiply(const float* first, const float* turned, Products& products) {
    Products sums{};
    for (std::size_t d = 0; d < descriptor_length; ++d) {
        const float* numbers = turned + d * block;
        for (std::size_t q = 0; q < queries; ++q) {
            const float factor = first[q * descriptor_length + d];
            for (std::size_t j = 0; j < block; ++j) sums[q][j] += factor * numbers[j];
        }
    }
    products = sums;
}

// Pads to whole blocks with descriptors of zeros, which are near to none.
std::vector<float> turned_blocks(std::span<const float> descriptors) {
    const std::size_t count = descriptors.size() / descriptor_length;
    const std::size_t blocks = (count + block - 1) / block;
    std::vector<float> turned(blocks * block * descriptor_length);
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t d = 0; d < descriptor_length; ++d)
            turned[(i / block * descriptor_length + d) * block + i % block] = descriptors[i * descriptor_length + d];
    }
    return turned;
}

struct Best {
    float product = -2.0F;
    int index = -1;
};

// Four descriptors of the first set against all of the second.
class Group {
public:
    Group(std::span<const float> first, std::size_t from, std::size_t count) : from_(from), count_(count) {
        std::copy_n(first.data() + from * descriptor_length, count * descriptor_length, descriptors_.data());
    }

    // The block of the second set that begins at b; of_second takes up who is nearer than those before.
    void compare(const float* turned, std::size_t b, std::size_t width, std::vector<Best>& of_second) {
        Products products{};
        multiply(descriptors_.data(), turned, products);
        for (std::size_t q = 0; q < count_; ++q) {
            for (std::size_t j = 0; j < width; ++j) {
                const float product = products[q][j];
                Best& other = of_second[b + j];
                if (product > other.product) other = {product, static_cast<int>(from_ + q)};
                if (product > best_[q].product) {
                    next_[q] = best_[q].product;
                    best_[q] = {product, static_cast<int>(b + j)};
                } else if (product > next_[q]) {
                    next_[q] = product;
                }
            }
        }
    }

    // For descriptors of length one the squared distance is 2 - 2·product.
    [[nodiscard]] NearestTwo nearest(std::size_t q) const {
        return {best_[q].index, std::max(0.0F, 2.0F - 2.0F * best_[q].product), std::max(0.0F, 2.0F - 2.0F * next_[q])};
    }

private:
    std::size_t from_;
    std::size_t count_;
    std::array<float, queries * descriptor_length> descriptors_{};
    std::array<Best, queries> best_{};
    std::array<float, queries> next_{-2.0F, -2.0F, -2.0F, -2.0F};
};

}  // namespace

NearestNeighbours nearest_neighbours(std::span<const float> first, std::span<const float> second, int workers,
                                     const Progress& progress) {
    const std::size_t count_first = first.size() / descriptor_length;
    const std::size_t count_second = second.size() / descriptor_length;
    const std::vector<float> turned = turned_blocks(second);
    const std::size_t groups = (count_first + queries - 1) / queries;
    NearestNeighbours nearest;
    nearest.of_first.resize(count_first);
    // Each share of the first set remembers the best for the second; they are compared in order afterwards.
    constexpr std::size_t shares = 16;
    std::vector<std::vector<Best>> of_second(shares, std::vector<Best>(count_second));
    for_each_index(
        static_cast<int>(shares), workers, [&] { return progress.stopped(); },
        [&](int index, int) {
            const auto share = static_cast<std::size_t>(index);
            for (std::size_t g = groups * share / shares; g < groups * (share + 1) / shares && !progress.stopped();
                 ++g) {
                const std::size_t from = g * queries;
                const std::size_t count = std::min(queries, count_first - from);
                Group group(first, from, count);
                for (std::size_t b = 0; b < count_second; b += block)
                    group.compare(turned.data() + b * descriptor_length, b, std::min(block, count_second - b),
                                  of_second[share]);
                for (std::size_t q = 0; q < count; ++q) nearest.of_first[from + q] = group.nearest(q);
            }
        });
    nearest.of_second.resize(count_second);
    for (std::size_t j = 0; j < count_second; ++j) {
        Best best;
        for (const auto& share : of_second) {
            if (share[j].product > best.product) best = share[j];
        }
        nearest.of_second[j] = best.index;
    }
    return nearest;
}

}  // namespace tedge::imaging
