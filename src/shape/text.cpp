// Parts turned, mirrored, compared and written out as text.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "shape/angle.h"
#include "shape/mortise.h"
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

// An angle that only counts modulo `period`.
std::string periodic(const Writer& w, double angle, double period) {
  double rest = std::fmod(angle, period);
  if (rest < 0) rest += period;
  std::string text = w.direction(rest);
  return text == w.direction(period) ? "0" : text;
}

std::string flute_text(const Writer& w, const Flute& flute) {
  return "flute " + w.direction(flute.theta) + " radius " + w.length(flute.radius) + "\n" + profile_text(w, flute.centre);
}

std::string reeding_text(const Writer& w, const Reeding& reeding) {
  std::string phase = w.exact ? w.direction(reeding.phase) : periodic(w, reeding.phase, kTurn / std::max(1, reeding.count));
  return "reeds " + std::to_string(reeding.count) + " from " + phase + " radius " + w.length(reeding.radius) + "\n" +
         profile_text(w, reeding.centre);
}

std::string twist_text(const Writer& w, const Twist& twist) {
  std::string phase = w.exact ? w.direction(twist.phase) : periodic(w, twist.phase, kTurn / std::max(1, twist.starts));
  std::string text = "twist " + std::to_string(twist.starts) + " from " + phase;
  for (double number : {twist.x0, twist.x1, twist.pitch, twist.depth, twist.fade0, twist.fade1}) text += " " + w.length(number);
  return text + "\n";
}

// A plain hole right through is the same hole from the other side; it is written from the side that comes first in the alphabet.
std::string bore_text(const Writer& w, const Part& part, const Bore& b) {
  auto from = [&](double phi, double t, const std::string& depth) {
    return "bore " + w.direction(phi) + " " + w.length(b.x) + " " + w.length(t == 0 ? 0 : t) + " diameter " + w.length(b.diameter) + " depth " + depth;
  };
  std::string text = from(b.phi, b.t, w.length(b.depth));
  bool seated = b.seat_diameter > 0 && b.seat_depth > 0;
  if (!w.exact && goes_through(part, b)) {
    text = from(b.phi, b.t, "through");
    if (!seated) text = std::min(text, from(turned_direction(b.phi, 2), -b.t, "through"));
  }
  if (seated || w.exact) text += " seat " + w.length(b.seat_diameter) + " " + w.length(b.seat_depth);
  if (w.exact) text += " id '" + b.id + "' mate '" + b.mate + "'";
  return text + "\n";
}

std::string axial_text(const Writer& w, const AxialBore& b) {
  std::string text = "axial bore " + w.length(b.x0) + " " + w.length(b.x1) + " diameter " + w.length(b.diameter);
  return text + (w.exact ? " id '" + b.id + "'\n" : "\n");
}

// Leaning by a towards phi is leaning by -a away from it; a square cut has no direction.
std::string end_text(const Writer& w, const EndCut& cut) {
  double angle = cut.angle, phi = cut.phi;
  if (!w.exact) {
    if (angle < 0) {
      angle = -angle;
      phi = turned_direction(phi, 2);
    }
    if (angle == 0) phi = 0;
  }
  return std::string("end cut at the ") + (cut.at_head ? "head" : "foot") + " " + w.length(cut.x) + " angle " + w.direction(angle) + " towards " +
         w.direction(phi) + "\n";
}

std::string sorted_text(std::vector<std::string> lines) {
  std::sort(lines.begin(), lines.end());
  std::string text;
  for (const std::string& line : lines) text += line;
  return text;
}

std::string key_of(const Part& part, bool with_joints) {
  Writer w;
  std::vector<std::string> faces, treatments, joints;
  for (const Face& face : part.faces) faces.push_back("face " + w.direction(face.phi) + "\n" + profile_text(w, face.d));
  for (const Flute& flute : part.flutes) treatments.push_back(flute_text(w, flute));
  for (const Reeding& reeding : part.reedings) treatments.push_back(reeding_text(w, reeding));
  for (const Twist& twist : part.twists) treatments.push_back(twist_text(w, twist));
  if (with_joints) {
    for (const Mortise& m : part.mortises) joints.push_back(mortise_text(w, m));
    for (const Bore& bore : part.bores) joints.push_back(bore_text(w, part, bore));
    for (const AxialBore& bore : part.axial_bores) joints.push_back(axial_text(w, bore));
    for (const EndCut& cut : part.end_cuts) joints.push_back(end_text(w, cut));
  }
  return "length " + w.length(part.length) + "\noutline\n" + profile_text(w, part.outline) +
         sorted_text(std::move(faces)) + sorted_text(std::move(treatments)) + sorted_text(std::move(joints));
}

}  // namespace

Part turned_by(const Part& part, int quarters) {
  Part turned = part;
  if (quarters % 4 == 0) return turned;
  for (Face& face : turned.faces) face.phi = turned_direction(face.phi, quarters % 4);
  for (Flute& flute : turned.flutes) flute.theta = turned_direction(flute.theta, quarters % 4);
  for (Reeding& reeding : turned.reedings) reeding.phase = turned_direction(reeding.phase, quarters % 4);
  for (Twist& twist : turned.twists) twist.phase = turned_direction(twist.phase, quarters % 4);
  for (Mortise& m : turned.mortises) m.phi = turned_direction(m.phi, quarters % 4);
  for (Bore& bore : turned.bores) bore.phi = turned_direction(bore.phi, quarters % 4);
  for (EndCut& cut : turned.end_cuts) cut.phi = turned_direction(cut.phi, quarters % 4);
  return turned;
}

Part mirrored(const Part& part) {
  Part image = part;
  for (Face& face : image.faces) face.phi = turned_direction(-face.phi, 0);
  for (Flute& flute : image.flutes) flute.theta = turned_direction(-flute.theta, 0);
  for (Reeding& reeding : image.reedings) reeding.phase = turned_direction(-reeding.phase, 0);
  for (Twist& twist : image.twists) {
    twist.phase = turned_direction(-twist.phase, 0);
    twist.pitch = -twist.pitch;
  }
  for (Bore& bore : image.bores) {
    bore.phi = turned_direction(-bore.phi, 0);
    bore.t = -bore.t;
  }
  for (EndCut& cut : image.end_cuts) cut.phi = turned_direction(-cut.phi, 0);
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
  for (const Flute& flute : part.flutes) text += flute_text(w, flute);
  for (const Reeding& reeding : part.reedings) text += reeding_text(w, reeding);
  for (const Twist& twist : part.twists) text += twist_text(w, twist);
  for (const Mortise& m : part.mortises) text += mortise_text(w, m);
  for (const Bore& bore : part.bores) text += bore_text(w, part, bore);
  for (const AxialBore& bore : part.axial_bores) text += axial_text(w, bore);
  for (const EndCut& cut : part.end_cuts) text += end_text(w, cut);
  return text;
}

}  // namespace pommel::shape
