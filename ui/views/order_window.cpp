#include "ui/views/order_window.h"

#include <QMessageBox>
#include <QScrollArea>
#include <QSplitter>
#include <QStatusBar>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/views/hint.h"
#include "ui/views/in_words.h"
#include "ui/views/telling_bar.h"

namespace pommel::ui {
namespace {

constexpr int kKeepAfter = 800;  ///< milliseconds after the last change until a copy is kept

}  // namespace

OrderWindow::OrderWindow(job::Loaded loaded, sheet::Sheet sheet, job::Sources sources, OrderFile file, QWidget* parent)
    : QMainWindow(parent), book_(std::move(loaded), std::move(sheet), std::move(sources)), file_(std::move(file)), shop_book_(file_.files()), model_(new SheetModel(book_, this)), axis_(new LengthAxis(this)) {
  build();
  build_menus();
  connect(&book_, &OrderBook::edited, this, [this](const std::vector<std::size_t>& columns) {
    for (const std::size_t column : columns) {
      columns_[column].measures_changed();
      unanswered_.insert(column);
    }
    ask();
  });
  connect(&book_, &OrderBook::reshaped, this, &OrderWindow::reshape);
  connect(&book_, &OrderBook::rewritten, this, &OrderWindow::rewritten);
  connect(&book_, &OrderBook::shown_changed, this, &OrderWindow::show_all);
  connect(&book_, &OrderBook::stuck, this, [this](const std::vector<Diagnostic>& reasons) { QMessageBox::warning(this, tr("This step cannot be taken"), lines_of(reasons).join("\n\n")); });
  connect(&book_.undo(), &QUndoStack::indexChanged, this, [this] {
    setWindowModified(!file_.saved(draft()));
    keep_soon_.start();
  });
  connect(&follower_, &Follower::sketched, this, [this](const std::shared_ptr<const Sketched>& answer) { take(*answer); });
  connect(&follower_, &Follower::followed, this, [this](const std::shared_ptr<const Followed>& answer) { take(*answer); });
  connect(&follower_, &Follower::checked, this, [this](const std::shared_ptr<const Checked>& answer) { columns_[answer->column].checked = answer, show_all(); });
  connect(&follower_, &Follower::rested, this, [this] {
    settled_ = true;
    show_all();
    emit followed_up();
  });
  connect(&maker_, &FolderMaker::began, this, [this](const QString& stage) { doing_->setText(tr("making the job folder: %1 …").arg(stage)); });
  connect(&maker_, &FolderMaker::ended, this, [this](const std::vector<Diagnostic>& reasons) {
    stop_making_->hide();
    const bool stopped = !reasons.empty() && reasons.front().id == "cancelled";
    doing_->setText(reasons.empty() ? tr("the job folder is made") : stopped ? tr("stopped: no folder was made") : tr("no folder was made"));
    if (!reasons.empty() && !stopped) QMessageBox::warning(this, tr("No job folder"), lines_of(reasons).join("\n\n"));
  });
  connect(axis_, &LengthAxis::changed, this, &OrderWindow::follow_hairline);
  keep_soon_.setSingleShot(true);
  keep_soon_.setInterval(kKeepAfter);
  connect(&keep_soon_, &QTimer::timeout, this, &OrderWindow::keep_copy);
  reshape();
}

// What is shown goes before what it shows, and nothing that goes tells us any more.
OrderWindow::~OrderWindow() {
  book_.disconnect(this);
  book_.undo().disconnect(this);
  grid_->disconnect(this);
  delete program_;
  delete takeCentralWidget();
}

void OrderWindow::build() {
  name_window();
  overview_ = new Overview(*axis_, content_);
  elevation_ = new Elevation(*axis_, content_);
  radius_ = new RadiusStrip(*axis_, content_);
  blank_ = new BlankStrip(*axis_, content_);
  check_ = new CheckStrip(*axis_, content_);
  for (AxisStrip* on_demand : std::initializer_list<AxisStrip*>{radius_, blank_, check_}) on_demand->hide();
  for (AxisStrip* strip : std::initializer_list<AxisStrip*>{elevation_, radius_, blank_, check_}) connect(strip, &AxisStrip::picked, this, &OrderWindow::pick);
  connect(elevation_, &Elevation::drawn_to, this, &OrderWindow::draw_to);
  connect(elevation_, &Elevation::stretched_to, this, &OrderWindow::stretch_to);
  cut_ = new CutView(*axis_);
  cut_->hide();
  connect(&cut_->strip(), &AxisStrip::picked, this, &OrderWindow::pick);
  connect(cut_, &CutView::line_shown, this, [this](int line) {
    if (program_ && program_->isVisible() && line > 0) program_->go_to_line(line);
  });
  palette_ = new OutlinePalette(book_);
  palette_->hide();
  grid_ = new MeasureGrid(*model_);
  find_ = new QLineEdit;
  show_hint(*find_, tr("find a measure by its name or what it is"));
  find_->setAccessibleName(tr("find a measure"));
  find_->setClearButtonEnabled(true);
  connect(find_, &QLineEdit::textChanged, grid_, &MeasureGrid::find);
  connect(find_, &QLineEdit::returnPressed, grid_, [this] { grid_->setFocus(); });
  connect(grid_, &MeasureGrid::current_moved, this, [this](const QModelIndex& cell) {
    model_->follow_formula(cell);
    mark_elements();
    elevation_->update();
    if (const auto column = cell.isValid() ? model_->sheet_column(cell.column()) : std::nullopt; column && *column >= family::kOrder) show_column(*column);
  });
  pieces_ = new QComboBox;
  pieces_->setAccessibleName(tr("which piece is shown"));
  connect(pieces_, &QComboBox::activated, this, [this](int which) {
    shown_piece_ = faces_[static_cast<std::size_t>(which)].first;
    shown_member_ = faces_[static_cast<std::size_t>(which)].second;
    show_all();
  });
  standing_ = new StandingView;
  follows_ = new FollowsView;

  foot_ = new QLabel;
  foot_->setWordWrap(true);
  foot_->setMargin(6);
  foot_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
  reading_ = new QLabel;
  doing_ = new QLabel;
  stop_making_ = new QPushButton(tr("Stop"));
  stop_making_->hide();
  connect(stop_making_, &QPushButton::clicked, &maker_, &FolderMaker::cancel);
  statusBar()->addWidget(reading_, 1);
  statusBar()->addPermanentWidget(doing_);
  statusBar()->addPermanentWidget(stop_making_);

  auto* take = new QPushButton(tr("Take them"));
  auto* leave = new QPushButton(tr("Leave them"));
  left_behind_ = telling_bar(new QLabel(tr("The last session ended with changes to this order that were not saved.")), {take, leave});
  connect(take, &QPushButton::clicked, this, &OrderWindow::take_left_behind);
  connect(leave, &QPushButton::clicked, this, [this] {
    file_.forget();
    left_behind_->hide();
  });

  notice_says_ = new QLabel;
  notice_says_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  auto* seen = new QPushButton(tr("Close"));
  notice_ = telling_bar(notice_says_, {seen});
  connect(seen, &QPushButton::clicked, notice_, &QWidget::hide);

  steps_ = steps_bar();
  held_bar_ = held_bar();
  auto* strips = new QWidget;
  auto* down = new QVBoxLayout(strips);
  down->setContentsMargins(0, 0, 0, 0);
  down->setSpacing(1);
  down->addWidget(overview_, 2);
  down->addWidget(elevation_, 4);
  down->addWidget(palette_);
  down->addWidget(radius_, 2);
  down->addWidget(blank_, 2);
  down->addWidget(check_, 2);
  down->addWidget(cut_, 2);

  auto* measures = new QWidget;
  auto* left = new QVBoxLayout(measures);
  left->setContentsMargins(4, 4, 0, 0);
  auto* over = new QHBoxLayout;
  over->addWidget(find_, 1);
  over->addWidget(pieces_);
  left->addLayout(over);
  left->addWidget(grid_, 1);

  auto* standing = new QSplitter(Qt::Vertical);
  standing->addWidget(standing_);
  standing->addWidget(follows_);
  standing->setStretchFactor(0, 3);
  standing->setStretchFactor(1, 2);
  auto* lower = new QSplitter(Qt::Horizontal);
  lower->addWidget(measures);
  lower->addWidget(standing);
  lower->setStretchFactor(0, 3);
  lower->setStretchFactor(1, 2);
  halves_ = new QSplitter(Qt::Vertical);
  strips_ = new QScrollArea;  // where a small window has no room for all strips that are open
  strips_->setWidget(strips);
  strips_->setWidgetResizable(true);
  strips_->setFrameShape(QFrame::NoFrame);
  strips_->setFocusPolicy(Qt::NoFocus);
  strips_->setMinimumHeight(300);
  halves_->addWidget(strips_);
  halves_->addWidget(lower);
  halves_->setStretchFactor(0, 2);
  halves_->setStretchFactor(1, 3);

  auto* middle = new QWidget;
  auto* all = new QVBoxLayout(middle);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  all->addWidget(steps_);
  all->addWidget(left_behind_);
  all->addWidget(notice_);
  all->addWidget(held_bar_);
  all->addWidget(halves_, 1);
  all->addWidget(foot_);
  setCentralWidget(middle);
  setAcceptDrops(true);
  resize(1280, 860);
}

void OrderWindow::name_window() { setWindowTitle(tr("%1, order %2[*] — Pommel").arg(text(book_.loaded().order->name), text(book_.loaded().order->number))); }

// --- asking and taking answers

// Pieces stay to be seen as those of yesterday, all else is worked out again.
void OrderWindow::rewritten() {
  name_window();
  for (auto& [column, state] : columns_) state.measures_changed();
  reshape();
}

void OrderWindow::reshape() {
  std::erase_if(columns_, [this](const auto& one) { return one.first >= book_.sheet().column_count(); });
  for (auto& [column, state] : columns_)
    if (column != family::kCatalogue) state.measures_changed();
  unanswered_.clear();
  for (std::size_t column = 0; column < book_.sheet().column_count(); ++column)
    if (column != family::kCatalogue || !columns_[column].followed) unanswered_.insert(column);
  shown_column_ = std::min(shown_column_, book_.sheet().column_count() - 1);
  grid_->setCurrentIndex(model_->index(std::max(0, model_->row_of("table_height")), SheetModel::kCatalogueValue + static_cast<int>(shown_column_)));
  ask();
}

void OrderWindow::ask() {
  settled_ = false;
  std::vector<std::size_t> columns;
  // the one that is looked at comes first
  if (unanswered_.contains(shown_column_)) columns.push_back(shown_column_);
  for (const std::size_t column : unanswered_)
    if (column != shown_column_) columns.push_back(column);
  std::erase_if(columns, [this](std::size_t column) { return !book_.sheet().sound(column); });
  const bool check = book_.sheet().sound(shown_column_) && !columns_[shown_column_].checked;
  if (check && std::find(columns.begin(), columns.end(), shown_column_) == columns.end()) columns.push_back(shown_column_);
  if (columns.empty()) {
    follower_.give_up();
    settled_ = true;
    show_all();
    emit followed_up();
    return;
  }
  follower_.follow(book_.basis(), book_.catalogued(), std::move(columns), check ? std::optional(shown_column_) : std::nullopt);
  show_all();
}

void OrderWindow::take(const Sketched& answer) {
  ColumnState& state = columns_[answer.column];
  if (answer.made) state.made = answer.made, state.stale = false;
  else state.reasons = answer.reasons;
  show_all();
}

void OrderWindow::take(const Followed& answer) {
  ColumnState& state = columns_[answer.column];
  unanswered_.erase(answer.column);
  state.followed = answer.result;
  state.reasons = answer.reasons;
  if (answer.result) book_.set_outcomes(answer.column, answer.result->outcomes);
  show_all();
}

}  // namespace pommel::ui
