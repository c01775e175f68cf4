// What the window says: of the outline, of what stands in the way, and which ways are open.
#include <QCoreApplication>
#include <QHeaderView>
#include <algorithm>
#include <cmath>

#include "ui/views/in_words.h"
#include "ui/views/match_window.h"

namespace pommel::ui {
namespace {

QString said(double mm, const LengthFormat& lengths) { return text(format_length(mm, lengths)); }
QString fine(double mm, int decimals = 2) { return QString::number(mm, 'f', decimals); }

QString why(const match::Wanted& w) {
  const auto word = [](shape::ElementKind kind) { return QCoreApplication::translate("palette", std::string(shape::word_of(kind)).c_str()); };
  switch (w.why) {
    case match::Wanted::Why::off: return MatchWindow::tr("the reading there lies %1 mm off: take it again").arg(fine(w.amount));
    case match::Wanted::Why::alone: return MatchWindow::tr("but for the reading there this could be straight (%1): take it again, and another beside it").arg(word(w.element));
    case match::Wanted::Why::few: return MatchWindow::tr("%1: readings %2, sizes of its own %3").arg(word(w.element)).arg(w.readings).arg(w.sizes);
    case match::Wanted::Why::edge: return MatchWindow::tr("where it ends (%1) is known to %2 mm only").arg(word(w.element), fine(w.amount, 1));
    case match::Wanted::Why::kind: return MatchWindow::tr("%1; could as well be: %2").arg(word(w.element), word(w.other));
  }
  return {};
}

constexpr double kFarOff = 1.6;       // times the uncertainty, as the command says it
constexpr std::size_t kWantedTold = 6;

}  // namespace

void MatchWindow::show_all() {
  const auto fitted = bench_.fitted();
  found_->show(fitted, bench_.stale(), look_.lengths);
  // words are longer in some languages; columns only grow, so that nothing jumps while readings are typed
  for (const int column : {FoundModel::kName, FoundModel::kFrom, FoundModel::kLength, FoundModel::kOff})
    elements_->setColumnWidth(column, std::max({elements_->columnWidth(column), static_cast<QAbstractItemView*>(elements_)->sizeHintForColumn(column), elements_->horizontalHeader()->sectionSizeHint(column)}));
  double reach = 0, from = 0;
  for (const match::Measure& m : bench_.measures()) reach = std::max(reach, m.x), from = std::min(from, m.x);
  if (fitted) axis_.set_whole(0, std::max(fitted->found.length, 1.0));
  else if (reach > from) axis_.set_whole(from, reach);
  drawn_bar_->setVisible(bench_.drawn() != nullptr);
  if (bench_.drawn()) drawn_name_->setText(text(bench_.drawn()->file.filename().string()));
  if (look_.element >= found_->rowCount()) choose(-1);
  told_->setPlainText(told_text());
  show_ways();
  follow_hairline();
  strip_->update();
  misfit_->update();
}

void MatchWindow::show_ways() {
  const auto fitted = bench_.fitted();
  const bool sure = fitted && !bench_.stale() && !bench_.working();
  const auto k = static_cast<std::size_t>(std::max(0, look_.element));
  const bool chosen = sure && look_.element >= 0 && !fitted->found.elements[k].square;
  pin_->setEnabled(chosen);
  merge_->setEnabled(chosen && k + 1 < fitted->found.elements.size() && !fitted->found.elements[k + 1].square);
  kind_->setEnabled(chosen);
  bool on_turned = false;
  if (sure && axis_.hair())
    for (const match::Found& f : fitted->found.elements) on_turned = on_turned || (!f.square && *axis_.hair() > f.stroke.x0 && *axis_.hair() < f.stroke.x1);
  split_->setEnabled(on_turned);
  keep_->setEnabled(sure && !name_->text().trimmed().isEmpty());
}

void MatchWindow::choose(int element) {
  look_.element = element;
  kind_->clear();
  if (element >= 0 && bench_.fitted()) {
    const match::Found& chosen = bench_.fitted()->found.elements[static_cast<std::size_t>(element)];
    kind_->addItem(tr("is a …"), QString());
    for (const std::string& word : shape::element_words())
      if (word != "square") kind_->addItem(QCoreApplication::translate("palette", word.c_str()), text(word));
    kind_->setCurrentIndex(std::max(0, kind_->findData(text(std::string(shape::word_of(chosen.name.kind))))));
  }
  show_ways();
  strip_->update();
}

void MatchWindow::follow_hairline() {
  reading_->setText(strip_->reading());
  show_ways();
}

// Reasons name options of the command where the window has fields.
QStringList MatchWindow::problem_lines() const {
  QStringList out;
  const std::pair<const char*, QString> fields[] = {{"--square", tr("squares are wide")}, {"--uncertainty", tr("diameters ±")}, {"--place-uncertainty", tr("places ±")}, {"--gap", tr("gaps up to")}};
  for (const Diagnostic& problem : bench_.problems()) {
    QString words = lines_of({problem}).join(u' ');
    if (problem.id == "match.square") words = text(problem.message) + QStringLiteral(": ") + tr("write how wide above the table, or a reading across the flats with the note 'square'");
    if (problem.id.ends_with(".no-unit") || problem.id.ends_with(".unit")) words = text(problem.message) + QStringLiteral(": ") + tr("choose its unit above");
    for (const auto& [option, name] : fields)
      if (problem.place.file == option) words = name + QStringLiteral(": ") + words;
    if (const auto row = MatchBench::row_of(problem.place)) words = tr("row %1: %2").arg(*row + 1).arg(words);
    out << QStringLiteral("✗ ") + words;
  }
  return out;
}

QStringList MatchWindow::what_is_seen() const {
  const Fitted& fitted = *bench_.fitted();
  const match::Recognition& found = fitted.found;
  QStringList out;
  out << tr("%1 long; %2 readings on %3 elements, %4 mm off (root of the mean square), %5 mm at worst")
             .arg(said(found.length, look_.lengths)).arg(found.readings).arg(found.elements.size()).arg(fine(found.rms, 3), fine(found.worst));
  for (const match::Wrong& wrong : found.wrong)
    out << tr("✗ believed wrong: the reading at %1, %2 mm off").arg(said(fitted.read.measures[wrong.measure].x, look_.lengths), fine(std::fabs(wrong.off)));
  for (const match::Symmetry& s : found.symmetries) out << tr("elements %1 to %2 stand the same way about their middle").arg(s.first + 1).arg(s.last + 1);
  if (found.ovality > 0) out << tr("oval: two diameters at %1 differ by %2 mm; the outline has their mean, as new it was hardly thinner than the greater").arg(said(found.ovality_x, look_.lengths), fine(found.ovality));
  if (found.wear > 0) out << tr("worn: %1 mm in diameter below the outline at %2; the outline is the guess of how it was new").arg(fine(found.wear), said(found.wear_x, look_.lengths));
  for (const std::string& remark : fitted.read.remarks) out << text(remark);
  if (found.misfit > kFarOff) out << tr("the readings lie %1 times as far off as their uncertainty says: write a larger one above the table, or take more readings").arg(fine(found.misfit, 1));
  for (std::size_t i = 0; i < std::min(kWantedTold, found.wanted.size()); ++i) {
    const match::Wanted& w = found.wanted[i];
    const QString place = w.to > w.from ? tr("%1 to %2").arg(said(w.from, look_.lengths), said(w.to, look_.lengths)) : said(w.from, look_.lengths);
    out << tr("? more readings would settle most at %1: %2").arg(place, why(w));
  }
  return out;
}

QString MatchWindow::told_text() const {
  QStringList lines = problem_lines();
  if (bench_.working()) lines << tr("fitting …");
  if (bench_.fitted() && !bench_.stale()) lines << what_is_seen();
  if (lines.isEmpty()) lines << tr("Type a reading in each row: where along the piece, and the diameter there. Note 'square to here' where a square ends, 'square' on a reading across its flats, 'head' and 'foot' at the ends; a note offers its words while it is typed. Or paste from a spreadsheet, or open a file of readings, a drawing (DXF, SVG) or a scan (STL).");
  return lines.join(u'\n');
}

void MatchWindow::hold_against(const std::string& design) {
  const auto file = designs::design_file(files_, house_, design);
  const auto held = file ? job::held_against(files_, house_, *file, bench_.read()) : Result<match::Comparison>(fail("ui.no-design", "there is no such design", "choose another"));
  QStringList lines;
  if (!held.ok()) lines << QStringLiteral("✗ ") + lines_of(held.reasons()).join(QStringLiteral("\n✗ "));
  else lines << tr("the copy against '%1': %2 places; mean %3 mm, root of the mean square %4 mm, most %5 mm at %6 from the head (above 0: wood was left)")
                    .arg(text(design)).arg(held->readings.size()).arg(fine(held->mean, 3), fine(held->rms, 3), fine(held->most, 3), said(held->most_at, look_.lengths));
  told_->setPlainText(lines.join(u'\n') + QStringLiteral("\n\n") + told_text());
}

}  // namespace pommel::ui
