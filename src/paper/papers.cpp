#include "paper/papers.h"

#include <algorithm>
#include <optional>

#include "base/number.h"
#include "paper/bench.h"
#include "paper/canvas.h"
#include "paper/drawing.h"
#include "paper/full_scale.h"
#include "paper/money.h"
#include "paper/piece.h"
#include "paper/pictures.h"
#include "paper/plan_pages.h"
#include "paper/rail_drawing.h"
#include "paper/workbook.h"

namespace pommel::paper {
namespace {

LegSubject subject_of(const job::Column& column, std::size_t piece, const std::string& heading) {
  const auto& made = column.made.pieces[piece];
  return paper::subject_of(made.part, made.wanted.square, column.made.set, piece, heading);
}

std::string title_of(const job::Job& job) {
  if (!job.loaded.order) return job.loaded.design.name;
  return job.loaded.order->name + ", order " + job.loaded.order->number;
}

std::string surface_name(const job::Job& job, std::size_t turning) {
  return "pictures/" + job::turning_name(job, turning) + "-surface.png";
}

// What the check of a turning's program saw of the surface.
SurfaceSheet surface_of(const job::Job& job, std::size_t turning) {
  const proof::Proof& proof = job.programs[turning].front().proof;
  const family::MadePiece& piece = job.order.made.pieces[job.order.piece_of_turning(turning)];
  SurfaceSheet sheet{title_of(job), "the surface that programs/" + job::programs_in_words(job, turning) + (job.programs[turning].size() > 1 ? " leave" : " leaves") + ", unrolled: as the check of its text found it, on the blank as planned",
                     proof.map.x0, proof.map.x1, piece.part.length, proof.map.rows, proof.map.columns, proof.map.deviation,
                     proof.settings.gouge_limit, proof.settings.cusp, proof.settings.hand_work_from, piece.part.elements, {}, job.sheet.settings().lengths};
  const auto mark = [&](const proof::Spot& spot, const char* what) {
    if (spot.amount > 0.0005) sheet.spots.push_back({spot.x, spot.degrees, std::string(what) + ", " + format_number(spot.amount, 3) + " mm"});
  };
  mark(proof.gouge, "deepest");
  mark(proof.leftover, "most left");
  return sheet;
}

Result<std::vector<job::File>> write_pictures(const job::Job& job) {
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  const LengthFormat& lengths = job.sheet.settings().lengths;
  const bool two = job.sheet.column_count() > 1;

  std::vector<job::File> files;
  for (std::size_t i = 0; i < job.order.made.pieces.size(); ++i) {
    const frame::WantedPiece& piece = job.order.made.pieces[i].wanted;
    const LegSubject subject = subject_of(job.order, i, two ? "as ordered" : "as catalogued");
    LegSheet sheet{title_of(job), piece.label + " of the design '" + job.loaded.design.name + "', seen on " + (subject.leg.mortises.empty() ? "face A" : "a face that a rail meets"), subject, std::nullopt, lengths};
    // an order may ask for other pieces than the catalogue
    for (std::size_t k = 0; two && k < job.catalogue.made.pieces.size(); ++k)
      if (job.catalogue.made.pieces[k].wanted.id == piece.id) sheet.catalogued = subject_of(job.catalogue, k, "as catalogued");
    auto picture = leg_picture(sheet);
    if (!picture.ok()) return picture.failure();
    files.push_back({"pictures/" + piece.id + ".png", std::move(picture->png)});
    files.push_back({"pictures/" + piece.id + ".svg", std::move(picture->svg)});
  }

  for (std::size_t i = 0; i < job.programs.size(); ++i) {
    const SurfaceSheet sheet = surface_of(job, i);
    if (sheet.deviation.empty()) continue;
    auto picture = surface_picture(sheet);
    if (!picture.ok()) return picture.failure();
    files.push_back({surface_name(job, i), std::move(picture).value()});
  }

  std::vector<StandingSubject> frames;
  if (two) frames.push_back({"as catalogued", job.catalogue.made.frame, job.catalogue.made.set});
  frames.push_back({two ? "as ordered" : "as catalogued", job.order.made.frame, job.order.made.set});
  auto standing = standing_picture(title_of(job), frames, lengths);
  if (!standing.ok()) return standing.failure();
  files.push_back({"pictures/standing.png", std::move(standing).value()});
  return files;
}

// The documents of a job, one after the other. After the first that cannot be written nothing more is tried.
class Documents {
 public:
  Documents(const job::Job& job, const std::vector<job::PricedVariant>& beside, const std::vector<job::File>& pictures) : job_(job), heading_(heading_of(job)), pictures_(pictures) {
    heading_.beside = beside;
  }

  Result<std::vector<job::File>> write() {
    for (const Piece& piece : pieces_of(job_)) {
      pages("drawings/" + piece.file + ".pdf", piece.label, shop_drawing(piece, heading_));
      file("drawings/" + piece.file + ".dxf", dxf_text(piece_dxf(piece)));
      std::vector<Page> all;
      for (const Template& one : templates_of(piece, heading_))
        for (Page& page : tiled(one.page, heading_, one.title)) all.push_back(std::move(page));
      if (!all.empty()) pages("full-scale/" + piece.file + "-templates.pdf", piece.label + ", templates", all);
    }
    if (const std::vector<Page> rails = rail_drawings(job_, heading_); !rails.empty()) pages("drawings/straight-pieces.pdf", "Straight pieces", rails);
    for (const family::MadePiece& made : job_.order.made.pieces) story_sticks(made);
    for (std::size_t i = 0; i < job_.programs.size(); ++i)
      for (std::size_t file = 0; file < job_.programs[i].size(); ++file)
        set_up(job::program_name(job_, i, file), setup_pages(job_, i, file, heading_, file + 1 == job_.programs[i].size() ? surface_of_check(i) : ""));
    for (std::size_t i = 0; i < job_.joint_programs.size(); ++i)
      for (std::size_t file = 0; file < job_.joint_programs[i].size(); ++file) set_up(job::joint_program_name(job_, i, file), joint_setup_pages(job_, i, file, heading_));
    pages("labels.pdf", "Labels", label_pages(job_, heading_));
    money();
    if (failure_) return *failure_;
    return std::move(files_);
  }

 private:
  void set_up(const std::string& program, const std::vector<Page>& all) { pages("programs/" + program + ".setup.pdf", "Set-up of " + program, all); }

  std::string surface_of_check(std::size_t turning) const {
    const auto found = std::find_if(pictures_.begin(), pictures_.end(), [&](const job::File& one) { return one.name == surface_name(job_, turning); });
    return found == pictures_.end() ? "" : found->bytes;
  }

  void story_sticks(const family::MadePiece& made) {
    const std::string name = "full-scale/" + made.wanted.id + "-story-stick", title = "Story stick, " + made.wanted.label;
    const Page stick = story_stick(made.part, title, heading_);
    pages(name + ".pdf", title, tiled(stick, heading_, title));
    pages(name + "-one-page.pdf", title, {scaled(stick, kScaleBar / heading_.bar_measures)});
    file(name + ".dxf", dxf_text(stick_dxf(made.part)));
    const std::string profile = "Profile, " + made.wanted.label;
    pages("full-scale/" + made.wanted.id + "-profile.pdf", profile, tiled(profile_template(made.part, heading_), heading_, profile));
  }

  void money() {
    const auto picture = standing_picture(heading_.title, {{"as ordered", job_.order.made.frame, job_.order.made.set}}, heading_.lengths);
    if (!picture.ok()) {
      failure_ = picture.failure();
      return;
    }
    pages("quote.pdf", "Quote", quote_pages(job_, heading_, *picture));
    pages("cost-sheet.pdf", "Cost sheet", cost_pages(job_, heading_));
    pages("cut-list.pdf", "Cut list", cut_list_pages(job_, heading_));
    if (!job_.order.cuts.plans.empty()) pages("cutting-plan.pdf", "Cutting plan", plan_pages(job_.order.cuts.plans, heading_));
    add("cut-list.xlsx", cut_list_workbook(job_, heading_));
    add("cost-sheet.xlsx", cost_workbook(job_, heading_));
  }

  void file(const std::string& name, std::string bytes) { files_.push_back({name, std::move(bytes)}); }
  void add(const std::string& name, Result<std::string> bytes) {
    if (failure_) return;
    if (bytes.ok()) file(name, std::move(bytes).value());
    else failure_ = bytes.failure();
  }
  void pages(const std::string& name, const std::string& title, const std::vector<Page>& all) {
    if (!failure_) add(name, pdf(all, {title + ", " + heading_.title, heading_.date}));
  }

  const job::Job& job_;
  Heading heading_;
  const std::vector<job::File>& pictures_;
  std::vector<job::File> files_;
  std::optional<Failure> failure_;
};

Result<std::vector<job::File>> write_documents(const job::Job& job, const std::vector<job::PricedVariant>& beside, const std::vector<job::File>& pictures) {
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  return Documents(job, beside, pictures).write();
}

class All : public job::Papers {
 public:
  explicit All(std::vector<job::PricedVariant> beside) : beside_(std::move(beside)) {}

  Result<std::vector<job::File>> write(const job::Job& job) const override {
    auto files = write_pictures(job);
    if (!files.ok()) return files;
    auto documents = write_documents(job, beside_, *files);
    if (!documents.ok()) return documents;
    for (job::File& file : *documents) files->push_back(std::move(file));
    return files;
  }

  bool say_more() const override { return !beside_.empty(); }

 private:
  std::vector<job::PricedVariant> beside_;
};

}  // namespace

std::unique_ptr<job::Papers> papers(std::vector<job::PricedVariant> beside) { return std::make_unique<All>(std::move(beside)); }

Result<std::vector<job::File>> contact_sheet(const std::vector<DesignPicture>& designs) {
  if (designs.empty()) return fail("paper.nothing", "there are no designs to show", "is this the right catalog?");
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  auto picture = designs_picture(designs);
  if (!picture.ok()) return picture.failure();
  return std::vector<job::File>{{"designs.png", std::move(picture).value()}};
}

}  // namespace pommel::paper
