// The solid as it is turned before the eye. Two ways to draw it share the hand's part: a software picture that works everywhere, and the
// kernel's viewer on an X server with OpenGL.
//
//     drag, arrows          turn it
//     wheel, + and -        closer and farther
//     shift and drag        push it aside
//     Home, a               as it stood at first
#pragma once

#include <QWidget>
#include <memory>

#include "job/skin.h"
#include "viewer/viewer.h"

namespace pommel::ui {

class TurnedPicture : public QWidget {
  Q_OBJECT

 public:
  explicit TurnedPicture(QWidget* parent = nullptr);

  /// nullptr: nothing to show.
  virtual void show_skin(std::shared_ptr<const job::Skin> skin);
  bool is_empty() const { return !skin_; }
  const job::Skin* skin_shown() const { return skin_.get(); }
  /// Upright, a little beside the direction `about` round its axis (radians from face A), to which Home comes back.
  void begin_at(double about);
  void begin_again();
  viewer::Look look() const;
  QSize sizeHint() const override { return {520, 680}; }

 protected:
  virtual void turned() { update(); }

  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void turn(double about, double over);
  void come_closer(double factor);

  std::shared_ptr<const job::Skin> skin_;
  double size_ = 1;                             // mm across the piece at most
  double first_ = 0;                            // radians
  double about_ = 0.6, over_ = 0.25;            // radians round the axis from face A, and above the level
  double closer_ = 1, right_ = 0, higher_ = 0;  // times, pixels
  QPointF last_;
};

/// Drawn by the processor.
class SoftwarePicture : public TurnedPicture {
  Q_OBJECT

 public:
  using TurnedPicture::TurnedPicture;

 protected:
  void paintEvent(QPaintEvent* event) override;
};

/// Drawn by the kernel's viewer, which is opened with the first picture.
class ScreenPicture : public TurnedPicture {
  Q_OBJECT

 public:
  explicit ScreenPicture(QWidget* parent = nullptr);
  ~ScreenPicture() override;

  /// Whether this platform has the windows that the viewer needs; OpenGL is known when it is opened only.
  static bool may_work();
  void show_skin(std::shared_ptr<const job::Skin> skin) override;
  QPaintEngine* paintEngine() const override { return nullptr; }
  /// For tests.
  double covered();

 signals:
  /// The viewer cannot draw here: another picture is needed.
  void refused();

 protected:
  void turned() override;
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

 private:
  bool ready();

  std::unique_ptr<viewer::Viewer> viewer_;
  bool stale_ = true, refused_ = false;
};

}  // namespace pommel::ui
