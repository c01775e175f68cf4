// Readings of an existing turning as a table: place, diameter, uncertainty and note as the maker types them, and what was seen of each row.
//
// Below the last row there is always an empty one to type into. What is typed is a value (Rows); each edit is one step from one such value to the next,
// so undoing is going back, whatever the step was. A row with something wrong begins its last cell with a cross and says the remedy there, and so does a
// reading that is believed wrong: no meaning stands in a colour alone. What is not recomputed yet is dim.
//
// Thread rule: the window's thread.
#pragma once

#include <QAbstractTableModel>
#include <QUndoStack>
#include <array>
#include <map>
#include <string>
#include <vector>

namespace pommel::ui {

class ReadingsModel : public QAbstractTableModel {
  Q_OBJECT

 public:
  enum Column { kPlace, kDiameter, kUncertainty, kNote, kSeen };
  static constexpr int kTyped = kSeen;  ///< columns that are typed
  using Row = std::array<QString, kTyped>;
  using Rows = std::vector<Row>;

  /// What was seen of a row.
  struct Seen {
    QString words;
    std::map<int, QString> problems;  ///< by column: what is wrong in the cell, with the remedy
    bool wrong = false;               ///< believed wrong, or with problems
    bool operator==(const Seen&) const = default;
  };

  explicit ReadingsModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

  const Rows& rows() const { return rows_; }
  QUndoStack& undo() { return undo_; }
  bool blank() const { return rows_.empty(); }

  /// Another table as one step, `what` in bench words for undo. Nothing happens where nothing would change.
  void change(const QString& what, Rows rows);
  /// Rows below the last one, as one step.
  void add(const QString& what, const Rows& rows);
  void clear(const QModelIndexList& cells);
  void take_out(const QModelIndexList& cells);
  /// From a spreadsheet or a file of readings, from `at` down and to the right; at the place a header, semicolons and commas are understood, too. One
  /// step. Says what is wrong with the text's form, and changes nothing then.
  QString paste(const QModelIndex& at, const QString& text);
  QString copied(const QModelIndexList& cells) const;

  /// The table as a file of readings; row r stands in line line_of(r).
  std::string text() const;
  /// The rows of such a text.
  static Rows rows_of(const std::string& text);
  static int line_of(int row) { return row + 2; }
  static int row_of(int line) { return line - 2; }
  /// Column of the table in which a character of that row's line stands, counted from 1.
  int column_of(int row, int character) const;

  void show_seen(std::map<int, Seen> seen);
  void show_stale(bool stale);

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role) override;

 signals:
  /// What is typed has changed.
  void edited();

 private:
  friend class RowsStep;
  void become(const Rows& rows);
  QVariant seen_data(const QModelIndex& at, int role) const;

  Rows rows_;
  std::map<int, Seen> seen_;
  bool stale_ = false;
  QUndoStack undo_;
};

}  // namespace pommel::ui
