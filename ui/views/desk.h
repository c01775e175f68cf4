// The desk: which order is open, where orders come from, and what is remembered between sessions.
//
// Remembered (QSettings): the orders opened last, the window's size and place. Copies of unsaved changes stand in $XDG_STATE_HOME/pommel/unsaved,
// or ~/.local/state/pommel/unsaved.
#pragma once

#include <QObject>
#include <filesystem>
#include <memory>

#include "family/save_order.h"
#include "ui/views/match_window.h"
#include "ui/views/order_window.h"

namespace pommel::ui {

class Desk : public QObject {
  Q_OBJECT

 public:
  /// `installed`: the house that came with the tool. `unsaved`: where copies are kept.
  Desk(std::filesystem::path installed, std::filesystem::path unsaved, QObject* parent = nullptr);
  ~Desk() override;

  /// Opens an order in a window in place of the one that is there. On failure nothing is closed, and the reasons are returned.
  Result<Done> open(const std::filesystem::path& order);
  /// nullptr before the first order.
  OrderWindow* window() { return window_.get(); }

  /// Writes a new order of a design beside the other orders of the house and opens it. Fails with "files.exists" rather than write over a file.
  Result<Done> begin_order(const family::NewOrder& order, const std::filesystem::path& file);

  /// The window in which an existing turning is matched, for the house of the order that is open. A design that is kept there is opened as an order of
  /// its own. REQUIRES: window().
  MatchWindow& match();

  static std::filesystem::path unsaved_folder();

 private:
  void wire(OrderWindow& window);
  void ask_to_open();
  void ask_for_design();
  void open_matched(const std::string& design);
  void open_or_say(const std::filesystem::path& order);
  void remember(const std::filesystem::path& order);

  std::unique_ptr<FileSystem> files_;
  std::filesystem::path installed_, unsaved_;
  std::unique_ptr<OrderWindow> window_;
  std::unique_ptr<MatchWindow> match_;
  std::unique_ptr<OrderWindow> leaving_;  ///< the one before, until the event that replaced it is over: it may be the one that asked
};

}  // namespace pommel::ui
