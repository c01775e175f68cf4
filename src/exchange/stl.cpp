#include "exchange/stl.h"

#include <algorithm>
#include <bit>
#include <cmath>

#include "base/number.h"
#include "base/text.h"

namespace pommel::exchange {
namespace {

constexpr std::size_t kHeader = 80, kCounted = 84, kRecord = 50;
constexpr std::size_t kMostEver = 20'000'000;
constexpr double kFarthest = 1e5;  // mm

/// Triangles as the file has them, in its own unit.
struct Raw {
  std::vector<Vector> points;   // three a triangle
  std::vector<Vector> normals;  // as written, not a number where they are not
  std::string name;
  bool binary = false;
};

std::string counted(std::size_t n) {
  return format_number(static_cast<double>(n), 0);
}

Failure fail_at(const std::string& file, int line, std::string id, std::string message, std::string remedy, std::string_view read = {}) {
  return fail(std::move(id), std::move(message), std::move(remedy), {file, line, 0}, printable(read.substr(0, 60)));
}

Failure too_many(const std::string& file, std::size_t most) {
  return fail_at(file, 0, "exchange.too-many", "the file has more than " + counted(most) + " triangles", "thin the mesh out");
}

// ---- binary --------------------------------------------------------------------------------------------------------

std::uint32_t word_at(std::string_view bytes, std::size_t at) {
  std::uint32_t word = 0;  // little-endian, whatever this machine is
  for (std::size_t k = 0; k < 4; ++k) word |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + k])) << (8 * k);
  return word;
}

Vector vector_at(std::string_view bytes, std::size_t at) {
  Vector v{};
  for (std::size_t k = 0; k < 3; ++k) v[k] = static_cast<double>(std::bit_cast<float>(word_at(bytes, at + 4 * k)));
  return v;
}

bool finite(const Vector& v) {
  return std::isfinite(v[0]) && std::isfinite(v[1]) && std::isfinite(v[2]);
}

bool has_binary_size(std::string_view bytes) {
  return bytes.size() >= kCounted && bytes.size() - kCounted == kRecord * static_cast<std::uint64_t>(word_at(bytes, kHeader));
}

std::string header_name(std::string_view bytes) {
  const std::string_view header = bytes.substr(0, kHeader);
  return printable(trimmed(header.substr(0, header.find('\0'))));
}

Result<Raw> read_binary(std::string_view bytes, const std::string& file, std::size_t most) {
  const std::size_t count = word_at(bytes, kHeader);
  if (!has_binary_size(bytes)) {
    const bool less = bytes.size() - kCounted < kRecord * static_cast<std::uint64_t>(count);
    return fail_at(file, 0, less ? "exchange.truncated" : "exchange.size",
                   "the file says that it has " + counted(count) + " triangles, for which it is too " + (less ? "short" : "long") + ": " +
                       counted(bytes.size()) + " bytes",
                   "export or copy it again");
  }
  if (count > most) return too_many(file, most);
  Raw raw;
  raw.binary = true;
  raw.name = header_name(bytes);
  raw.points.reserve(3 * count);
  raw.normals.reserve(count);
  for (std::size_t i = 0, at = kCounted; i < count; ++i, at += kRecord) {
    raw.normals.push_back(vector_at(bytes, at));
    for (std::size_t k = 1; k <= 3; ++k) {
      raw.points.push_back(vector_at(bytes, at + 12 * k));
      if (!finite(raw.points.back()))
        return fail_at(file, 0, "exchange.number", "a corner of triangle " + counted(i + 1) + " is not a number", "export the file again");
    }
  }
  return raw;
}

// ---- text ----------------------------------------------------------------------------------------------------------

bool blank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f';
}

bool same_word(std::string_view word, std::string_view lower) {
  return word.size() == lower.size() && lowered(word) == lower;
}

class TextReader {
 public:
  TextReader(std::string_view text, const std::string& file, std::size_t most) : text_(text), file_(file), most_(most) {}

  Result<Raw> all() {
    for (std::string_view word = next(); !word.empty(); word = next()) {
      if (!same_word(word, "solid")) return unexpected(word, "solid");
      const std::string_view name = rest_of_line();
      if (raw_.name.empty()) raw_.name = printable(name.substr(0, 200));
      if (auto done = solid(); !done) return done.failure();
    }
    return std::move(raw_);
  }

 private:
  std::string_view next() {
    while (at_ < text_.size() && blank(text_[at_])) line_ += text_[at_++] == '\n';
    const std::size_t from = at_;
    while (at_ < text_.size() && !blank(text_[at_])) ++at_;
    return text_.substr(from, at_ - from);
  }

  std::string_view rest_of_line() {
    const std::size_t from = at_, end = std::min(text_.find('\n', from), text_.size());
    at_ = end;
    return trimmed(text_.substr(from, end - from));
  }

  Failure unexpected(std::string_view word, std::string_view wanted) const {
    if (word.empty())
      return fail_at(file_, line_, "exchange.truncated", "the file ends where '" + std::string(wanted) + "' should stand", "export or copy it again");
    return fail_at(file_, line_, "exchange.syntax", in_quotes(word) + " stands where '" + std::string(wanted) + "' should stand",
                   "export the file again", word);
  }

  Result<Done> expect(std::initializer_list<std::string_view> words) {
    for (std::string_view wanted : words) {
      if (const std::string_view word = next(); !same_word(word, wanted)) return unexpected(word, wanted);
    }
    return Done{};
  }

  Result<Done> solid() {
    for (;;) {
      const std::string_view word = next();
      if (same_word(word, "endsolid")) {
        rest_of_line();
        return Done{};
      }
      if (!same_word(word, "facet")) return unexpected(word, "facet");
      if (raw_.normals.size() == most_) return too_many(file_, most_);
      if (auto done = facet(); !done) return done;
    }
  }

  Result<Done> facet() {
    if (auto done = expect({"normal"}); !done) return done;
    Vector normal{};
    for (double& v : normal) {
      const std::string_view word = next();
      if (word.empty() || same_word(word, "outer")) return unexpected(word, "a number");
      v = parse_number(word).value_or(std::nan(""));
    }
    raw_.normals.push_back(normal);
    if (auto done = expect({"outer", "loop"}); !done) return done;
    for (int corner = 0; corner < 3; ++corner) {
      if (auto done = vertex(); !done) return done;
    }
    return expect({"endloop", "endfacet"});
  }

  Result<Done> vertex() {
    if (auto done = expect({"vertex"}); !done) return done;
    Vector p{};
    for (double& v : p) {
      const std::string_view word = next();
      if (word.empty()) return unexpected(word, "a number");
      const auto number = parse_number(word);
      if (!number) return fail_at(file_, line_, "exchange.number", in_quotes(word) + " is not a number", "export the file again", word);
      v = *number;
    }
    raw_.points.push_back(p);
    return Done{};
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t most_, at_ = 0;
  int line_ = 1;
  Raw raw_;
};

Result<Raw> read_raw(std::string_view bytes, const std::string& file, std::size_t most) {
  if (has_binary_size(bytes)) return read_binary(bytes, file, most);
  std::string_view text = bytes;
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  // a binary header may begin with 'solid', but the text of a solid has no zero bytes
  const bool like_text = same_word(text.substr(0, 5), "solid") && bytes.substr(0, kCounted).find('\0') == std::string_view::npos;
  if (like_text) return TextReader(bytes, file, most).all();
  if (bytes.size() >= kCounted) return read_binary(bytes, file, most);
  if (bytes.empty()) return fail_at(file, 0, "exchange.empty", "the file is empty", "export it again");
  return fail_at(file, 0, "exchange.not-stl", "this is no STL file: it neither begins with 'solid' nor has a binary header of 84 bytes",
                 "export the piece as STL");
}

// ---- placing -------------------------------------------------------------------------------------------------------

Failure no_unit(const std::string& file, const std::vector<Vector>& points) {
  Vector low = points[0], high = points[0];
  for (const Vector& p : points) {
    for (std::size_t k = 0; k < 3; ++k) low[k] = std::min(low[k], p[k]), high[k] = std::max(high[k], p[k]);
  }
  const auto size = [&](double unit) {
    std::string text;
    for (std::size_t k = 0; k < 3; ++k) text += (k == 0 ? "" : " x ") + format_number(unit * (high[k] - low[k]), 1);
    return text + " mm";
  };
  return fail_at(file, 0, "exchange.no-unit",
                 "an STL file does not say in which unit it is drawn: in millimetres this one is " + size(1) + ", in inches " + size(kInch),
                 "say which: mm, cm, m, in or ft");
}

Result<Done> sound(const std::string& file, const StlOptions& options) {
  const auto refuse = [&](const char* what) { return fail_at(file, 0, "exchange.options", what, "give a value within these limits"); };
  if (options.weld != 0 && !(options.weld >= 1e-6 && options.weld <= 1))
    return refuse("points can be joined that stand 0 or 0.000001 to 1 mm apart");
  if (options.most_triangles > kMostEver) return refuse("at most 20,000,000 triangles can be read");
  for (double v : options.placing.shift) {
    if (!(std::fabs(v) <= kFarthest)) return refuse("a mesh can be shifted by at most 100 m");
  }
  return Done{};
}

bool far(const Vector& p) {
  return !(std::fabs(p[0]) <= kFarthest && std::fabs(p[1]) <= kFarthest && std::fabs(p[2]) <= kFarthest);
}

Result<Done> place(Raw& raw, const std::string& file, const StlOptions& options) {
  const double unit = millimetres(*options.unit);
  Placing turn = options.placing;
  turn.shift = {0, 0, 0};
  for (Vector& p : raw.points) {
    for (double& v : p) v *= unit;
    const bool drawn_far = far(p);
    p = options.placing.at(p);
    if (drawn_far || far(p))
      return fail_at(file, 0, "exchange.too-far", "a corner stands farther than 100 m from the axis", "check the unit and the shift");
  }
  for (Vector& n : raw.normals) n = turn.at(n);
  return Done{};
}

// ---- what was found ------------------------------------------------------------------------------------------------

bool contradicts(const Raw& raw, std::size_t i) {
  const Vector &a = raw.points[3 * i], &b = raw.points[3 * i + 1], &c = raw.points[3 * i + 2], &n = raw.normals[i];
  const Vector p{b[0] - a[0], b[1] - a[1], b[2] - a[2]}, q{c[0] - a[0], c[1] - a[1], c[2] - a[2]};
  const Vector m{p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
  const double along = m[0] * n[0] + m[1] * n[1] + m[2] * n[2];
  const double sizes = std::hypot(m[0], m[1], m[2]) * std::hypot(n[0], n[1], n[2]);
  return finite(n) && along < -1e-3 * sizes;  // slivers and rounded normals may look a little past
}

void add(Survey& survey, Fault fault, std::size_t count, const Vector& first) {
  auto it = std::find_if(survey.defects.begin(), survey.defects.end(), [&](const Defect& d) { return d.fault >= fault; });
  if (it == survey.defects.end() || it->fault != fault) it = survey.defects.insert(it, {fault, 0, first});
  it->count += count;
}

bool collapsed(const Corners& t) {
  return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
}

Stl finished(Raw raw, double tolerance) {
  Stl stl;
  stl.name = std::move(raw.name);
  stl.binary = raw.binary;
  stl.mesh = weld(raw.points, tolerance);
  const std::size_t all = stl.mesh.triangles.size();
  std::size_t wrong = 0, first_wrong = 0, gone = 0, first_gone = 0;
  for (std::size_t i = 0; i < all; ++i) {
    if (contradicts(raw, i) && wrong++ == 0) first_wrong = i;
    if (collapsed(stl.mesh.triangles[i]) && gone++ == 0) first_gone = i;
  }
  const Vector wrong_at = wrong > 0 ? middle_of(stl.mesh, stl.mesh.triangles[first_wrong]) : Vector{};
  const Vector gone_at = gone > 0 ? middle_of(stl.mesh, stl.mesh.triangles[first_gone]) : Vector{};
  raw = {};
  std::erase_if(stl.mesh.triangles, collapsed);
  stl.survey = survey(stl.mesh);
  if (gone > 0) add(stl.survey, Fault::thin_triangle, gone, gone_at);
  if (wrong > 0) add(stl.survey, Fault::normal, wrong, wrong_at);
  return stl;
}

}  // namespace

Vector Placing::at(const Vector& p) const {
  Vector q = along == Axis::x ? p : along == Axis::y ? Vector{p[1], p[2], p[0]} : Vector{p[2], p[0], p[1]};
  if (end_for_end) q = {-q[0], -q[1], q[2]};
  for (int k = (quarters % 4 + 4) % 4; k > 0; --k) q = {q[0], -q[2], q[1]};
  return {q[0] + shift[0], q[1] + shift[1], q[2] + shift[2]};
}

Result<Stl> read_stl(std::string_view bytes, const std::string& file, const StlOptions& options) {
  if (auto done = sound(file, options); !done) return done.failure();
  auto raw = read_raw(bytes, file, options.most_triangles);
  if (!raw) return raw.failure();
  if (raw->normals.empty()) return fail_at(file, 0, "exchange.empty", "the file has no triangles", "export the piece again");
  if (!options.unit) return no_unit(file, raw->points);
  if (auto done = place(raw.value(), file, options); !done) return done.failure();
  Stl stl = finished(std::move(raw.value()), options.weld);
  if (stl.mesh.triangles.empty())
    return fail_at(file, 0, "exchange.empty", "no triangle of the file is larger than the distance at which points are joined", "check the unit");
  return stl;
}

}  // namespace pommel::exchange
