// Parts turned, mirrored, compared and written out as text.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "shape/angle.h"
#include "shape/part.h"

namespace pommel::shape {
namespace {

// Numbers of one kind of text: rounded for the key, exact for the dump.
struct Writer {
  bool exact = false;
  std::string length(double mm) const { return exact ? format_exact(mm) : format_number(mm, 6); }
  std::string direction(double angle) const {
    if (exact) return format_exact(angle);
    std::string rounded = format_number(angle, 9);
    return rounded == format_number(kTurn, 9) ? "0" : rounded;  // a hair below a whole turn
  }
};

std::string profile_text(const Writer& w, const Profile& profile) {
  std::string text;
  for (const Piece& p : profile.pieces) {
    std::string ends = w.length(p.x0) + " " + w.length(p.r0) + " " + w.length(p.x1) + " " + w.length(p.r1);
    switch (p.kind) {
      case Piece::Kind::line:
        text += "  line " + ends;
        break;
      case Piece::Kind::arc:
        text += "  arc " + ends + " about " + w.length(p.cx) + " " + w.length(p.cr) + " radius " + w.length(p.rho) +
                (p.bulge > 0 ? " bulging" : " hollow");
        break;
      case Piece::Kind::cubic:
        // the coefficients follow from the ends and the slopes there
        text += "  cubic " + ends + " slopes " + w.length(p.c[1]) + " " + w.length(p.slope(p.x1));
        break;
      case Piece::Kind::clear:
        text += "  clear " + w.length(p.x0) + " " + w.length(p.x1);
        break;
    }
    if (w.exact) text += " of " + std::to_string(p.element);
    text += '\n';
  }
  return text;
}

std::string mortise_text(const Writer& w, const Mortise& m) {
  std::string text = "mortise " + w.direction(m.phi);
  for (double number : {m.x0, m.x1, m.t0, m.t1, m.depth, m.corner_radius}) text += " " + w.length(number);
  bool haunch = m.haunch_length > 0 && m.haunch_depth > 0;
  if (haunch || w.exact) text += " haunch " + w.length(m.haunch_length) + " " + w.length(m.haunch_depth);
  if (w.exact) text += " id '" + m.id + "' mate '" + m.mate + "'";
  return text + "\n";
}

std::string sorted_text(std::vector<std::string> lines) {
  std::sort(lines.begin(), lines.end());
  std::string text;
  for (const std::string& line : lines) text += line;
  return text;
}

std::string key_of(const Part& part, bool with_joints) {
  Writer w;
  std::vector<std::string> faces, mortises;
  for (const Face& face : part.faces) faces.push_back("face " + w.direction(face.phi) + "\n" + profile_text(w, face.d));
  if (with_joints) {
    for (const Mortise& m : part.mortises) mortises.push_back(mortise_text(w, m));
  }
  return "length " + w.length(part.length) + "\noutline\n" + profile_text(w, part.outline) +
         sorted_text(std::move(faces)) + sorted_text(std::move(mortises));
}

}  // namespace

Part turned_by(const Part& part, int quarters) {
  Part turned = part;
  if (quarters % 4 == 0) return turned;
  for (Face& face : turned.faces) face.phi = turned_direction(face.phi, quarters % 4);
  for (Mortise& m : turned.mortises) m.phi = turned_direction(m.phi, quarters % 4);
  return turned;
}

Part mirrored(const Part& part) {
  Part image = part;
  for (Face& face : image.faces) face.phi = turned_direction(-face.phi, 0);
  for (Mortise& m : image.mortises) {
    m.phi = turned_direction(-m.phi, 0);
    double t0 = m.t0;
    m.t0 = -m.t1;
    m.t1 = -t0;
  }
  return image;
}

std::string canonical_text(const Part& part, bool with_joints) {
  std::string least = key_of(part, with_joints);
  for (int quarters = 1; quarters < 4; ++quarters)
    least = std::min(least, key_of(turned_by(part, quarters), with_joints));
  return least;
}

std::string dump(const Part& part) {
  Writer w{true};
  std::string text =
      "part '" + part.name + "' length " + w.length(part.length) + "\noutline\n" + profile_text(w, part.outline);
  for (const Face& face : part.faces) text += "face " + w.direction(face.phi) + "\n" + profile_text(w, face.d);
  for (std::size_t i = 0; i < part.elements.size(); ++i) {
    const ElementMark& e = part.elements[i];
    text += "element " + std::to_string(i) + " " + e.kind + " '" + e.label + "' " + w.length(e.x0) + " to " +
            w.length(e.x1) + (e.shared ? " shared" : " fixed") + " diameters " + w.length(e.d_start) + " " +
            w.length(e.d_end) + " least " + w.length(e.d_least) + " greatest " + w.length(e.d_greatest) + "\n";
  }
  for (const Mortise& m : part.mortises) text += mortise_text(w, m);
  return text;
}

}  // namespace pommel::shape
