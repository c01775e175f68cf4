// What the window shows of the answers, and what a click or a drag on the piece means.
#include <QApplication>
#include <QStatusBar>
#include <algorithm>
#include <set>

#include "ui/views/in_words.h"
#include "ui/views/order_window.h"
#include "ui/views/tones.h"

namespace pommel::ui {

void OrderWindow::show_column(std::size_t column) {
  if (column == shown_column_) return;
  shown_column_ = column;
  if (!columns_[column].checked) ask();
  else show_all();
}

void OrderWindow::show_all() {
  const ColumnState &catalogue = columns_[family::kCatalogue], &order = columns_[shown_column_];
  fill_pieces(order);
  show_strips(catalogue, order);
  standing_->show_frames(catalogue.made, order.made, shown_column_ == family::kOrder ? tr("this order") : text(book_.sheet().column_name(shown_column_)), order.stale, book_.shown().lengths);
  show_program();
  show_solid();
  follows_->show_differences(told_text());
  follows_->show_column(order.followed, book_.shown().lengths);
  say();
  follow_hairline();
}

// Each piece of the frame; where its members are of several kinds, one of each.
void OrderWindow::fill_pieces(const ColumnState& order) {
  faces_.clear();
  QStringList names;
  for (std::size_t i = 0; order.made && i < order.made->pieces.size(); ++i) {
    std::set<int> kinds;
    std::vector<const frame::Member*> members;
    for (const frame::Member& member : order.made->set.members)
      if (!member.spare && member.piece == i && kinds.insert(member.jointed_kind).second) members.push_back(&member);
    if (members.size() < 2) {
      faces_.push_back({i, {}});
      names << text(order.made->pieces[i].wanted.label);
      continue;
    }
    for (const frame::Member* member : members) {
      faces_.push_back({i, member->id});
      names << (member->hand == "left" ? tr("%1, left hand").arg(text(member->label)) : member->hand == "right" ? tr("%1, right hand").arg(text(member->label)) : text(member->label));
    }
  }
  pieces_->setVisible(faces_.size() > 1);
  QStringList now;
  for (int i = 0; i < pieces_->count(); ++i) now << pieces_->itemText(i);
  if (now != names) {
    pieces_->clear();
    pieces_->addItems(names);
  }
  const auto shown = std::find_if(faces_.begin(), faces_.end(), [this](const auto& one) { return one.first == shown_piece_ && one.second == shown_member_; });
  const auto which = shown == faces_.end() ? 0 : shown - faces_.begin();
  if (!faces_.empty()) shown_piece_ = faces_[static_cast<std::size_t>(which)].first, shown_member_ = faces_[static_cast<std::size_t>(which)].second;
  else shown_piece_ = 0, shown_member_.clear();
  pieces_->setCurrentIndex(static_cast<int>(which));
}

std::shared_ptr<const ShownPiece> OrderWindow::kept_piece(KeptPiece& kept, const std::shared_ptr<const family::Made>& made, std::size_t piece, const std::string& member) {
  if (kept.made != made || kept.piece != piece || kept.member != member) kept = {made, piece, member, ui::shown_piece(*made, piece, member)};
  return kept.shown;
}

void OrderWindow::show_strips(const ColumnState& catalogue, const ColumnState& order) {
  content_.lengths = book_.shown().lengths;
  content_.stale = order.stale;
  content_.order = order.made ? kept_piece(kept_order_, order.made, shown_piece_, shown_member_) : nullptr;
  content_.catalogue = nullptr;
  content_.blank.reset();
  content_.programs = nullptr;
  std::optional<job::TurningRequest> request;
  if (content_.order && catalogue.made) {
    const std::string& wanted = order.made->pieces[shown_piece_].wanted.id;
    const auto& pieces = catalogue.made->pieces;
    const auto same = std::find_if(pieces.begin(), pieces.end(), [&](const family::MadePiece& one) { return one.wanted.id == wanted; });
    if (same != pieces.end()) content_.catalogue = kept_piece(kept_catalogue_, catalogue.made, static_cast<std::size_t>(same - pieces.begin()), shown_member_);
  }
  if (order.followed) content_.blank = order.followed->blanks[shown_piece_].plan.blank;
  if (order.checked && order.followed)
    for (std::size_t i = 0; i < order.checked->turnings.size() && !content_.programs; ++i)
      if (order.followed->piece_of_turning(i) == shown_piece_) {
        content_.programs = order.checked->turnings[i].programs;
        request = order.followed->requests[i];
      }
  cut_->show_cut(content_.programs, request, content_.order ? content_.order->phi : 0);
  mark_elements();
  double from = 0, to = 1;
  for (const auto& piece : {content_.catalogue, content_.order})
    if (piece) to = std::max(to, piece->subject.leg.length);
  if (content_.order) {
    // until the new blank is known the waste of the one before keeps its room: the strips do not jump at each edit
    const double length = content_.order->subject.leg.length;
    if (content_.blank) waste_ = {-content_.blank->x0, content_.blank->x1 - length};
    from = std::min(from, -waste_.head), to = std::max(to, length + waste_.foot);
  }
  axis_->set_whole(from, to);
  elevation_->updateGeometry();
  for (QWidget* strip : std::initializer_list<QWidget*>{overview_, elevation_, radius_, blank_, check_}) strip->update();
}

// A strip that is opened gets room, and is brought into sight where there is not enough of it for all.
void OrderWindow::show_strip(QWidget* strip, bool on) {
  constexpr int kUpper = 56;  // of a hundred parts, for the strips
  strip->setVisible(on);
  if (!on) return;
  const QList<int> sizes = halves_->sizes();
  const int whole = sizes[0] + sizes[1];
  if (100 * sizes[0] < kUpper * whole) halves_->setSizes({kUpper * whole / 100, whole - kUpper * whole / 100});
  // when the layout has placed it
  QTimer::singleShot(0, this, [this, strip] { strips_->ensureWidgetVisible(strip, 0, 4); });
}

ProgramView& OrderWindow::open_program() {
  if (!program_) {
    program_ = new ProgramView(*axis_, this);
    connect(program_, &ProgramView::line_chosen, cut_, &CutView::go_to_line);
  }
  show_program();
  program_->show();
  program_->raise();
  return *program_;
}

void OrderWindow::show_program() {
  if (!program_ || !content_.order) return;
  const shop::Machine* machine = job::machine_of(book_.loaded());  // load() has reported an unknown one
  program_->show_program(content_.programs, *machine, text(content_.order->subject.heading), content_.lengths);
}

SolidView& OrderWindow::open_solid() {
  if (!solid_) solid_ = new SolidView(this);
  solid_->show();
  solid_->raise();
  show_solid();
  return *solid_;
}

// Only of what is sure: while the piece is the one from before the last change, the solid waits.
void OrderWindow::show_solid() {
  if (!solid_ || !solid_->isVisible()) return;
  const bool sure = content_.order && !content_.stale;
  solid_->show_part(sure ? std::optional(content_.order->subject.leg) : std::nullopt, content_.order ? text(content_.order->subject.heading) : QString(), content_.order ? content_.order->phi : 0);
}

void OrderWindow::follow_hairline() {
  reading_->setText(elevation_->reading());
  show_palette();
}

void OrderWindow::show_palette() {
  if (!palette_->isVisible()) return;
  const auto mark = axis_->hair() ? element_at(*axis_->hair()) : std::nullopt;
  if (!mark || !columns_[shown_column_].made || shown_column_ == family::kCatalogue)
    return palette_->show_element(std::nullopt, 0, {}, tr("Put the hairline on an element of the piece: point at it, or use the arrows."));
  const auto at = written_element(*mark);
  if (!at) return palette_->show_element(std::nullopt, 0, {}, tr("This piece is one section of a divided turning; its outline is changed in the design's file."));
  const shape::ElementMark& element = content_.order->subject.leg.elements[*mark];
  palette_->show_element(at, element.d_end, text(element.label), {});
}

void OrderWindow::say() {
  const QStringList problems = lines_of(columns_[shown_column_].reasons) + model_->problems(shown_column_);
  const QString working = settled_ ? QString() : tr("working out what follows …");
  foot_->setText(problems.isEmpty() ? settled_ ? tr("Type another size over one of this order's; an empty cell takes the catalogue's again.") : working
                                    : QStringLiteral("✗ ") + problems.join(QStringLiteral("\n✗ ")));
  QPalette palette = QApplication::palette();
  if (!problems.isEmpty()) palette.setColor(QPalette::WindowText, tones().wrong);
  foot_->setPalette(palette);
}

QString OrderWindow::told_text() const {
  const auto state = columns_.find(shown_column_);
  const QStringList changes = model_->changes(shown_column_);
  QString out = tr("Cut check") + u'\n' + (state == columns_.end() ? QString() : check_text(state->second));
  out += QStringLiteral("\n\n") + tr("Different from the catalogue") + u'\n';
  return out + (changes.isEmpty() ? tr("  nothing") : QStringLiteral("  ") + changes.join(QStringLiteral("\n  ")));
}

QString OrderWindow::check_text(const ColumnState& state) const {
  if (!state.checked) return state.reasons.empty() && book_.sheet().sound(shown_column_) ? tr("  …") : tr("  nothing to check");
  QStringList lines;
  for (const CheckedTurning& one : state.checked->turnings) {
    const QString piece = text(one.piece);
    if (!one.programs) {
      lines << tr("%1: no program. %2").arg(piece, lines_of(one.reasons).join(u' '));
      continue;
    }
    const proof::Proof& proof = one.programs->front().proof;
    if (proof.passed()) {
      lines << tr("%1: the program's own text was cut in simulation and is sound; deepest below the skin %2 mm, most left in reach %3 mm, %4 places for hand work")
                   .arg(piece)
                   .arg(proof.gouge.amount, 0, 'f', 3)
                   .arg(proof.leftover.amount, 0, 'f', 3)
                   .arg(proof.hand_work.size());  // its time is that of a machine that need not speed up: what follows says the other
      continue;
    }
    for (const proof::Finding& finding : proof.findings)
      if (finding.severity == Severity::error) lines << tr("✗ %1, line %2, %3: %4").arg(piece).arg(finding.line).arg(text(finding.stage), text(finding.message));
  }
  return QStringLiteral("  ") + lines.join(QStringLiteral("\n  "));
}

}  // namespace pommel::ui
