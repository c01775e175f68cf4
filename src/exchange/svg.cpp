#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "exchange/drawing.h"

namespace pommel::exchange {
namespace {

constexpr double kMostChords = 20000;  // of one curve

/// x' = a x + c y + e, y' = b x + d y + f.
struct Map {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
  Dot at(double x, double y) const { return {a * x + c * y + e, b * x + d * y + f}; }
  /// No length grows by more.
  double growth() const { return std::hypot(std::hypot(a, b), std::hypot(c, d)); }
  Map then_inner(const Map& m) const {
    return {a * m.a + c * m.b, b * m.a + d * m.b, a * m.c + c * m.d, b * m.c + d * m.d, a * m.e + c * m.f + e, b * m.e + d * m.f + f};
  }
};

/// Numbers and letters of path data.
class Scan {
 public:
  explicit Scan(std::string_view text) : text_(text) {}
  void skip() {
    while (at_ < text_.size() && (std::string_view(" \t\r\n,").find(text_[at_]) != std::string_view::npos)) ++at_;
  }
  bool done() { skip(); return at_ >= text_.size(); }
  std::optional<char> letter() {
    skip();
    if (at_ < text_.size() && ((text_[at_] >= 'a' && text_[at_] <= 'z') || (text_[at_] >= 'A' && text_[at_] <= 'Z'))) return text_[at_++];
    return std::nullopt;
  }
  std::optional<double> number() {
    skip();
    std::size_t end = at_;
    bool point = false, exponent = false;
    if (end < text_.size() && (text_[end] == '-' || text_[end] == '+')) ++end;
    for (; end < text_.size(); ++end) {
      const char ch = text_[end];
      if (ch >= '0' && ch <= '9') continue;
      if (ch == '.' && !point && !exponent) { point = true; continue; }
      if ((ch == 'e' || ch == 'E') && !exponent && end > at_) {
        exponent = true;
        if (end + 1 < text_.size() && (text_[end + 1] == '-' || text_[end + 1] == '+')) ++end;
        continue;
      }
      break;
    }
    std::string said(text_.substr(at_, end - at_));
    if (said.starts_with("+")) said.erase(0, 1);
    if (said.starts_with(".")) said.insert(0, "0");
    if (said.starts_with("-.")) said.insert(1, "0");
    if (said.ends_with(".")) said += "0";
    const auto v = parse_number(said);
    if (v) at_ = end;
    return v && std::fabs(*v) < 1e9 ? v : std::nullopt;
  }
  /// What is not read yet, as far as a message wants it.
  std::string rest() {
    skip();
    return std::string(text_.substr(at_, 20));
  }
  /// A flag of an arc may stand without a blank before the next number.
  std::optional<double> flag() {
    skip();
    if (at_ < text_.size() && (text_[at_] == '0' || text_[at_] == '1')) return text_[at_++] - '0';
    return std::nullopt;
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

/// Follows path data; false where it makes no sense.
class PathReader {
 public:
  /// `room`: how many dots the drawing may still take.
  PathReader(std::string_view data, const Map& map, std::size_t room, std::vector<Path>& out) : scan_(data), map_(map), room_(room), out_(out) {}

  bool read() {
    char command = 0;
    while (!scan_.done()) {
      begun_ = scan_.rest();
      if (const auto l = scan_.letter()) command = *l;
      else if (command == 0 || command == 'Z' || command == 'z') return false;
      if (last_ == 0 && command != 'M' && command != 'm') return false;
      if (!step(command) || dots_ > room_) return false;
      if (command == 'M') command = 'L';
      if (command == 'm') command = 'l';
    }
    finish(false);
    return true;
  }

  /// Where read() gave up.
  const std::string& begun() const { return begun_; }
  std::size_t dots() const { return dots_; }

 private:
  void finish(bool closed) {
    if (now_.dots.size() >= 2) now_.closed = closed, out_.push_back(now_);
    now_ = {};
  }
  void put(double x, double y) {
    if (now_.dots.empty()) now_.dots.push_back(map_.at(x_, y_));
    now_.dots.push_back(map_.at(x, y));
    ++dots_;
  }
  void go(double x, double y) { x_ = x, y_ = y; }

  bool numbers(std::size_t n, bool relative) {
    for (std::size_t i = 0; i < n; ++i) {
      const auto v = scan_.number();
      if (!v) return false;
      v_[i] = *v + (relative ? (i % 2 == 0 ? x_ : y_) : 0);
    }
    return true;
  }

  /// Chords of equal steps, so many that none lies farther than kSag off a curve whose second derivative over all of it is at most `bend`: a chord over a
  /// step h lies h² bend / 8 off (the error of linear interpolation).
  int chords(double bend) const { return static_cast<int>(std::clamp(std::ceil(std::sqrt(bend * map_.growth() / (8 * kSag))), 1.0, kMostChords)); }

  void cubic(double x1, double y1, double x2, double y2, double x, double y) {
    const double x0 = x_, y0 = y_;
    // the second derivative runs straight between six times these
    const int n = chords(6 * std::max(std::hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), std::hypot(x1 - 2 * x2 + x, y1 - 2 * y2 + y)));
    for (int i = 1; i <= n; ++i) {
      const double t = static_cast<double>(i) / n, u = 1 - t;
      put(u * u * u * x0 + 3 * u * u * t * x1 + 3 * u * t * t * x2 + t * t * t * x, u * u * u * y0 + 3 * u * u * t * y1 + 3 * u * t * t * y2 + t * t * t * y);
    }
    go(x, y);
    hx_ = x2, hy_ = y2;
  }

  bool step(char command) {
    const bool relative = command >= 'a';
    const char c = static_cast<char>(relative ? command - 32 : command);
    const bool smooth = (c == 'S' && (last_ == 'C' || last_ == 'S')) || (c == 'T' && (last_ == 'Q' || last_ == 'T'));
    const double rx = smooth ? 2 * x_ - hx_ : x_, ry = smooth ? 2 * y_ - hy_ : y_;
    last_ = c;
    switch (c) {
      case 'M':
        if (!numbers(2, relative)) return false;
        finish(false);
        go(v_[0], v_[1]);
        sx_ = x_, sy_ = y_;
        return true;
      case 'L':
        if (!numbers(2, relative)) return false;
        put(v_[0], v_[1]);
        go(v_[0], v_[1]);
        return true;
      case 'H':
      case 'V': {
        const auto v = scan_.number();
        if (!v) return false;
        const double x = c == 'H' ? *v + (relative ? x_ : 0) : x_, y = c == 'V' ? *v + (relative ? y_ : 0) : y_;
        put(x, y);
        go(x, y);
        return true;
      }
      case 'C':
        if (!numbers(6, relative)) return false;
        cubic(v_[0], v_[1], v_[2], v_[3], v_[4], v_[5]);
        return true;
      case 'S':
        if (!numbers(4, relative)) return false;
        cubic(rx, ry, v_[0], v_[1], v_[2], v_[3]);
        return true;
      case 'Q':
      case 'T': {
        if (!numbers(c == 'Q' ? 4 : 2, relative)) return false;
        const double qx = c == 'Q' ? v_[0] : rx, qy = c == 'Q' ? v_[1] : ry, x = c == 'Q' ? v_[2] : v_[0], y = c == 'Q' ? v_[3] : v_[1];
        cubic(x_ + 2 * (qx - x_) / 3, y_ + 2 * (qy - y_) / 3, x + 2 * (qx - x) / 3, y + 2 * (qy - y) / 3, x, y);
        hx_ = qx, hy_ = qy;
        return true;
      }
      case 'A': return arc(relative);
      case 'Z':
        go(sx_, sy_);
        finish(true);
        return true;
      default: return false;
    }
  }

  // SVG 1.1, appendix F.6: from two ends and radii to the centre.
  bool arc(bool relative) {
    const auto prx = scan_.number(), pry = scan_.number(), turn = scan_.number(), large = scan_.flag(), sweep = scan_.flag(), ex = scan_.number(), ey = scan_.number();
    if (!prx || !pry || !turn || !large || !sweep || !ex || !ey) return false;
    const double x = *ex + (relative ? x_ : 0), y = *ey + (relative ? y_ : 0), phi = *turn * std::numbers::pi / 180;
    double rx = std::fabs(*prx), ry = std::fabs(*pry);
    if (rx == 0 || ry == 0) { put(x, y); go(x, y); return true; }
    const double dx = (x_ - x) / 2, dy = (y_ - y) / 2, px = std::cos(phi) * dx + std::sin(phi) * dy, py = -std::sin(phi) * dx + std::cos(phi) * dy;
    const double over = px * px / (rx * rx) + py * py / (ry * ry);
    if (over == 0) return true;
    if (over > 1) rx *= std::sqrt(over), ry *= std::sqrt(over);
    const double num = rx * rx * ry * ry - rx * rx * py * py - ry * ry * px * px, den = rx * rx * py * py + ry * ry * px * px;
    const double k = (*large == *sweep ? -1 : 1) * std::sqrt(std::max(0.0, num / den)), cpx = k * rx * py / ry, cpy = -k * ry * px / rx;
    const double cx = std::cos(phi) * cpx - std::sin(phi) * cpy + (x_ + x) / 2, cy = std::sin(phi) * cpx + std::cos(phi) * cpy + (y_ + y) / 2;
    const double a0 = std::atan2((py - cpy) / ry, (px - cpx) / rx);
    double a = std::atan2((-py - cpy) / ry, (-px - cpx) / rx) - a0;
    if (*sweep > 0 && a < 0) a += 2 * std::numbers::pi;
    if (*sweep == 0 && a > 0) a -= 2 * std::numbers::pi;
    const int n = chords(a * a * std::max(rx, ry));
    for (int i = 1; i <= n; ++i) {
      const double t = a0 + a * i / n, ux = rx * std::cos(t), uy = ry * std::sin(t);
      if (i < n) put(cx + std::cos(phi) * ux - std::sin(phi) * uy, cy + std::sin(phi) * ux + std::cos(phi) * uy);
      else put(x, y);
    }
    go(x, y);
    return true;
  }

  Scan scan_;
  Map map_;
  std::size_t room_, dots_ = 0;
  std::vector<Path>& out_;
  Path now_;
  std::array<double, 6> v_{};
  double x_ = 0, y_ = 0, sx_ = 0, sy_ = 0, hx_ = 0, hy_ = 0;
  char last_ = 0;
  std::string begun_;
};

class Reader {
 public:
  Reader(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  Result<Drawing> read() {
    std::vector<Map> maps{{1, 0, 0, -1, 0, 0}};  // y up
    bool svg = false, ended = false;
    for (std::size_t at = text_.find('<'); at != std::string_view::npos; at = text_.find('<', at)) {
      if (text_.substr(at, 4) == "<!--") {
        at = text_.find("-->", at);
        if (at == std::string_view::npos) return failure("svg.truncated", "a remark does not end: the file was cut off", text_.size());
        continue;
      }
      const std::size_t end = text_.find('>', at);
      if (end == std::string_view::npos) return failure("svg.truncated", "a tag does not end: the file was cut off", at);
      const std::string_view tag = text_.substr(at + 1, end - at - 1);
      const std::string name(tag.substr(0, tag.find_first_of(" \t\r\n/>")));
      if (tag.starts_with("/")) {
        if (tag.starts_with("/g") && maps.size() > 1) maps.pop_back();
        ended = ended || tag.starts_with("/svg");
      } else if (name == "svg") {
        svg = true;
        ended = ended || tag.ends_with("/");
        take_unit(tag);
      } else if (!tag.starts_with("?") && !tag.starts_with("!")) {
        const auto own = transform(value(tag, "transform"));
        if (!own) return failure("svg.transform", "a transform is not understood: " + in_quotes(value(tag, "transform")), at);
        const Map map = maps.back().then_inner(*own);
        if (name == "g" && !tag.ends_with("/")) maps.push_back(map);
        const bool understood = shape(name, tag, map);
        if (dots_ > kMostDots) return too_many_dots({file_, line_of(at), 1});
        if (!understood) return failure(name == "path" ? "svg.path" : "svg.number", "this " + name + " is not understood: " + why_, at);
      }
      at = end;
    }
    if (!svg) return failure("svg.not-svg", "there is no svg in the file", 0);
    if (!ended) return failure("svg.truncated", "the svg does not end: the file was cut off", text_.size());
    return std::move(out_);
  }

 private:
  Failure failure(std::string id, std::string message, std::size_t at) const {
    const bool cut = id == "svg.truncated";
    return fail(std::move(id), std::move(message), cut ? "write or copy it again" : "draw the outline as paths, and save it as plain SVG", {file_, line_of(at), 1});
  }
  int line_of(std::size_t at) const { return 1 + static_cast<int>(std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(at), '\n')); }

  static std::string_view value(std::string_view tag, std::string_view key) {
    for (std::size_t at = tag.find(key); at != std::string_view::npos; at = tag.find(key, at + 1)) {
      if (at == 0 || std::string_view(" \t\r\n").find(tag[at - 1]) == std::string_view::npos) continue;
      std::string_view rest = trimmed(tag.substr(at + key.size()));
      if (!rest.starts_with("=")) continue;
      rest = trimmed(rest.substr(1));
      if (rest.empty() || (rest[0] != '"' && rest[0] != '\'')) continue;
      const std::size_t end = rest.find(rest[0], 1);
      return end == std::string_view::npos ? std::string_view() : rest.substr(1, end - 1);
    }
    return {};
  }

  void take_unit(std::string_view tag) {
    const std::string width = lowered(trimmed(value(tag, "width")));
    for (const auto& [word, unit] : std::map<std::string, LengthUnit>{{"mm", LengthUnit::millimetre}, {"cm", LengthUnit::centimetre}, {"in", LengthUnit::inch}}) {
      if (!width.ends_with(word)) continue;
      const auto w = parse_number(width.substr(0, width.size() - 2));
      const auto box = numbers(value(tag, "viewBox"));
      if (!w || box.size() != 4 || !(box[2] > 0)) continue;
      scale_ = *w * millimetres(unit) / box[2];
      out_.unit = LengthUnit::millimetre;
    }
  }

  static std::vector<double> numbers(std::string_view text) {
    Scan scan(text);
    std::vector<double> all;
    while (const auto v = scan.number()) all.push_back(*v);
    return all;
  }

  static std::optional<Map> transform(std::string_view text) {
    Map whole;
    while (!(text = trimmed(text)).empty()) {
      const std::size_t open = text.find('('), close = text.find(')');
      if (open == std::string_view::npos || close == std::string_view::npos || close < open) return std::nullopt;
      const std::string_view word = trimmed(text.substr(0, open));
      const auto v = numbers(text.substr(open + 1, close - open - 1));
      Map m;
      if (word == "matrix" && v.size() == 6) m = {v[0], v[1], v[2], v[3], v[4], v[5]};
      else if (word == "translate" && !v.empty()) m.e = v[0], m.f = v.size() > 1 ? v[1] : 0;
      else if (word == "scale" && !v.empty()) m.a = v[0], m.d = v.size() > 1 ? v[1] : v[0];
      else if (word == "rotate" && !v.empty()) {
        const double t = v[0] * std::numbers::pi / 180, x = v.size() > 2 ? v[1] : 0, y = v.size() > 2 ? v[2] : 0;
        m = {std::cos(t), std::sin(t), -std::sin(t), std::cos(t), x - x * std::cos(t) + y * std::sin(t), y - x * std::sin(t) - y * std::cos(t)};
      } else return std::nullopt;
      whole = whole.then_inner(m);
      text = text.substr(close + 1);
      if (text.starts_with(",")) text.remove_prefix(1);
    }
    return whole;
  }

  /// Numbers without a unit. One that is not said is 0 (SVG 1.1, 9.2 to 9.5); one that is not understood is told.
  double number(std::string_view tag, std::string_view key) {
    const std::string_view said = trimmed(value(tag, key));
    const auto v = parse_number(said);
    if (!v && !said.empty()) why_ = std::string(key) + " is " + in_quotes(said);
    return v.value_or(0);
  }

  bool shape(const std::string& name, std::string_view tag, const Map& map) {
    const std::size_t before = out_.paths.size();
    why_.clear();
    if (name == "path") {
      PathReader reader(value(tag, "d"), map, kMostDots - dots_, out_.paths);
      const bool read = reader.read();
      dots_ += reader.dots();
      if (!read) return why_ = "from " + in_quotes(reader.begun()) + " on", false;
    } else if (name == "polyline" || name == "polygon") {
      Scan scan(value(tag, "points"));
      std::vector<double> v;
      while (const auto number = scan.number()) v.push_back(*number);
      if (!scan.done() || v.size() % 2 != 0) return why_ = scan.done() ? "a place has no second number" : "from " + in_quotes(scan.rest()) + " on", false;
      Path p;
      for (std::size_t i = 0; i + 1 < v.size(); i += 2) p.dots.push_back(map.at(v[i], v[i + 1]));
      p.closed = name == "polygon";
      dots_ += p.dots.size();
      if (p.dots.size() >= 2) out_.paths.push_back(std::move(p));
    } else if (name == "line") {
      out_.paths.push_back({{map.at(number(tag, "x1"), number(tag, "y1")), map.at(number(tag, "x2"), number(tag, "y2"))}, false});
    } else if (name == "rect") {
      const double x = number(tag, "x"), y = number(tag, "y"), w = number(tag, "width"), h = number(tag, "height");
      if (w < 0 || h < 0) why_ = "its width or height is below 0";
      if (w > 0 && h > 0) out_.paths.push_back({{map.at(x, y), map.at(x + w, y), map.at(x + w, y + h), map.at(x, y + h)}, true});
    } else if (name == "text" || name == "image" || name == "use" || name == "circle" || name == "ellipse") {
      out_.passed_over.push_back(name);
    }
    if (!why_.empty()) return false;
    for (std::size_t i = before; i < out_.paths.size(); ++i) {
      for (Dot& d : out_.paths[i].dots) d[0] *= scale_, d[1] *= scale_;
    }
    return true;
  }

  std::string_view text_;
  std::string file_;
  double scale_ = 1;
  std::size_t dots_ = 0;  // of paths and polylines, which alone have more than a few
  std::string why_;  // a shape is not understood
  Drawing out_;
};

}  // namespace

Result<Drawing> read_svg(std::string_view text, const std::string& file, std::optional<LengthUnit> unit) {
  auto drawing = Reader(text, file).read();
  if (!drawing.ok()) return drawing;
  if (drawing->unit) unit.reset();  // what the file says of its size is the unit; its numbers are pixels
  return in_millimetres(std::move(drawing).value(), unit, file);
}

}  // namespace pommel::exchange
