#include "ui/views/measure_grid.h"

#include <QAbstractItemView>
#include <QClipboard>
#include <QCompleter>
#include <QGuiApplication>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLineEdit>
#include <QRegularExpression>
#include <QStringListModel>
#include <QStyledItemDelegate>
#include <algorithm>

namespace pommel::ui {
namespace {

// Where the word under the cursor begins.
int word_start(const QString& text, int cursor) {
  int at = cursor;
  while (at > 0 && (text[at - 1].isLetterOrNumber() || text[at - 1] == u'_')) --at;
  return at;
}

// Completes names of measures within a formula.
class FormulaEdit : public QLineEdit {
 public:
  FormulaEdit(const QStringList& names, QWidget* parent) : QLineEdit(parent), completer_(new QCompleter(names, this)) {
    completer_->setWidget(this);
    completer_->setCaseSensitivity(Qt::CaseInsensitive);
    connect(completer_, qOverload<const QString&>(&QCompleter::activated), this, [this](const QString& name) {
      const int from = word_start(text(), cursorPosition());
      setSelection(from, cursorPosition() - from);
      insert(name);
    });
    connect(this, &QLineEdit::textEdited, this, [this] { offer(); });
  }

 protected:
  void keyPressEvent(QKeyEvent* event) override {
    const bool open = completer_->popup()->isVisible();
    // while the list is open these belong to it
    if (open && (event->key() == Qt::Key_Enter || event->key() == Qt::Key_Return || event->key() == Qt::Key_Escape || event->key() == Qt::Key_Tab)) return event->ignore();
    QLineEdit::keyPressEvent(event);
  }

 private:
  void offer() {
    const int from = word_start(text(), cursorPosition());
    const QString word = text().mid(from, cursorPosition() - from);
    if (!text().trimmed().startsWith(u'=') || word.isEmpty() || word[0].isDigit()) return completer_->popup()->hide();
    completer_->setCompletionPrefix(word);
    if (completer_->completionCount() == 0 || (completer_->completionCount() == 1 && completer_->currentCompletion() == word)) return completer_->popup()->hide();
    completer_->complete();
  }

  QCompleter* completer_;
};

class CellEditor : public QStyledItemDelegate {
 public:
  CellEditor(SheetModel& model, const MeasureGrid& grid) : model_(model), grid_(grid) {}

  QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem&, const QModelIndex& at) const override {
    if (at.column() == model_.note_column()) return new QLineEdit(parent);
    const QStringList choices = model_.choices(at.row());
    if (choices.isEmpty()) return new FormulaEdit(model_.names_for_formulas(), parent);
    auto* edit = new QLineEdit(parent);
    auto* completer = new QCompleter(choices, edit);
    completer->setFilterMode(Qt::MatchContains);
    completer->setCaseSensitivity(Qt::CaseInsensitive);
    completer->setCompletionMode(QCompleter::PopupCompletion);
    edit->setCompleter(completer);
    return edit;
  }

 protected:
  void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& at) const override {
    QStyledItemDelegate::initStyleOption(option, at);
    if (at.column() == SheetModel::kName && model_.kind_of(at.row()) == SheetModel::RowKind::group)
      option->text = (grid_.is_folded(at.row()) ? QStringLiteral("▸ ") : QStringLiteral("▾ ")) + option->text;
  }

 private:
  SheetModel& model_;
  const MeasureGrid& grid_;
};

}  // namespace

MeasureGrid::MeasureGrid(SheetModel& model, QWidget* parent) : QTableView(parent), model_(model) {
  setModel(&model);
  auto* editor = new CellEditor(model, *this);
  editor->setParent(this);  // it goes with the grid
  setItemDelegate(editor);
  setAccessibleName(tr("measures and what follows"));
  setEditTriggers(AnyKeyPressed | DoubleClicked | EditKeyPressed);
  setTabKeyNavigation(false);  // Tab leaves the grid; the arrows move in it
  horizontalHeader()->setStretchLastSection(true);
  horizontalHeader()->setHighlightSections(false);
  verticalHeader()->hide();
  setWordWrap(false);
  setVerticalScrollMode(ScrollPerPixel);
  connect(&model, &QAbstractItemModel::modelReset, this, &MeasureGrid::lay_out);
  connect(horizontalHeader(), &QHeaderView::sectionResized, this, [this](int column) { by_hand_ = by_hand_ || (!fitting_ && column != model_.note_column()); });
  lay_out();
}

void MeasureGrid::lay_out() {
  clearSpans();
  verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 8);
  for (int row = 0; row < model_.rowCount(); ++row)
    if (model_.kind_of(row) == SheetModel::RowKind::group) setSpan(row, 0, 1, model_.columnCount());
  by_hand_ = false;
  fit_columns();
  show_rows();
}

// Names, the catalogue's and one size beside it are all to be seen, with letters twice as large on a small screen, too; more sizes are scrolled to. Columns that
// somebody drew wider or narrower stay so.
void MeasureGrid::fit_columns() {
  constexpr double kName = 32, kValue = 19, kNote = 8, kLeast = 0.6;
  if (by_hand_) return;
  const int letter = fontMetrics().averageCharWidth(), note = std::max(static_cast<int>(kNote * letter), horizontalHeader()->sectionSizeHint(model_.note_column()));
  const double share = std::clamp((viewport()->width() - note) / (letter * (kName + 2 * kValue)), kLeast, 1.0);
  fitting_ = true;
  setColumnWidth(SheetModel::kName, static_cast<int>(share * kName * letter));
  for (int column = SheetModel::kCatalogueValue; column < model_.note_column(); ++column) setColumnWidth(column, static_cast<int>(share * kValue * letter));
  fitting_ = false;
}

void MeasureGrid::resizeEvent(QResizeEvent* event) {
  QTableView::resizeEvent(event);
  fit_columns();
}

bool MeasureGrid::is_folded(int heading) const { return folded_.contains(model_.name_of(heading)); }

void MeasureGrid::fold(int heading, bool folded) {
  if (folded) folded_.insert(model_.name_of(heading));
  else folded_.erase(model_.name_of(heading));
  show_rows();
}

void MeasureGrid::find(const QString& text) {
  wanted_ = text.split(QRegularExpression(QStringLiteral("\\s+")), Qt::SkipEmptyParts);
  show_rows();
}

void MeasureGrid::show_rows() {
  const auto has_all = [&](int row) {
    const QString words = model_.words_of(row);
    return std::all_of(wanted_.begin(), wanted_.end(), [&](const QString& word) { return words.contains(word, Qt::CaseInsensitive); });
  };
  int heading = -1;
  for (int row = 0; row < model_.rowCount(); ++row) {
    if (model_.kind_of(row) == SheetModel::RowKind::group) {
      heading = row;
      setRowHidden(row, !wanted_.isEmpty());  // comes back with its first row
      continue;
    }
    const bool shown = wanted_.isEmpty() ? !is_folded(heading) : has_all(row);
    setRowHidden(row, !shown);
    if (shown) setRowHidden(heading, false);
  }
  viewport()->update();
}

bool MeasureGrid::go_to(const std::string& name, int column) {
  const int row = model_.row_of(name);
  if (row < 0) return false;
  int heading = row;
  while (heading > 0 && model_.kind_of(heading) != SheetModel::RowKind::group) --heading;
  if (is_folded(heading)) fold(heading, false);
  const QModelIndex cell = model_.index(row, column);
  setCurrentIndex(cell);
  scrollTo(cell, PositionAtCenter);
  return true;
}

void MeasureGrid::copy() {
  QModelIndexList cells;
  for (const QModelIndex& cell : selectedIndexes())
    if (!isRowHidden(cell.row())) cells << cell;
  if (!cells.isEmpty()) QGuiApplication::clipboard()->setText(model_.copied(cells));
}

void MeasureGrid::paste() {
  QModelIndex first = currentIndex();
  for (const QModelIndex& cell : selectedIndexes()) first = model_.index(std::min(first.row(), cell.row()), std::min(first.column(), cell.column()));
  if (first.isValid()) model_.paste(first, QGuiApplication::clipboard()->text());
}

void MeasureGrid::clear_cells() { model_.clear(selectedIndexes()); }

void MeasureGrid::carry_across() {
  if (currentIndex().isValid()) model_.carry_across(currentIndex());
}

void MeasureGrid::keyPressEvent(QKeyEvent* event) {
  const QModelIndex at = currentIndex();
  if (at.isValid() && model_.kind_of(at.row()) == SheetModel::RowKind::group &&
      (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter || event->key() == Qt::Key_Space))
    return fold(at.row(), !is_folded(at.row()));
  if (event->matches(QKeySequence::Copy)) return copy();
  if (event->matches(QKeySequence::Paste)) return paste();
  if (event->key() == Qt::Key_Delete || event->key() == Qt::Key_Backspace) return clear_cells();
  // Enter opens the cell; the view itself only knows F2
  if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && at.isValid() && state() != EditingState && (model_.flags(at) & Qt::ItemIsEditable)) return edit(at);
  QTableView::keyPressEvent(event);
}

void MeasureGrid::mouseReleaseEvent(QMouseEvent* event) {
  QTableView::mouseReleaseEvent(event);
  const QModelIndex at = indexAt(event->pos());
  if (at.isValid() && model_.kind_of(at.row()) == SheetModel::RowKind::group) fold(at.row(), !is_folded(at.row()));
}

void MeasureGrid::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
  QTableView::currentChanged(current, previous);
  emit current_moved(current);
}

}  // namespace pommel::ui
