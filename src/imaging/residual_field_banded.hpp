// Symmetric positive definite matrices whose entries lie near the diagonal.
#pragma once

#include <cstddef>
#include <vector>

namespace tedge::imaging {

// Lower band of a symmetric matrix, row by row: entry (i, j) with i - bandwidth <= j <= i.
class BandedMatrix {
public:
    BandedMatrix() = default;
    BandedMatrix(std::size_t size, std::size_t bandwidth)
        : size_(size), bandwidth_(bandwidth), entries_(size * (bandwidth + 1)) {}

    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] double& at(std::size_t i, std::size_t j) { return row(i)[j]; }
    [[nodiscard]] double at(std::size_t i, std::size_t j) const { return row(i)[j]; }
    // Of the symmetric matrix: i and j in any order.
    [[nodiscard]] double symmetric(std::size_t i, std::size_t j) const { return i >= j ? row(i)[j] : row(j)[i]; }

    // Replaces the matrix by its Cholesky factor L. Throws std::logic_error when it is not positive definite.
    void factorise();
    // Of a factor: replaces right by the solution of L Lᵀ x = right.
    void solve(std::vector<double>& right) const;
    // Of a factor: the entries of the inverse of L Lᵀ that lie within the band (Takahashi, Fagan and Chen 1973; Erisman
    // and Tinney, Communications of the ACM 18, 177-179, 1975; both from memory).
    [[nodiscard]] BandedMatrix inverse_within_band() const;

private:
    // row(i)[j] is entry (i, j).
    [[nodiscard]] double* row(std::size_t i) { return entries_.data() + i * bandwidth_ + bandwidth_; }
    [[nodiscard]] const double* row(std::size_t i) const { return entries_.data() + i * bandwidth_ + bandwidth_; }

    std::size_t size_ = 0;
    std::size_t bandwidth_ = 0;
    std::vector<double> entries_;
};

}  // namespace tedge::imaging
