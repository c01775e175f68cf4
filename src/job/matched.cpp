#include "job/matched.h"

#include <algorithm>
#include <cmath>

#include "base/names.h"
#include "base/text.h"
#include "family/family.h"
#include "shop/read.h"

namespace pommel::job {
namespace {

constexpr std::size_t kMostDesign = 1u << 20;  // bytes, as for any house file

shop::Shop shop_of(const FileSystem& files, const designs::House& house, Sink& sink) {
  return shop::read_shop(files, house.catalog / "shop", sink, [](const auto&, const auto&) {});
}

/// Boards that give the square: of the thinnest thickness that does, the cheapest. Empty where none do: then the family's own stand, and are told of.
std::string stock_for(double square, const shop::Shop& shop) {
  const auto gives = [](const shop::Stock& s) { return s.thickness - s.milling; };
  const shop::Stock* thinnest = nullptr;
  for (const auto& [id, board] : shop.boards) {
    if (gives(board) >= square && (!thinnest || gives(board) < gives(*thinnest))) thinnest = &board;
  }
  std::string best;
  for (const auto& [id, board] : shop.boards) {
    if (gives(board) < square || board.nominal != thinnest->nominal) continue;
    if (best.empty() || board.price_per_board_foot < shop.boards.at(best).price_per_board_foot) best = id;
  }
  return best;
}

/// The text is read as any design is, and the part made of it: the turned outline as the sheet's first column has it, of its pieces (head post and foot
/// post, balusters of a tread) the one that is nearest in length to what was measured.
Result<shape::Profile> outline_of(const FileSystem& files, const designs::House& house, const std::string& text, const std::filesystem::path& file, double length) {
  Sink sink;
  const auto entry = designs::read_entry(files, house, text, file, sink);
  if (sink.has_errors() || !entry) return Failure(sink.all());
  const auto shop = shop_of(files, house, sink);
  const auto sheet = family::make_sheet(entry->family, entry->design, nullptr, shop, {}, sink);
  if (sink.has_errors()) return Failure(sink.all());
  const auto made = family::make(entry->family, entry->design, sheet, family::kCatalogue, shop, {});
  if (!made.ok()) return Failure(made.reasons());
  const auto off = [&](const family::MadePiece& piece) { return std::fabs(piece.part.length - length); };
  const auto nearest = std::min_element(made->pieces.begin(), made->pieces.end(), [&](const auto& a, const auto& b) { return off(a) < off(b); });
  return nearest->part.outline;
}

/// What the family says against the design that was made of the readings.
Failure not_made(const std::string& family, const std::vector<Diagnostic>& reasons) {
  std::vector<Diagnostic> all = fail("match.not-made", "what was recognised cannot be made as a " + designs::family_in_words(family) + " as it stands, and no design was written",
                                     "choose another family (--for of the command, the box beside the name in the window), or see to what follows in readings and notes").reasons;
  all.insert(all.end(), reasons.begin(), reasons.end());
  return Failure(std::move(all));
}

/// Where the design may be written.
Result<std::filesystem::path> place_for(const FileSystem& files, const designs::House& house, const KeepAs& as) {
  const std::string name = as.name + ".yaml";
  std::string why;
  if (!is_safe_file_name(name, &why)) return fail("job.match-name", in_quotes(as.name) + " cannot be a file's name: " + why, "choose another name");
  const std::filesystem::path file = (as.into.empty() ? house.catalog / "designs" : as.into) / name;
  if (files.exists(file) && !as.replace) return fail("files.exists", in_quotes(file.generic_string()) + " is there already", "choose another name, or have it replaced: --replace of the command, the tick in the window");
  if (const auto same = one_file_with(files.list(file.parent_path()), name); same && *same != name)
    return fail("files.exists", in_quotes(*same) + " is there, which is one file with " + in_quotes(name) + " on some systems", "choose another name");
  return file;
}

}  // namespace

Result<KeptMatch> keep_matched(FileSystem& files, const designs::House& house, const match::Recognition& found, const KeepAs& as) {
  const auto file = place_for(files, house, as);
  if (!file.ok()) return file.failure();
  Sink sink;
  designs::MatchedNames names{as.name, as.source, {}, as.family, stock_for(designs::matched_square(found), shop_of(files, house, sink))};
  if (sink.has_errors()) return Failure(sink.all());
  names.lengths.unit = as.unit;
  const auto choice = as.family.empty() ? designs::family_for(found) : Result<designs::FamilyChoice>(designs::FamilyChoice{as.family, "you say so"});
  if (!choice.ok()) return choice.failure();
  const auto text = designs::matched_design(found, names);
  if (!text.ok()) return text.failure();
  const auto outline = outline_of(files, house, *text, *file, found.length);
  if (!outline.ok()) return not_made(choice->family, outline.reasons());
  if (const auto written = files.write(*file, *text); !written.ok()) return written.failure();
  return KeptMatch{*file, *choice, match::compared(*outline, found)};
}

Result<match::Comparison> held_against(const FileSystem& files, const designs::House& house, const std::filesystem::path& design, const MatchRead& read) {
  const auto text = files.read(design, kMostDesign);
  if (!text.ok()) return text.failure();
  const double head = read.wishes.head.value_or(0);
  double foot = head;
  for (const match::Measure& m : read.measures) foot = std::max(foot, m.x);
  const auto outline = outline_of(files, house, *text, design, read.wishes.foot.value_or(foot) - head);
  if (!outline.ok()) return outline.failure();
  return match::compared(*outline, read.measures, head);
}

}  // namespace pommel::job
