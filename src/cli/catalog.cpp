// pommel catalog
#include "cli/catalog_questions.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "job/catalog.h"
#include "job/text.h"
#ifdef POMMEL_WITH_PAPER
#include "paper/papers.h"
#endif

namespace pommel::cli {
namespace {

struct Row {
  std::string id;
  family::Design design;
  designs::Card card;
  std::vector<family::MadePiece> pieces;
  double thinnest = 0;
  std::string frame;  ///< "table 740 mm high"
};

// A design that cannot be made is a problem of the catalog: it is told, and the others are listed all the same.
std::optional<Row> row_of(const job::CatalogTrials& trials, const std::string& id, Sink& sink) {
  constexpr auto without_boards = [](const job::Trial&) { return false; };
  job::Trial trial = trials.run(id, {}, without_boards);
  if (!trial.made) {
    sink.add(trial.problems);
    return std::nullopt;
  }
  return Row{id, std::move(trial.design), std::move(trial.card), std::move(trial.made->made.pieces), trial.made->thinnest_diameter, frame::said_shortly(trial.made->made.frame, {})};
}

std::string card_text(const designs::Card& card) {
  std::string out;
  if (card.id != card.file) out += "  id " + card.id + "\n";
  if (!card.tags.empty()) out += job::wrapped("tags: " + joined(card.tags, ", "), "  ", "    ");
  for (const designs::Proven& range : card.proven) out += job::wrapped("proven: " + range.measure + " from " + range.least + " to " + range.greatest, "  ", "    ");
  if (!card.pictures.empty()) out += job::wrapped("pictures: " + joined(card.pictures, ", "), "  ", "    ");
  if (!card.revisions.empty())
    out += job::wrapped("last changed " + card.revisions.back().date + ": " + card.revisions.back().what + ", " + card.revisions.back().why, "  ", "    ");
  return out;
}

nlohmann::ordered_json card_json(const designs::Card& card) {
  nlohmann::ordered_json out = {{"id", card.id}, {"tags", card.tags}, {"pictures", card.pictures}, {"proven", nlohmann::ordered_json::object()}, {"revisions", nlohmann::ordered_json::array()}};
  for (const designs::Proven& range : card.proven) out["proven"][range.measure] = {range.least, range.greatest};
  for (const designs::Revision& one : card.revisions) out["revisions"].push_back({{"revision", one.number}, {"date", one.date}, {"what", one.what}, {"why", one.why}});
  return out;
}

std::string text_of(const std::vector<Row>& rows) {
  std::string out;
  const LengthFormat lengths;
  for (const Row& row : rows) {
    out += row.id + "\n" + job::wrapped(row.design.about, "  ", "  ");
    out += "  ";
    for (const family::MadePiece& piece : row.pieces) out += piece.wanted.label + " " + format_length(piece.part.length, lengths) + ", ";
    out += "square " + format_length(row.pieces.front().wanted.square, lengths) + ", thinnest " + format_length(row.thinnest, lengths) + ", " +
           std::to_string(row.pieces.front().part.elements.size()) + " elements, revision " + std::to_string(row.design.revision) + "\n" + card_text(row.card) + "\n";
  }
  return out;
}

std::string json_of(const std::vector<Row>& rows) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const Row& row : rows) {
    nlohmann::ordered_json one = {{"id", row.id}, {"name", row.design.name}, {"family", row.design.family}, {"revision", row.design.revision}, {"about", row.design.about},
                                  {"thinnest_why", row.design.thinnest}, {"card", card_json(row.card)}};
    for (const family::MadePiece& piece : row.pieces) {
      std::string key = piece.wanted.id;
      std::replace(key.begin(), key.end(), '-', '_');
      one[key + "_length"] = piece.part.length;
    }
    one["square"] = row.pieces.front().wanted.square;
    one["thinnest_diameter"] = row.thinnest;
    one["elements"] = row.pieces.front().part.elements.size();
    out.push_back(std::move(one));
  }
  return out.dump(2) + "\n";
}

#ifdef POMMEL_WITH_PAPER
// As the file's name asks for.
Result<std::string> painted(const std::vector<paper::DesignPicture>& pictures, const std::string& ending) {
  if (ending == ".html") return paper::gallery_html(pictures);
  if (ending == ".pdf") return paper::gallery_pdf(pictures);
  const auto sheet = paper::contact_sheet(pictures);
  if (!sheet.ok()) return sheet.failure();
  return sheet->front().bytes;
}
#endif

// Writes the picture of all designs, when one is asked for.
int write_pictures(const std::vector<Row>& rows, const std::filesystem::path& file, const Shared& shared) {
#ifdef POMMEL_WITH_PAPER
  if (file.empty()) return kDone;
  std::vector<paper::DesignPicture> pictures;
  const LengthFormat lengths;
  for (const Row& row : rows) {
    paper::DesignPicture picture{row.design.name, {}, {}};
    std::vector<std::string> sizes;
    for (const family::MadePiece& piece : row.pieces) {
      picture.pieces.push_back(piece.part);
      sizes.push_back(piece.wanted.label + " " + format_length(piece.part.length, lengths));
    }
    picture.about = row.design.about;
    picture.says = {row.frame, listed(sizes), "square " + format_length(row.pieces.front().wanted.square, lengths) + ", thinnest " + format_length(row.thinnest, lengths)};
    pictures.push_back(std::move(picture));
  }
  const auto bytes = painted(pictures, file.extension().string());
  if (!bytes.ok()) return show(bytes.reasons(), shared);
  const auto written = shared.files->write(file, *bytes);
  return written.ok() ? kDone : show(written.reasons(), shared);
#else
  (void)rows, (void)file, (void)shared;  // the option is not there
  return kDone;
#endif
}

int list(const Shared& shared, const designs::House& house, const std::vector<std::string>& ids, const Arguments& asked) {
  const auto trials = job::CatalogTrials::open(*shared.files, house);
  if (!trials.ok()) return show(trials.reasons(), shared);
  Sink sink;
  std::vector<Row> rows;
  for (const std::string& id : ids)
    if (auto row = row_of(*trials, id, sink)) rows.push_back(std::move(*row));
  if (const int wrong = write_pictures(rows, asked.pictures, shared); wrong != kDone) return wrong;
  if (!print(shared.json ? json_of(rows) : text_of(rows))) return kCannotWrite;
  if (!sink.has_errors()) return kDone;
  Shared aside = shared;
  aside.json = false;  // the list is on stdout already
  return show(sink.all(), aside);
}

int catalog(const Shared& shared, const Arguments& asked) {
  const auto house = house_of(std::filesystem::path("catalog") / "designs" / "any.yaml", shared);
  if (!house.ok()) return show(house.reasons(), shared);
  if (!asked.update.empty()) return update_files(shared, *house, asked.update);
  if (!asked.compare.empty()) return compare(shared, *house, asked);
  Sink sink;
  const auto cards = designs::cards(*shared.files, *house, sink);
  sink.add(designs::shared_ids(cards));
  std::vector<std::string> ids;
  for (const designs::Card& card : cards)
    if ((asked.family.empty() || card.family == asked.family) && designs::matches(card, asked.words)) ids.push_back(card.file);
  if (sink.has_errors()) {
    Shared aside = shared;
    aside.json = false;
    show(sink.all(), aside);
  }
  const int done = !asked.with.empty() || !asked.where.empty() ? find_by_measure(shared, *house, ids, asked) : list(shared, *house, ids, asked);
  return done == kDone && sink.has_errors() ? kProblems : done;
}

}  // namespace

void add_catalog(CLI::App& app, Shared& shared, Run& run) {
  CLI::App* verb = app.add_subcommand("catalog", "list the house designs, find them by words and by measure, compare them");
  auto asked = std::make_shared<Arguments>();
  verb->add_flag("--json", shared.json, "print as JSON: lengths in mm");
#ifdef POMMEL_WITH_PAPER
  verb->add_option("--pictures", asked->pictures, "also write all designs at one scale: a PNG, an HTML page (.html) or a PDF (.pdf)");
#endif
  verb->add_option("--family", asked->family, "only designs of this family: table-leg ...");
  verb->add_option("--find", asked->words, "only designs with all these words in name, tags or description: 'country vase'");
  verb->add_option("--with", asked->with, "which designs would do at this size: table_height='36 in', stock=cherry-8/4-rough");
  verb->add_option("--where", asked->where, "only designs of which this holds: 'thinnest_diameter >= 28 mm'");
  verb->add_option("--compare", asked->compare, "two designs, or revisions as ID@1; one alone beside itself with --with")->expected(1, 2);
  verb->add_option("--update", asked->update, "write designs or orders for the present version of their family, comments kept");
  verb->callback([&, asked] { run = [&, asked] { return catalog(shared, *asked); }; });
}

}  // namespace pommel::cli
