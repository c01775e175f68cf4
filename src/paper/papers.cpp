#include "paper/papers.h"

#include "paper/canvas.h"
#include "paper/drawing.h"
#include "paper/piece.h"
#include "paper/pictures.h"

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

  std::vector<StandingSubject> frames;
  if (two) frames.push_back({"as catalogued", job.catalogue.made.frame, job.catalogue.made.set});
  frames.push_back({two ? "as ordered" : "as catalogued", job.order.made.frame, job.order.made.set});
  auto standing = standing_picture(title_of(job), frames, lengths);
  if (!standing.ok()) return standing.failure();
  files.push_back({"pictures/standing.png", std::move(standing).value()});
  return files;
}

// Documents that are pages, one after the other; stops at the first that cannot be painted.
class Pages {
 public:
  explicit Pages(const Heading& heading) : heading_(heading) {}

  Result<Done> add(const std::string& name, const std::string& title, const std::vector<Page>& pages) {
    auto bytes = pdf(pages, {title, heading_.date});
    if (!bytes.ok()) return bytes.failure();
    files.push_back({name, std::move(bytes).value()});
    return Done{};
  }

  std::vector<job::File> files;

 private:
  const Heading& heading_;
};

Result<std::vector<job::File>> write_documents(const job::Job& job) {
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  const Heading heading = heading_of(job);
  Pages pages(heading);
  for (const Piece& piece : pieces_of(job))
    if (const auto done = pages.add("drawings/" + piece.file + ".pdf", piece.label, shop_drawing(piece, heading)); !done.ok()) return done.failure();
  return std::move(pages.files);
}

class All : public job::Papers {
 public:
  Result<std::vector<job::File>> write(const job::Job& job) const override {
    auto files = write_pictures(job);
    if (!files.ok()) return files;
    auto documents = write_documents(job);
    if (!documents.ok()) return documents;
    for (job::File& file : *documents) files->push_back(std::move(file));
    return files;
  }
};

}  // namespace

std::unique_ptr<job::Papers> papers() { return std::make_unique<All>(); }

Result<std::vector<job::File>> contact_sheet(const std::vector<DesignPicture>& designs) {
  if (designs.empty()) return fail("paper.nothing", "there are no designs to show", "is this the right catalog?");
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  auto picture = designs_picture(designs);
  if (!picture.ok()) return picture.failure();
  return std::vector<job::File>{{"designs.png", std::move(picture).value()}};
}

}  // namespace pommel::paper
