// What a click or a drag on the piece means for the measures, and where a measure is on the piece.
#include <QStatusBar>
#include <algorithm>
#include <set>

#include "ui/models/element_measures.h"
#include "ui/views/in_words.h"
#include "ui/views/order_window.h"
#include "ui/views/telling_bar.h"

namespace pommel::ui {

std::optional<std::size_t> OrderWindow::element_at(double x) const {
  if (!content_.order) return std::nullopt;
  const auto& elements = content_.order->subject.leg.elements;
  const auto mark = std::find_if(elements.begin(), elements.end(), [&](const shape::ElementMark& one) { return x >= one.x0 && x <= one.x1; });
  return mark == elements.end() ? std::nullopt : std::optional(static_cast<std::size_t>(mark - elements.begin()));
}

std::optional<ElementAt> OrderWindow::written_element(std::size_t mark) const {
  const auto state = columns_.find(shown_column_);
  if (state == columns_.end() || !state->second.made) return std::nullopt;
  const std::string& piece = state->second.made->pieces[shown_piece_].wanted.named;
  const auto index = outline_index(book_, piece, content_.order->subject.leg.elements.size(), mark, shown_column_);
  return index ? std::optional(ElementAt{shown_column_, piece, *index}) : std::nullopt;
}

// The measure behind an element: the first that its sizes are made of.
void OrderWindow::pick(double x) {
  const auto mark = element_at(x);
  const auto at = mark ? written_element(*mark) : std::nullopt;
  if (!at) return;
  for (const std::string& name : measures_of_element(book_.loaded(), at->piece, at->index, book_.sheet()))
    if (grid_->go_to(name, SheetModel::kCatalogueValue + static_cast<int>(shown_column_))) {
      grid_->setFocus();
      return;
    }
  statusBar()->showMessage(tr("'%1' has fixed sizes: no measure stands behind it").arg(text(content_.order->subject.leg.elements[*mark].label)), 5000);
}

void OrderWindow::draw_to(double x, double diameter) {
  const auto mark = element_at(x);
  const auto at = mark ? written_element(*mark) : std::nullopt;
  if (!at) return;
  const shape::ElementMark& element = content_.order->subject.leg.elements[*mark];
  take_drawn(element.label, entry_for_diameter(book_.loaded(), at->piece, at->index, (x - element.x0) / (element.x1 - element.x0), diameter, book_.sheet(), shown_column_, book_.shown().lengths));
}

void OrderWindow::stretch_to(std::size_t mark, double length) {
  const auto at = written_element(mark);
  if (at) take_drawn(content_.order->subject.leg.elements[mark].label, entry_for_length(book_.loaded(), at->piece, at->index, length, book_.sheet(), shown_column_, book_.shown().lengths));
}

// What was drawn becomes an entry of the measure behind it, in this size alone. Where a formula holds that measure, it is said first.
void OrderWindow::take_drawn(const std::string& label, const Result<NewEntry>& entry) {
  held_bar_->hide();
  if (!entry.ok()) return statusBar()->showMessage(lines_of(entry.reasons()).join(u' '), 8000);
  held_ = *entry;
  held_label_ = text(label);
  const auto formula = holding_formula(book_.sheet(), entry->measure, shown_column_);
  if (!formula) return set_drawn();
  held_says_->setText(tr("'%1' follows its formula %2. It would have to be %3.").arg(text(entry->measure), text(*formula), text(entry->entry)));
  held_bar_->show();
  held_set_->setFocus();
}

void OrderWindow::set_drawn() {
  held_bar_->hide();
  book_.edit(tr("%1 drawn").arg(held_label_), {{held_.measure, shown_column_, held_.entry}});
  grid_->go_to(held_.measure, SheetModel::kCatalogueValue + static_cast<int>(shown_column_));
  statusBar()->showMessage(tr("'%1' is %2 now; the size here is %3").arg(text(held_.measure), text(held_.entry), text(held_.formula)), 8000);
}

QWidget* OrderWindow::held_bar() {
  held_says_ = new QLabel;
  held_set_ = new QPushButton(tr("Set it in this size"));
  auto* leave = new QPushButton(tr("Leave the formula"));
  auto* bar = telling_bar(held_says_, {held_set_, leave});
  connect(held_set_, &QPushButton::clicked, this, &OrderWindow::set_drawn);
  connect(leave, &QPushButton::clicked, bar, &QWidget::hide);
  return bar;
}

// Which elements the measure under the grid's cursor goes into, itself or through formulas.
void OrderWindow::mark_elements() {
  content_.marked.clear();
  const QModelIndex cell = grid_->currentIndex();
  if (!content_.order || !cell.isValid() || model_->kind_of(cell.row()) != SheetModel::RowKind::measure) return;
  const std::string& name = model_->name_of(cell.row());
  std::set<std::string> reached{name};
  for (const sheet::Change& reader : book_.sheet().dependents_of(name, shown_column_)) reached.insert(reader.name);
  for (std::size_t mark = 0; mark < content_.order->subject.leg.elements.size(); ++mark) {
    const auto at = written_element(mark);
    if (!at) return;
    const auto names = measures_of_element(book_.loaded(), at->piece, at->index, book_.sheet());
    if (std::any_of(names.begin(), names.end(), [&](const std::string& one) { return reached.contains(one); })) content_.marked.push_back(mark);
  }
}

}  // namespace pommel::ui
