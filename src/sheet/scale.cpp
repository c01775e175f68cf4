#include "sheet/scale.h"

#include <array>
#include <cmath>
#include <vector>

namespace pommel::sheet {
namespace {

/// Factors without a small common power, so that no two kinds look alike.
constexpr double kLengthFactor = 1.37, kAngleFactor = 1.19, kMoneyFactor = 1.61, kTimeFactor = 0.83;
/// Agreement of two computations that differ by rounding only.
constexpr double kSame = 1e-7;
/// A sum this much smaller than its parts is mostly rounding, and is not judged.
constexpr double kCancelled = 1e-6;

double factor_of(const Dimension& d) {
  return std::pow(kLengthFactor, d.length) * std::pow(kAngleFactor, d.angle) * std::pow(kMoneyFactor, d.money) *
         std::pow(kTimeFactor, d.time);
}

/// A node under the factors to the powers 0, 1 and 2. What scales by any power law at all has at[1]^2 = at[0] * at[2].
struct Probe {
  std::array<double, 3> at{};
  bool vague = false;  // not to be judged
};

bool usable(const Probe& p) {
  for (const double value : p.at)
    if (value == 0 || !std::isfinite(value)) return false;
  return !p.vague;
}

bool close(double a, double b) {
  return std::abs(a - b) <= kSame * std::max(std::abs(a), std::abs(b));
}

bool lawful(const Probe& p) {
  return !usable(p) || close(p.at[1] / p.at[0], p.at[2] / p.at[1]);
}

class Prober {
 public:
  Prober(const Formula& formula, const std::vector<Meaning>& meanings, const Scope& scope)
      : formula_(formula), meanings_(meanings), scope_(scope) {}

  Scaling run(const Kind& kind) {
    for (std::size_t i = 0; i < formula_.nodes.size(); ++i) probes_.push_back(compute(formula_.nodes[i], i));
    if (!lawful_) return Scaling::disagrees;
    const Probe& last = probes_.back();
    if (!usable(last)) return Scaling::no_verdict;
    const double factor = factor_of(kind.dimension);
    const bool agrees = close(last.at[1], last.at[0] * factor) && close(last.at[2], last.at[1] * factor);
    return agrees ? Scaling::agrees : Scaling::disagrees;
  }

 private:
  using Binary = double (*)(double, double);

  Probe compute(const Node& node, std::size_t index);
  Probe call(const Node& node);
  static Probe scaled(double amount, const Dimension& dimension) {
    const double factor = factor_of(dimension);
    return {{amount, amount * factor, amount * factor * factor}, false};
  }
  /// A different value for each row, neither whole nor close to another's.
  static double probe_value(std::size_t row) {
    return 0.7 + std::fmod(0.6180339887498949 * static_cast<double>(row + 1), 1.0);
  }

  const Probe& probe(std::size_t at) const { return probes_[at]; }
  Probe with(const Node& node, Binary op) const;
  Probe each(std::size_t part, double (*op)(double)) const;
  Probe blended(const std::vector<Probe>& parts) const;
  Probe blended(const std::vector<std::size_t>& parts) const;
  Probe constant(double value) const { return {{value, value, value}, false}; }
  void must_scale_alike(const std::vector<std::size_t>& parts);
  void must_not_scale(std::size_t part);

  const Formula& formula_;
  const std::vector<Meaning>& meanings_;
  const Scope& scope_;
  std::vector<Probe> probes_;
  bool lawful_ = true;
};

Probe Prober::with(const Node& node, Binary op) const {
  const Probe &a = probe(node.parts[0]), &b = probe(node.parts[1]);
  Probe result{{}, a.vague || b.vague};
  for (std::size_t i = 0; i < 3; ++i) result.at[i] = op(a.at[i], b.at[i]);
  if (node.op != Op::add && node.op != Op::subtract) return result;
  // a vague part that is small beside the other spoils nothing
  const double size = std::abs(a.at[0]) + std::abs(b.at[0]);
  const double vague_size = (a.vague ? std::abs(a.at[0]) : 0) + (b.vague ? std::abs(b.at[0]) : 0);
  result.vague = std::abs(result.at[0]) < kCancelled * size || vague_size > kCancelled * size;
  return result;
}

Probe Prober::each(std::size_t part, double (*op)(double)) const {
  Probe result = probe(part);
  for (double& value : result.at) value = op(value);
  return result;
}

/// Weights without a pattern, so that parts do not cancel.
Probe Prober::blended(const std::vector<Probe>& parts) const {
  Probe sum;
  double weight = 1, size = 0, vague_size = 0;
  for (const Probe& part : parts) {
    for (std::size_t i = 0; i < 3; ++i) sum.at[i] += weight * part.at[i];
    size += weight * std::abs(part.at[0]);
    if (part.vague) vague_size += weight * std::abs(part.at[0]);
    weight = 0.5 + std::fmod(weight * 1.7320508075688772, 1.0);
  }
  sum.vague = vague_size > kCancelled * size || std::abs(sum.at[0]) < kCancelled * size;
  return sum;
}

Probe Prober::blended(const std::vector<std::size_t>& parts) const {
  std::vector<Probe> all;
  for (const std::size_t part : parts) all.push_back(probe(part));
  return blended(all);
}

void Prober::must_scale_alike(const std::vector<std::size_t>& parts) {
  for (const std::size_t part : parts) lawful_ = lawful_ && lawful(probe(part));
  lawful_ = lawful_ && lawful(blended(parts));
}

void Prober::must_not_scale(std::size_t part) {
  const Probe& p = probe(part);
  if (usable(p)) lawful_ = lawful_ && close(p.at[0], p.at[1]) && close(p.at[1], p.at[2]);
}

Probe Prober::compute(const Node& node, std::size_t index) {
  switch (node.op) {
    case Op::number:
      return scaled(node.number, node.dimension);
    case Op::yes_no:
    case Op::words:
      return constant(1);
    case Op::name: {
      const Meaning& meaning = meanings_[index];
      if (meaning.what == Meaning::What::list || !meaning.kind || meaning.kind->form != Form::number)
        return constant(1);
      return scaled(probe_value(meaning.index), meaning.kind->dimension);
    }
    case Op::negate:
      return each(node.parts[0], [](double x) { return -x; });
    case Op::add:
      return with(node, [](double a, double b) { return a + b; });
    case Op::subtract:
      return with(node, [](double a, double b) { return a - b; });
    case Op::multiply:
      return with(node, [](double a, double b) { return a * b; });
    case Op::divide:
      return with(node, [](double a, double b) { return a / b; });
    case Op::power:
      must_not_scale(node.parts[1]);
      return with(node, [](double a, double b) { return std::pow(std::abs(a), b); });
    case Op::less:
    case Op::at_most:
    case Op::more:
    case Op::at_least:
    case Op::equal:
    case Op::different:
      must_scale_alike(node.parts);
      return constant(1);
    case Op::both:
    case Op::either:
    case Op::invert:
      return constant(1);
    case Op::branch:
      return blended(std::vector<std::size_t>{node.parts[1], node.parts[2]});
    case Op::call:
      return call(node);
  }
  return constant(1);
}

Probe Prober::call(const Node& node) {
  const std::size_t first = node.parts[0];
  switch (node.function->rule) {
    case Rule::alike:
    case Rule::step:
      return blended(node.parts);
    case Rule::same:
      return each(first, [](double x) { return std::abs(x); });
    case Rule::root:
      return each(first, [](double x) { return std::sqrt(std::abs(x)); });
    case Rule::from_angle: {
      const Probe& p = probe(first);
      if (usable(p))
        lawful_ = lawful_ && close(p.at[1], p.at[0] * kAngleFactor) && close(p.at[2], p.at[1] * kAngleFactor);
      return constant(0.6);
    }
    case Rule::to_angle:
      must_scale_alike(node.parts);
      return scaled(0.6, {.angle = 1});
    case Rule::whole:
      must_not_scale(first);
      return probe(first);
    case Rule::size: {
      std::vector<Probe> parts;
      for (const std::size_t part : node.parts) parts.push_back(probe(part));
      const Meaning& list = meanings_[node.parts[1]];
      if (node.parts.size() == 2 && list.what == Meaning::What::list) {
        parts.pop_back();
        for (const double size : scope_.sizes(list.index))
          parts.push_back(scaled(size, list.kind.value_or(Kind{}).dimension));
      }
      return blended(parts);
    }
    case Rule::choose: {
      std::vector<std::size_t> values;
      for (std::size_t i = 2; i < node.parts.size(); i += 2) values.push_back(node.parts[i]);
      if (node.parts.size() % 2 == 0) values.push_back(node.parts.back());
      return blended(values);
    }
  }
  return constant(1);
}

}  // namespace

Scaling scales_like(const Formula& formula, const std::vector<Meaning>& meanings, const Scope& scope,
                    const Kind& kind) {
  return Prober(formula, meanings, scope).run(kind);
}

}  // namespace pommel::sheet
