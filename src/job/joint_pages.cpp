#include "job/joint_pages.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "job/show.h"

namespace pommel::job {
namespace {

const JointWork* work_of(const Job& job, std::size_t kind) {
  const auto found = std::find_if(job.order.joints.begin(), job.order.joints.end(), [&](const JointWork& work) { return work.kind == kind; });
  return found == job.order.joints.end() ? nullptr : &*found;
}

const frame::Kind& kind_of(const Job& job, const JointWork& work) { return job.order.made.set.jointed_kinds[work.kind]; }

const family::MadePiece& piece_of(const Job& job, const JointWork& work) { return job.order.made.pieces[job.order.piece_of_turning(work.turning)]; }

std::string pieces(std::size_t count) { return std::to_string(count) + (count == 1 ? " piece" : " pieces"); }

// The figures of the check that pages state.
std::string checked(const proof::Proof& proof) {
  int cut = 0;
  for (const proof::JointCheck& joint : proof.joints) cut += joint.touched ? 1 : 0;
  return "checked from its own text: " + std::to_string(cut) + (cut == 1 ? " pocket" : " pockets") + " true to size within " +
         format_number(proof.settings.gouge_limit, 3) + " mm, nothing else touched, no wood met at rapid";
}

// "with the 8 mm flat: the haunch of the mortise 'front' and the mortise 'front'": what one program cuts, a line a cutter.
std::vector<std::string> cuts_of(const JointWork& work, std::size_t files, std::size_t file) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < work.cutters.size(); ++i) {
    if (files > 1 && i != file) continue;
    std::vector<std::string> pockets;
    for (const mill::JointCut& cut : work.plan.cuts)
      if (cut.cutter == work.cutters[i].id) pockets.push_back(cut.pocket);
    out.push_back("with the " + work.cutters[i].label + ": " + listed(pockets));
  }
  return out;
}

// What holds for all programs of joints is said with the first of them.
bool first_on_machine(const Job& job, std::size_t i) {
  return std::none_of(job.order.joints.begin(), job.order.joints.begin() + static_cast<std::ptrdiff_t>(i), [](const JointWork& work) { return work.on_machine(); });
}

std::string face_of(const shape::Part& part, const std::string& joint) {
  double phi = 0;
  for (const shape::Mortise& m : part.mortises)
    if (m.id == joint) phi = m.phi;
  for (const shape::Bore& b : part.bores)
    if (b.id == joint) phi = b.phi;
  return std::string(1, static_cast<char>('A' + static_cast<int>(std::lround(phi / (std::numbers::pi / 2))) % 4));
}

// Faces are lettered as the piece lies on the machine, which need not be how the frame counts them.
std::string turned_from_frame(const Job& job, const JointWork& work) {
  if (work.quarters == 0) return {};
  const char a_of_frame = "ABCD"[work.quarters];
  return "faces here are as the piece was turned; what the joints of " + kind_of(job, work).members.front() + " call face A lies at face " + std::string(1, a_of_frame);
}

}  // namespace

std::vector<JointLine> joint_lines(const shape::Part& part, double square, const LengthFormat& lengths) {
  std::vector<JointLine> lines;
  for (const shape::Mortise& mortise : part.mortises) lines.push_back({"mortise", mortise.id, mortise_text(mortise, square, lengths)});
  for (const shape::Bore& bore : part.bores) lines.push_back({"bore", bore.id, bore_text(bore, square, lengths)});
  for (const shape::AxialBore& bore : part.axial_bores) lines.push_back({"bore", bore.id, axial_bore_text(bore, lengths)});
  for (const shape::EndCut& cut : part.end_cuts) lines.push_back({"end cut", cut.at_head ? "head" : "foot", end_cut_text(cut, part.length, square, lengths)});
  return lines;
}

std::string joint_way(const Job& job, std::size_t kind, const std::string& joint) {
  const JointWork* work = work_of(job, kind);
  if (!work) return "at the bench";
  const Diagnostic* why = work->left_because(joint);
  if (!why) return "milled";
  return why->id == "job.joints-bench" ? "at the bench" : "at the bench, see Programs";
}

std::vector<std::string> joint_program_lines(const Job& job, std::size_t i) {
  const JointWork& work = job.order.joints[i];
  const frame::Kind& kind = kind_of(job, work);
  std::vector<std::string> out;
  const std::size_t files = i < job.joint_programs.size() ? job.joint_programs[i].size() : 0;
  for (std::size_t file = 0; file < files; ++file) {
    out.push_back("programs/" + joint_program_name(job, i, file) + ": joints of " + listed(kind.members) + ", " + pieces(kind.members.size()) +
                  (file == 0 ? ", " + format_number(work.plan.minutes, 1) + " min each" + (files > 1 ? " with all files and without changes of cutter" : "") : "") +
                  ", in the set-up of " + programs_in_words(job, work.turning) + " after it");
    for (std::string& line : cuts_of(work, files, file)) out.push_back(std::move(line));
    out.push_back(checked(job.joint_programs[i][file].proof));
  }
  if (files > 0 && first_on_machine(job, i))
    for (const Diagnostic& note : work.plan.notes)
      if (note.id == "mill.joint-order" || note.id == "mill.joint-no-brake") out.push_back(note.message + (note.remedy.empty() ? "" : ": " + note.remedy));
  std::vector<std::string> said;
  for (const mill::BenchJoint& left : work.plan.bench) {
    const std::string text = left.why.message + (left.why.remedy.empty() ? "" : ": " + left.why.remedy);
    if (std::find(said.begin(), said.end(), text) != said.end()) continue;
    said.push_back(text);
    out.push_back((files == 0 ? piece_name(job.order, work.kind) + ": " : "") + text);
  }
  return out;
}

void add_joints_after(const Job& job, std::size_t turning, program::SetupSheet& sheet) {
  for (std::size_t i = 0; i < job.order.joints.size(); ++i) {
    const JointWork& work = job.order.joints[i];
    if (work.turning != turning) continue;
    const std::vector<std::string>& members = kind_of(job, work).members;
    if (work.on_machine()) {
      sheet.waste_goes = "when turning and joints are done";
      std::vector<std::string> names;
      for (std::size_t file = 0; file < program_count(work, job.order.requests[turning].machine); ++file) names.push_back(joint_program_name(job, i, file));
      sheet.order_of_work.push_back("then, on the same centres, for " + listed(members) + ": " + listed(names));
    }
    for (const JointLine& line : joint_lines(work.jointed, piece_of(job, work).wanted.square, job.sheet.settings().lengths))
      if (!work.cuts(line.id)) sheet.bench.push_back(line.what + ", " + listed(members) + ": " + line.text);
  }
}

std::string how_to_sum() { return "the header's own sum: grep -v '^(note: check' FILE | sha256sum"; }

std::string joint_setup_text(const Job& job, std::size_t i, std::size_t file) {
  const JointWork& work = job.order.joints[i];
  const TurningRequest& request = job.order.requests[work.turning];
  const Program& program = job.joint_programs[i][file];
  const frame::Kind& kind = kind_of(job, work);
  const std::size_t files = job.joint_programs[i].size();
  program::SetupSheet sheet = set_up_of(job, work.turning);
  sheet.program = joint_program_name(job, i, file);
  sheet.piece = piece_of(job, work).wanted.label + ", joints";
  sheet.pieces = std::to_string(kind.members.size()) + ": " + listed(kind.members);
  for (std::size_t k = 0; k < work.cutters.size(); ++k) {
    if (files > 1 && k != file) continue;
    const shop::Cutter& cutter = work.cutters[k];
    if (sheet.rpm > 0) sheet.further.push_back({cutter.label, cutter.diameter, cutter.shank_length, work.plan.paths[k].rpm});
    else sheet.cutter = cutter.label, sheet.cutter_diameter = cutter.diameter, sheet.stick_out = cutter.shank_length, sheet.rpm = work.plan.paths[k].rpm;
  }
  sheet.blank = "the piece that " + programs_in_words(job, work.turning) + " has turned, still on its centres; " + sheet.blank;
  sheet.waste_goes = "when the joints are cut";
  sheet.clear_height = work.clear_height;
  sheet.minutes = files == 1 ? work.plan.minutes : 0;
  sheet.stages = joint_stages(work, request.machine, file, program.text);
  if (sheet.minutes <= 0)
    for (const program::StageTime& stage : sheet.stages) sheet.minutes += stage.minutes;
  if (files > 1) sheet.order_of_work.push_back("file " + std::to_string(file + 1) + " of " + std::to_string(files) + ", one a cutter, in their order");
  if (const std::string turned = turned_from_frame(job, work); !turned.empty()) sheet.order_of_work.push_back(turned);
  for (const Diagnostic& note : work.plan.notes)
    if (note.id == "mill.joint-order" || note.id == "mill.joint-no-brake") sheet.order_of_work.push_back(note.message + (note.remedy.empty() ? "" : ": " + note.remedy));
  const LengthFormat& lengths = job.sheet.settings().lengths;
  for (const JointLine& line : joint_lines(work.jointed, piece_of(job, work).wanted.square, lengths))
    if (!work.cuts(line.id)) sheet.bench.push_back(line.what + ": " + line.text);
  for (const Diagnostic& note : work.plan.notes)
    if (note.id == "mill.joint-chisel") sheet.bench.push_back(note.message + ": " + note.remedy);
  std::vector<std::string> said;  // a haunch goes with its mortise
  for (const proof::JointCheck& joint : program.proof.joints)
    if (joint.touched && std::find(said.begin(), said.end(), joint.id) == said.end()) {
      said.push_back(joint.id);
      sheet.checked.push_back("'" + joint.id + "', face " + face_of(work.jointed, joint.id) + ": to size within " + format_number(program.proof.settings.gouge_limit, 3) + " mm" +
                              (joint.corners > 0 ? ", corners left round" : ""));
    }
  sheet.checked.push_back("nothing outside the joints is touched; no wood at rapid, at shank, nut or holder");
  sheet.checked.push_back("sha256 of the checked text: " + program.proof.text_sha256);
  sheet.checked.push_back(how_to_sum());
  for (const proof::Finding& finding : program.proof.findings) sheet.warnings.push_back(finding.message);
  return program::setup_text(sheet, request.machine, lengths);
}

}  // namespace pommel::job
