#include "paper/papers.h"

#include <algorithm>

#include "paper/canvas.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

// The leg that stands for its column: the first jointed piece, as its frame has it.
LegSubject leg_of(const job::Column& column, const std::string& heading) {
  LegSubject subject{heading, column.made.leg, column.made.set.rails, column.made.table.square};
  for (const frame::Member& member : column.made.set.members)
    if (!member.spare) {
      subject.leg = member.part;
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

  LegSheet sheet{title_of(job), "leg of the design '" + job.loaded.design.name + "', seen on a face that a rail meets", leg_of(job.order, two ? "as ordered" : "as catalogued"), std::nullopt, lengths};
  if (two) sheet.catalogued = leg_of(job.catalogue, "as catalogued");
  auto leg = leg_picture(sheet);
  if (!leg.ok()) return leg.failure();

  std::vector<StandingSubject> tables;
  if (two) tables.push_back({"as catalogued", job.catalogue.made.table, job.catalogue.made.set});
  tables.push_back({two ? "as ordered" : "as catalogued", job.order.made.table, job.order.made.set});
  auto standing = standing_picture(title_of(job), tables, lengths);
  if (!standing.ok()) return standing.failure();
  return std::vector<job::File>{{"pictures/leg.png", std::move(leg->png)}, {"pictures/leg.svg", std::move(leg->svg)}, {"pictures/standing.png", std::move(standing).value()}};
}

class Pictures : public job::Papers {
 public:
  Result<std::vector<job::File>> write(const job::Job& job) const override { return write_pictures(job); }
};

}  // namespace

std::unique_ptr<job::Papers> papers() { return std::make_unique<Pictures>(); }

Result<std::vector<job::File>> contact_sheet(const std::vector<DesignPicture>& designs, const LengthFormat& lengths) {
  if (designs.empty()) return fail("paper.nothing", "there are no designs to show", "is this the right catalog?");
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  auto picture = designs_picture(designs, lengths);
  if (!picture.ok()) return picture.failure();
  return std::vector<job::File>{{"designs.png", std::move(picture).value()}};
}

}  // namespace pommel::paper
