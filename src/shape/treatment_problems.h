// What is wrong with treatments and with joints other than mortises. Inside shape/ only: problems() and the builders ask.
#pragma once

#include <string>
#include <vector>

#include "shape/part.h"

namespace pommel::shape {

/// REQUIRES: the part's length, outline and faces are sound. Centre lines are judged by `profile_problems`.
void check_flute(const Part& part, const Flute& flute, std::vector<Diagnostic>& found);
void check_reeding(const Part& part, const Reeding& reeding, std::vector<Diagnostic>& found);
void check_twist(const Part& part, const Twist& twist, std::vector<Diagnostic>& found);
/// All flutes, reeds and twists, and twists against one another.
void check_treatments(const Part& part, std::vector<Diagnostic>& found);
/// Bores, axial bores and end cuts. REQUIRES: treatments are sound.
void check_other_joints(const Part& part, std::vector<Diagnostic>& found);

/// A profile's own invariants, as problems() says them; `named` as "the outline".
void check_profile(const Part& part, const Profile& profile, const std::string& named, std::vector<Diagnostic>& found);
/// "face A", else "the face at 30 degrees".
std::string face_name(double phi);
/// As `fail`, appended.
void report(std::vector<Diagnostic>& found, const std::string& id, std::string message, std::string remedy = {});
std::string mm_text(double value);

}  // namespace pommel::shape
