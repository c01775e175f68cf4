// The piece with its joints as a solid, turned before the eye, in a window of its own; made in the background, and given up when the
// measures change again.
#pragma once

#include <QLabel>
#include <QLayout>
#include <QWidget>
#include <optional>

#include "ui/models/newest_work.h"
#include "ui/views/turned_picture.h"

namespace pommel::ui {

class SolidView : public QWidget {
  Q_OBJECT

 public:
  /// A window of its own over `parent`.
  explicit SolidView(QWidget* parent);

  /// Nothing: the measures make no piece. The same part again is not made again. `about`: radians from face A, the side that is seen first.
  void show_part(const std::optional<shape::Part>& part, const QString& name, double about);
  /// Until anything of it is seen.
  bool busy() const { return busy_; }
  /// Until it is seen as fine as it will be.
  bool refining() const { return refining_; }
  TurnedPicture& picture() { return *picture_; }
  QString told() const { return told_->text(); }

 private:
  void choose_picture(bool on_screen);
  void take(std::shared_ptr<const job::Skin> skin);
  void end(const Result<Done>& made);

  std::optional<shape::Part> part_;  // that is shown or made
  QString name_;
  double about_ = 0;
  std::shared_ptr<const job::Skin> skin_;
  TurnedPicture* picture_ = nullptr;
  QLayout* room_;
  QLabel* told_;
  bool busy_ = false, refining_ = false;
  NewestWork worker_{*this};  // last: it goes first
};

}  // namespace pommel::ui
