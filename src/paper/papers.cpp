#include "paper/papers.h"

#include <algorithm>
#include <cmath>

#include "paper/canvas.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

// A rail that meets posts of two heights hangs from each by another drop; boards of a panel count as one.
void from_this_head(const frame::Member& member, std::vector<frame::Rail>& rails) {
  for (frame::Rail& rail : rails) {
    rail.depth *= rail.quantity;
    const double drop = member.stand.head.z - rail.start.z - rail.depth / 2;
    if (std::fabs(drop - rail.drop) > 1e-6) rail.drop = drop;
  }
}

// The piece as it stands for its column: the first that is jointed, as its frame has it.
LegSubject subject_of(const job::Column& column, std::size_t piece, const std::string& heading) {
  LegSubject subject{heading, column.made.pieces[piece].part, column.made.set.rails, column.made.pieces[piece].wanted.square};
  for (const frame::Member& member : column.made.set.members)
    if (!member.spare && member.piece == piece) {
      subject.leg = member.part;
      from_this_head(member, subject.rails);
      break;
    }
  return subject;
}

std::string title_of(const job::Job& job) {
  if (!job.loaded.order) return job.loaded.design.name;
  return job.loaded.order->name + ", order " + job.loaded.order->number;
}

Result<std::vector<job::File>> write_pictures(const job::Job& job) {
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  const LengthFormat& lengths = job.sheet.settings().lengths;
  const bool two = job.sheet.column_count() > 1;

  std::vector<job::File> files;
  for (std::size_t i = 0; i < job.order.made.pieces.size(); ++i) {
    const frame::WantedPiece& piece = job.order.made.pieces[i].wanted;
    LegSheet sheet{title_of(job), piece.label + " of the design '" + job.loaded.design.name + "', seen on a face that a rail meets", subject_of(job.order, i, two ? "as ordered" : "as catalogued"), std::nullopt, lengths};
    // an order may ask for other pieces than the catalogue
    for (std::size_t k = 0; two && k < job.catalogue.made.pieces.size(); ++k)
      if (job.catalogue.made.pieces[k].wanted.id == piece.id) sheet.catalogued = subject_of(job.catalogue, k, "as catalogued");
    auto picture = leg_picture(sheet);
    if (!picture.ok()) return picture.failure();
    files.push_back({"pictures/" + piece.id + ".png", std::move(picture->png)});
    files.push_back({"pictures/" + piece.id + ".svg", std::move(picture->svg)});
  }

  std::vector<StandingSubject> frames;
  if (two) frames.push_back({"as catalogued", job.catalogue.made.frame, job.catalogue.made.set});
  frames.push_back({two ? "as ordered" : "as catalogued", job.order.made.frame, job.order.made.set});
  auto standing = standing_picture(title_of(job), frames, lengths);
  if (!standing.ok()) return standing.failure();
  files.push_back({"pictures/standing.png", std::move(standing).value()});
  return files;
}

class Pictures : public job::Papers {
 public:
  Result<std::vector<job::File>> write(const job::Job& job) const override { return write_pictures(job); }
};

}  // namespace

std::unique_ptr<job::Papers> papers() { return std::make_unique<Pictures>(); }

Result<std::vector<job::File>> contact_sheet(const std::vector<DesignPicture>& designs) {
  if (designs.empty()) return fail("paper.nothing", "there are no designs to show", "is this the right catalog?");
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  auto picture = designs_picture(designs);
  if (!picture.ok()) return picture.failure();
  return std::vector<job::File>{{"designs.png", std::move(picture).value()}};
}

}  // namespace pommel::paper
