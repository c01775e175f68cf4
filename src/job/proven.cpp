#include "job/proven.h"

#include "job/show.h"

namespace pommel::job {
namespace {

Diagnostic warning(const designs::Proven& range, std::string id, std::string message, std::string remedy) {
  Diagnostic out;
  out.severity = Severity::warning;
  out.id = std::move(id);
  out.message = std::move(message);
  out.remedy = std::move(remedy);
  out.place = range.place;
  return out;
}

}  // namespace

std::vector<Diagnostic> beyond_proven(const designs::Card& card, const sheet::Sheet& sheet, std::size_t column) {
  std::vector<Diagnostic> out;
  for (const designs::Proven& range : card.proven) {
    const sheet::Value* value = sheet.value(range.measure, column);
    const auto least = value ? size_of(range.least, value->kind()) : std::nullopt, greatest = value ? size_of(range.greatest, value->kind()) : std::nullopt;
    if (!least || !greatest || *greatest < *least) {
      out.push_back(warning(range, "job.proven", "'" + range.measure + "' from " + range.least + " to " + range.greatest + " is no range of a measure", "name a measure of the sheet, the smaller size first"));
    } else if (value->number() < *least || value->number() > *greatest) {
      out.push_back(warning(range, "job.beyond-proven", range.measure + " is " + shown(sheet, range.measure, column) + ": the design is proven from " + range.least + " to " + range.greatest,
                            "look at the piece and its figures as at a new design"));
    }
  }
  return out;
}

}  // namespace pommel::job
