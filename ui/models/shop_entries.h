// What stands in a form of one of the shop's files, undone and redone without end: from one value of the whole form to the next, as in OrderBook. Letters typed into one
// field without leaving it are one step. It outlives the form, so saving, closing and opening again lose no step; only another's change of the file does.
#pragma once

#include <QObject>
#include <QUndoStack>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "base/files.h"
#include "job/shop_files.h"

namespace pommel::ui {

class ShopEntries : public QObject {
  Q_OBJECT

 public:
  struct Entry {
    QString name;         ///< in bench words, for undo and for what is told
    job::ShopKeys keys;   ///< of a list's item the list's and the index
    bool lines = false;   ///< a list of texts, a line each
    bool usual = false;   ///< something holds where the file does not state it
    QString stated{};     ///< what the file states; empty: nothing
  };
  struct Values {
    std::vector<QString> entries;
    bool confirmed = false;
    bool operator==(const Values&) const = default;
  };

  /// REQUIRES: files outlives it.
  ShopEntries(FileSystem& files, std::filesystem::path file, job::ShopKeys confirmed);

  /// The file as it is now. Steps are kept where it is as this left it and the same is wanted; entries that it does not state, and of which nothing is usual, are left out.
  void read(std::vector<Entry> wanted);
  const std::vector<Entry>& entries() const { return entries_; }
  /// One of entries(), by its keys.
  std::optional<std::size_t> index_of(const job::ShopKeys& keys) const;
  const Values& values() const { return values_; }
  const std::filesystem::path& file() const { return file_; }
  QUndoStack& undo() { return undo_; }

  /// One step; another figure is not what was confirmed. `typed`: letters, which go on with the step before where that is of the same field.
  void set(std::size_t entry, const QString& value, bool typed);
  void confirm(bool yes);
  /// What is typed from here on is a step of its own.
  void end_typing() { ++typing_; }
  /// To what the file states, as one step.
  void go_back();

  /// Writes the file. Fails with "ui.unsaid" where something must be stated and is not, and as job::save_file.
  Result<Done> save();
  /// Which entry is in the way of the last save(), where it is known.
  std::optional<std::size_t> of(const Diagnostic& reason) const;

 signals:
  void changed();

 private:
  friend class EntriesStep;
  void become(const Values& values);
  void take_as_stated();
  Result<std::string> made() const;

  FileSystem& files_;
  std::filesystem::path file_;
  job::ShopKeys confirmed_keys_;
  std::string text_, tried_;  // as the file is, as it was to be
  std::vector<Entry> entries_;
  std::vector<job::ShopKeys> wanted_;
  Values values_, stated_;
  int typing_ = 0;
  std::size_t typed_ = 0;
  QUndoStack undo_;
};

/// The shop's files as they are being filled in, one for each file and machine.
class ShopBook {
 public:
  /// REQUIRES: files outlives it.
  explicit ShopBook(FileSystem& files) : files_(files) {}
  ShopEntries& of(const std::filesystem::path& file, const job::ShopKeys& confirmed);

 private:
  FileSystem& files_;
  std::map<std::pair<std::filesystem::path, job::ShopKeys>, std::unique_ptr<ShopEntries>> entries_;
};

}  // namespace pommel::ui
