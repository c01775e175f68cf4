#include "mill/columns.h"

namespace pommel::mill {

Columns::Columns(int columns, const std::vector<double>& phis, bool tangents, double from)
    : count(columns), step(2 * std::numbers::pi / columns), first(from) {
  stride = (static_cast<std::size_t>(columns) + Row::size() - 1) / Row::size() * Row::size();
  auto table = [&](auto&& function) {
    std::vector<float> out(stride);
    for (std::size_t j = 0; j < stride; ++j) out[j] = static_cast<float>(function(angle(j)));
    return out;
  };
  cos = table([](double a) { return std::cos(a); });
  sin = table([](double a) { return std::sin(a); });
  for (double phi : phis) {
    secant.push_back(table([&](double a) { return 1 / std::cos(a - phi); }));
    if (tangents) tangent.push_back(table([&](double a) { return std::fabs(std::tan(a - phi)); }));
  }
}

}  // namespace pommel::mill
