#include "ui/views/cut_view.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "paper/canvas.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr int kStates = 161;        // a state every 20 seconds of an hour's cutting
constexpr int kTick = 50;           // milliseconds
constexpr int kSteps = 1000;        // of the slider
constexpr double kSpeeds[] = {1.0 / 60, 0.5, 2, 10};  // minutes of cutting a second

QColor shaded(const QColor& colour, double light) {
  const auto one = [light](int channel) { return static_cast<int>(std::clamp(channel * light, 0.0, 255.0)); };
  return {one(colour.red()), one(colour.green()), one(colour.blue())};
}

}  // namespace

// --- strip

CutStrip::CutStrip(LengthAxis& axis, QWidget* parent) : AxisStrip(axis, tr("the wood under the cutter"), parent) { setMinimumHeight(static_cast<int>(grown(20)) + 110); }

void CutStrip::show_state(std::shared_ptr<const proof::CutStates> states, std::size_t which, double phi) {
  states_ = std::move(states);
  which_ = which, phi_ = phi;
  update();
}

void CutStrip::paint(QPainter& painter) {
  if (!states_) return name_strip(painter, tr("the wood under the cutter: …"));
  name_strip(painter, tr("the wood under the cutter"));
  const auto& first = states_->states.front().radius;
  const double most = *std::max_element(first.begin(), first.end());
  const double room = height() - grown(24), scale = std::min(pixels_per_mm(), room / (2.5 * most)), middle = grown(22) + room / 2 + 0.2 * most * scale;
  const proof::WoodState& state = states_->states[which_];
  paint_wood(painter, state, scale, middle);
  if (state.line > 0) paint_cutter(painter, state, scale, middle);
}

// Each row is a column of pixels: the visible half of its section, from the edges to the middle, so that what is nearer is painted last.
void CutStrip::paint_wood(QPainter& painter, const proof::WoodState& state, double scale, double middle) const {
  const auto columns = static_cast<std::size_t>(states_->columns);
  const double step = 2 * std::numbers::pi / states_->columns;
  const auto radius = [&](std::size_t row, std::size_t column) { return state.radius[row * columns + column % columns]; };
  const auto& whole = states_->states.front().radius;
  painter.setRenderHint(QPainter::Antialiasing, false);
  std::size_t row = 0;
  for (int px = 0; px < width(); ++px) {
    const double x = axis().at_pixel(px + 0.5, width());
    if (x < states_->x.front() || x > states_->x.back()) continue;
    while (row + 2 < states_->x.size() && states_->x[row + 1] < x) ++row;
    const std::size_t next = row + 1;
    const auto turn = static_cast<std::size_t>(std::lround(phi_ / step)) + columns;
    for (std::size_t from_edge = 0; from_edge < columns / 4; ++from_edge) {
      for (const bool upper : {true, false}) {
        // alpha: beside the line of sight
        const std::size_t j = upper ? turn - columns / 4 + from_edge : turn + columns / 4 - from_edge - 1;
        const double a0 = (static_cast<double>(j) - static_cast<double>(turn)) * step, a1 = a0 + step;
        const double r0 = radius(row, j), r1 = radius(row, j + 1);
        const double y0 = r0 * std::sin(a0), y1 = r1 * std::sin(a1), z0 = r0 * std::cos(a0), z1 = r1 * std::cos(a1);
        const double dy = y1 - y0, dz = z1 - z0, along = (radius(next, j) - r0) / (states_->x[next] - states_->x[row]);
        const double size = std::sqrt(dy * dy + dz * dz) * std::sqrt(1 + along * along) + 1e-9;
        const double light = 0.5 + 0.55 * std::max(0.0, (0.45 * dz + 0.8 * dy) / size - 0.15 * along / std::sqrt(1 + along * along));
        const bool fresh = r0 < whole[row * columns + j % columns] - 0.05f;
        painter.fillRect(QRectF(QPointF(px, middle + scale * std::min(y0, y1)), QPointF(px + 1, middle + scale * std::max(y0, y1) + 1)),
                         shaded(fresh ? paper::tone::wood_lit : paper::tone::wood_edge, std::min(1.08, light)));
      }
    }
  }
  painter.setRenderHint(QPainter::Antialiasing);
}

// From above, over the wood that is turned under it: its end, and as much of its body as finds room.
void CutStrip::paint_cutter(QPainter& painter, const proof::WoodState& state, double scale, double middle) const {
  const shop::Cutter& cutter = states_->cutters[state.cutter];
  const double half = std::max(1.5, scale * cutter.diameter / 2), at = pixel(state.x), tip = middle - scale * state.height;
  painter.setPen(QPen(tones().mark, 1.5));
  painter.setBrush(QColor(0xff, 0xff, 0xff, 0x90));
  const double top = std::min(tip - 4 * half, tip - 10.0);
  QPolygonF body;
  constexpr int kArc = 10;
  const bool round = cutter.form == shop::Cutter::Form::ball;
  body << QPointF(at - half, top);
  for (int i = 0; i <= kArc; ++i) {
    const double a = std::numbers::pi * i / kArc;
    body << (round ? QPointF(at - half * std::cos(a), tip - half + half * std::sin(a)) : QPointF(at - half + 2 * half * i / kArc, tip));
  }
  body << QPointF(at + half, top);
  painter.drawPolyline(body);
}

// --- view

CutView::CutView(LengthAxis& axis, QWidget* parent) : QWidget(parent), strip_(new CutStrip(axis)) {
  slider_ = new QSlider(Qt::Horizontal);
  slider_->setRange(0, kSteps);
  slider_->setAccessibleName(tr("how far the cut has gone"));
  speed_ = new QComboBox;
  speed_->setAccessibleName(tr("how fast the cut is shown"));
  for (const QString& words : {tr("as it cuts"), tr("half a minute a second"), tr("two minutes a second"), tr("ten minutes a second")}) speed_->addItem(words);
  speed_->setCurrentIndex(2);
  back_ = new QPushButton(tr("Backwards"));
  stand_ = new QPushButton(tr("Stand still"));
  on_ = new QPushButton(tr("Let it cut"));
  told_ = new QLabel;
  told_->setMinimumWidth(34 * fontMetrics().averageCharWidth());
  auto* across = new QHBoxLayout;
  across->setContentsMargins(LengthAxis::kMargin, 2, LengthAxis::kMargin, 2);
  for (QPushButton* one : {back_, stand_, on_}) across->addWidget(one);
  across->addWidget(speed_);
  across->addWidget(slider_, 1);
  across->addWidget(told_);
  auto* down = new QVBoxLayout(this);
  down->setContentsMargins(0, 0, 0, 0);
  down->setSpacing(0);
  down->addWidget(strip_, 1);
  down->addLayout(across);
  clock_.setInterval(kTick);
  connect(&clock_, &QTimer::timeout, this, &CutView::tick);
  connect(slider_, &QSlider::valueChanged, this, [this](int value) {
    if (states_) go_to(states_->minutes * value / kSteps);
  });
  connect(back_, &QPushButton::clicked, this, [this] { run(-speed()); });
  connect(stand_, &QPushButton::clicked, this, [this] { run(0); });
  connect(on_, &QPushButton::clicked, this, [this] { run(speed()); });
  connect(speed_, &QComboBox::activated, this, [this] {
    if (a_second_ != 0) run(a_second_ < 0 ? -speed() : speed());
  });
  tell();
}

double CutView::speed() const { return kSpeeds[speed_->currentIndex()]; }

void CutView::show_cut(std::shared_ptr<const job::Programs> programs, const std::optional<job::TurningRequest>& request, double phi) {
  phi_ = phi;
  if (programs == programs_) return;
  programs_ = std::move(programs);
  request_ = request;
  states_.reset();
  asked_ = false;
  run(0);
  worker_.give_up();
  strip_->show_state(nullptr, 0, phi_);
  tell();
  if (isVisible()) make();
}

void CutView::showEvent(QShowEvent*) { make(); }

void CutView::make() {
  if (asked_ || !programs_ || !request_) return;
  asked_ = true;
  worker_.ask([this, programs = programs_, request = *request_](std::stop_token stop) {
    return [this, states = job::cut_states(*programs, request, kStates, stop)] { take(states); };
  });
}

void CutView::take(const Result<proof::CutStates>& states) {
  if (!states.ok()) return told_->setText(lines_of(states.reasons()).join(u' '));
  states_ = std::make_shared<const proof::CutStates>(*states);
  go_to(std::clamp(minutes_, 0.0, states_->minutes));
}

void CutView::go_to(double minutes) {
  if (!states_) return;
  minutes_ = std::clamp(minutes, 0.0, states_->minutes);
  const QSignalBlocker quiet(slider_);
  slider_->setValue(static_cast<int>(std::lround(kSteps * minutes_ / std::max(1e-9, states_->minutes))));
  strip_->show_state(states_, states_->at_minutes(minutes_), phi_);
  tell();
  emit line_shown(state().line);
}

void CutView::go_to_line(int line) {
  if (!states_) return;
  const QSignalBlocker quiet(this);  // whoever asked knows the line
  go_to(states_->states[states_->at_line(line)].minutes);
}

void CutView::run(double minutes_a_second) {
  a_second_ = minutes_a_second;
  if (a_second_ == 0) clock_.stop();
  else clock_.start();
}

void CutView::tick() {
  if (!states_) return run(0);
  go_to(minutes_ + a_second_ * kTick / 1000);
  if (minutes_ == 0 || minutes_ == states_->minutes) run(0);
}

void CutView::tell() {
  for (QWidget* one : std::initializer_list<QWidget*>{back_, stand_, on_, slider_}) one->setEnabled(states_ != nullptr);
  if (!states_) return told_->setText(programs_ ? tr("cutting the blank …") : tr("no checked program yet"));
  told_->setText(tr("%1 of %2 min, line %3").arg(minutes_, 0, 'f', 1).arg(states_->minutes, 0, 'f', 1).arg(state().line));
}

}  // namespace pommel::ui
