#include "ui/views/readings_grid.h"

#include <QClipboard>
#include <QCompleter>
#include <QGuiApplication>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLineEdit>
#include <QStyledItemDelegate>
#include <algorithm>

#include "shape/outline.h"
#include "ui/views/in_words.h"

namespace pommel::ui {
namespace {

// The words that a note may have (match/notes.h); they are words of the file and the same in every language.
QStringList note_words() {
  QStringList out{"square", "square to here", "square from here", "head", "foot", "edge", "no edge", "worn", "skip"};
  for (const std::string& word : shape::element_words())
    if (word != "square") out << QStringLiteral("is a ") + text(word);
  return out;
}

class CellEditor : public QStyledItemDelegate {
 public:
  using QStyledItemDelegate::QStyledItemDelegate;

  QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem&, const QModelIndex& at) const override {
    auto* edit = new QLineEdit(parent);
    edit->setAccessibleName(at.model()->headerData(at.column(), Qt::Horizontal, Qt::DisplayRole).toString());
    if (at.column() != ReadingsModel::kNote) return edit;
    auto* completer = new QCompleter(note_words(), edit);
    completer->setFilterMode(Qt::MatchContains);
    completer->setCaseSensitivity(Qt::CaseInsensitive);
    edit->setCompleter(completer);
    return edit;
  }

  // What was seen of the rows is told while somebody types: the text that is being typed stays.
  void setEditorData(QWidget* editor, const QModelIndex& at) const override {
    if (const auto* edit = qobject_cast<QLineEdit*>(editor); edit && edit->isModified()) return;
    QStyledItemDelegate::setEditorData(editor, at);
  }
};

}  // namespace

ReadingsGrid::ReadingsGrid(ReadingsModel& model, QWidget* parent) : QTableView(parent), model_(model) {
  setModel(&model);
  setItemDelegate(new CellEditor(this));
  setAccessibleName(tr("readings: place, diameter, uncertainty, note"));
  setEditTriggers(AnyKeyPressed | DoubleClicked | EditKeyPressed);
  setTabKeyNavigation(false);  // Tab leaves the grid; the arrows move in it
  horizontalHeader()->setStretchLastSection(true);
  horizontalHeader()->setHighlightSections(false);
  verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 8);
  setWordWrap(false);
  setVerticalScrollMode(ScrollPerPixel);
  const int letter = fontMetrics().averageCharWidth();
  for (const auto& [column, letters] : {std::pair{ReadingsModel::kPlace, 13}, {ReadingsModel::kDiameter, 13}, {ReadingsModel::kUncertainty, 10}, {ReadingsModel::kNote, 19}}) setColumnWidth(column, std::max(letters * letter, horizontalHeader()->sectionSizeHint(column)));
}

void ReadingsGrid::copy() {
  const QModelIndexList cells = selectedIndexes();
  if (!cells.isEmpty()) QGuiApplication::clipboard()->setText(model_.copied(cells));
}

void ReadingsGrid::paste() {
  QModelIndex first = currentIndex();
  for (const QModelIndex& cell : selectedIndexes()) first = model_.index(std::min(first.row(), cell.row()), std::min(first.column(), cell.column()));
  if (!first.isValid() || first.column() >= ReadingsModel::kTyped) return;
  if (const QString why = model_.paste(first, QGuiApplication::clipboard()->text()); !why.isEmpty()) emit not_pasted(why);
}

void ReadingsGrid::clear_cells() { model_.clear(selectedIndexes()); }

void ReadingsGrid::take_rows_out() { model_.take_out(selectedIndexes()); }

void ReadingsGrid::keyPressEvent(QKeyEvent* event) {
  const QModelIndex at = currentIndex();
  if (event->matches(QKeySequence::Copy)) return copy();
  if (event->matches(QKeySequence::Paste)) return paste();
  if (event->key() == Qt::Key_Delete && event->modifiers() & Qt::ControlModifier) return take_rows_out();
  if (event->key() == Qt::Key_Delete || event->key() == Qt::Key_Backspace) return clear_cells();
  // Enter opens the cell; the view itself only knows F2
  if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && at.isValid() && state() != EditingState && (model_.flags(at) & Qt::ItemIsEditable)) return edit(at);
  QTableView::keyPressEvent(event);
}

void ReadingsGrid::closeEditor(QWidget* editor, QAbstractItemDelegate::EndEditHint hint) {
  QTableView::closeEditor(editor, hint);
  // Enter: on to the next reading, as readings are written one below the other
  const QModelIndex below = currentIndex().siblingAtRow(currentIndex().row() + 1);
  if (hint == QAbstractItemDelegate::SubmitModelCache && below.isValid()) setCurrentIndex(below);
}

void ReadingsGrid::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
  QTableView::currentChanged(current, previous);
  emit current_moved(current.isValid() ? current.row() : -1);
}

}  // namespace pommel::ui
