// The axes along which registered channels spread most.
#pragma once

#include <span>
#include <vector>

#include "tedge/imaging/legibility.hpp"

namespace tedge::imaging {

// Of the covariance of the planes (1 channel each, one size) over the pixels that count; null counts all.
// Nothing counted: eigenvalues of 0.
[[nodiscard]] PrincipalComponents principal_components(std::span<const RasterF> planes, const Raster8* counted);

// Eigenvalues and orthonormal eigenvectors of a symmetric matrix, n × n row by row, by Jacobi rotations (Golub and Van
// Loan, Matrix Computations; from memory); ordered and with signs as PrincipalComponents says.
[[nodiscard]] PrincipalComponents axes_of(std::vector<double> matrix, std::size_t n);

}  // namespace tedge::imaging
