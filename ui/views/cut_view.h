// The wood going under the cutter, as the check's simulation has it: a strip on the length axis, and how far the cut has gone, both ways and at any
// speed.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <QTimer>
#include <memory>
#include <optional>

#include "job/cut_states.h"
#include "ui/models/newest_work.h"
#include "ui/views/axis_strip.h"

namespace pommel::ui {

/// Paints one state: the wood seen from the side `phi`, fresh wood lighter than the blank's own skin, and the cutter where it stands.
class CutStrip : public AxisStrip {
  Q_OBJECT

 public:
  CutStrip(LengthAxis& axis, QWidget* parent = nullptr);
  void show_state(std::shared_ptr<const proof::CutStates> states, std::size_t which, double phi);
  QSize sizeHint() const override { return {1000, 170}; }

 protected:
  void paint(QPainter& painter) override;

 private:
  void paint_wood(QPainter& painter, const proof::WoodState& state, double scale, double middle) const;
  void paint_cutter(QPainter& painter, const proof::WoodState& state, double scale, double middle) const;

  std::shared_ptr<const proof::CutStates> states_;
  std::size_t which_ = 0;
  double phi_ = 0;
};

class CutView : public QWidget {
  Q_OBJECT

 public:
  explicit CutView(LengthAxis& axis, QWidget* parent = nullptr);

  /// nullptr: no checked program (yet). States are made in the background, when the view is seen.
  void show_cut(std::shared_ptr<const job::Programs> programs, const std::optional<job::TurningRequest>& request, double phi);
  bool ready() const { return states_ != nullptr; }
  /// To the state of a moment, or of a line of the text.
  void go_to(double minutes);
  void go_to_line(int line);
  double minutes() const { return minutes_; }
  const proof::WoodState& state() const { return states_->states[states_->at_minutes(minutes_)]; }
  /// Minutes of cutting in a second, below 0: back, 0: it stands.
  void run(double minutes_a_second);
  QString told() const { return told_->text(); }
  QSlider& slider() { return *slider_; }
  CutStrip& strip() { return *strip_; }

 signals:
  /// The line whose state is shown, by the hand or by the clock.
  void line_shown(int line);

 protected:
  void showEvent(QShowEvent* event) override;

 private:
  void make();
  void take(const Result<proof::CutStates>& states);
  void tick();
  void tell();
  double speed() const;

  CutStrip* strip_;
  QSlider* slider_;
  QComboBox* speed_;
  QPushButton *back_, *stand_, *on_;
  QLabel* told_;
  QTimer clock_;
  double a_second_ = 0, minutes_ = 0, phi_ = 0;
  std::shared_ptr<const job::Programs> programs_;
  std::optional<job::TurningRequest> request_;
  std::shared_ptr<const proof::CutStates> states_;
  bool asked_ = false;
  NewestWork worker_{*this};  // last: it goes first
};

}  // namespace pommel::ui
