// A small symmetric matrix and its Cholesky factor. Only the lower triangle is kept.
#pragma once

#include <array>
#include <cmath>
#include <span>
#include <vector>

namespace pommel::match {

namespace linear {

/// Replaces n rows by their factor. False when the matrix is not positive definite.
inline bool factor(double* a, std::size_t n) {
  for (std::size_t j = 0; j < n; ++j) {
    double* row = a + j * n;
    for (std::size_t i = 0; i < j; ++i) {
      const double* other = a + i * n;
      double sum = row[i];
      for (std::size_t k = 0; k < i; ++k) sum -= row[k] * other[k];
      row[i] = sum / other[i];
    }
    double sum = row[j];
    for (std::size_t k = 0; k < j; ++k) sum -= row[k] * row[k];
    if (!(sum > 0)) return false;
    row[j] = std::sqrt(sum);
  }
  return true;
}

/// Solves in place with the factor.
inline void solve(const double* a, std::span<double> b) {
  const std::size_t n = b.size();
  for (std::size_t i = 0; i < n; ++i) {
    double sum = b[i];
    for (std::size_t k = 0; k < i; ++k) sum -= a[i * n + k] * b[k];
    b[i] = sum / a[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    double sum = b[i];
    for (std::size_t k = i + 1; k < n; ++k) sum -= a[k * n + i] * b[k];
    b[i] = sum / a[i * n + i];
  }
}

}  // namespace linear

class Matrix {
 public:
  /// All zeros; what memory it has is kept.
  void clear(std::size_t n) {
    n_ = n;
    a_.assign(n * n, 0.0);
  }

  double& at(std::size_t i, std::size_t j) { return a_[i * n_ + j]; }  ///< REQUIRES: j <= i
  double at(std::size_t i, std::size_t j) const { return a_[i * n_ + j]; }

  /// Replaces the matrix by its factor. False when it is not positive definite.
  bool factor() { return linear::factor(a_.data(), n_); }
  /// Solves in place. REQUIRES: factor() succeeded; b has the matrix's size.
  void solve(std::span<double> b) const { linear::solve(a_.data(), b); }

 private:
  std::size_t n_ = 0;
  std::vector<double> a_;
};

/// The same of a size that is known: no memory is asked for.
template <std::size_t N>
class SmallMatrix {
 public:
  double& at(std::size_t i, std::size_t j) { return a_[i * N + j]; }
  bool factor() { return linear::factor(a_.data(), N); }
  void solve(std::array<double, N>& b) const { linear::solve(a_.data(), b); }

 private:
  std::array<double, N * N> a_{};
};

}  // namespace pommel::match
