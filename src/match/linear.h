// A small symmetric matrix and its Cholesky factor. Only the lower triangle is kept.
#pragma once

#include <cmath>
#include <vector>

namespace pommel::match {

class Matrix {
 public:
  Matrix() = default;
  explicit Matrix(std::size_t n) : n_(n), a_(n * n, 0.0) {}

  std::size_t size() const { return n_; }
  double& at(std::size_t i, std::size_t j) { return a_[i * n_ + j]; }  ///< REQUIRES: j <= i
  double at(std::size_t i, std::size_t j) const { return a_[i * n_ + j]; }

  /// Replaces the matrix by its factor. False when it is not positive definite.
  bool factor() {
    for (std::size_t j = 0; j < n_; ++j) {
      double* row = &a_[j * n_];
      for (std::size_t i = 0; i < j; ++i) {
        const double* other = &a_[i * n_];
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

  /// Solves in place. REQUIRES: factor() succeeded.
  void solve(std::vector<double>& b) const {
    for (std::size_t i = 0; i < n_; ++i) {
      double sum = b[i];
      for (std::size_t k = 0; k < i; ++k) sum -= a_[i * n_ + k] * b[k];
      b[i] = sum / a_[i * n_ + i];
    }
    for (std::size_t i = n_; i-- > 0;) {
      double sum = b[i];
      for (std::size_t k = i + 1; k < n_; ++k) sum -= a_[k * n_ + i] * b[k];
      b[i] = sum / a_[i * n_ + i];
    }
  }

 private:
  std::size_t n_ = 0;
  std::vector<double> a_;
};

}  // namespace pommel::match
