#include "ui/views/order_window.h"

#include <QActionGroup>
#include <QApplication>
#include <QCloseEvent>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFileDialog>
#include <QMenuBar>
#include <QMessageBox>
#include <QMimeData>
#include <QScrollArea>
#include <QSettings>
#include <QSplitter>
#include <QStatusBar>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/models/element_measures.h"
#include "ui/views/seek_dialog.h"
#include "ui/views/tones.h"
#include "ui/views/words_of_the_trade.h"

namespace pommel::ui {
namespace {

constexpr auto kStepsKnown = "steps-known";
constexpr int kKeepAfter = 800;  ///< milliseconds after the last change until a copy is kept

QString text(const std::string& bytes) { return QString::fromStdString(bytes); }

QStringList lines_of(const std::vector<Diagnostic>& reasons) {
  QStringList out;
  for (const Diagnostic& reason : reasons) out << text(reason.message + (reason.remedy.empty() ? "" : ": " + reason.remedy));
  return out;
}

QString minutes_text(double minutes) { return QObject::tr("%1 min").arg(minutes, 0, 'f', 0); }

}  // namespace

OrderWindow::OrderWindow(job::Loaded loaded, sheet::Sheet sheet, OrderFile file, QWidget* parent)
    : QMainWindow(parent), book_(std::move(loaded), std::move(sheet)), file_(std::move(file)), model_(new SheetModel(book_, this)), follower_(book_.loaded()), axis_(new LengthAxis(this)) {
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
  connect(&book_, &OrderBook::shown_changed, this, &OrderWindow::show_all);
  connect(&book_.undo(), &QUndoStack::indexChanged, this, [this] {
    setWindowModified(!file_.saved(entries()));
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
  setWindowTitle(tr("%1, order %2[*] — Pommel").arg(text(book_.loaded().order->name), text(book_.loaded().order->number)));
  overview_ = new Overview(*axis_, content_);
  elevation_ = new Elevation(*axis_, content_);
  radius_ = new RadiusStrip(*axis_, content_);
  blank_ = new BlankStrip(*axis_, content_);
  check_ = new CheckStrip(*axis_, content_);
  for (AxisStrip* on_demand : std::initializer_list<AxisStrip*>{radius_, blank_, check_}) on_demand->hide();
  for (AxisStrip* strip : std::initializer_list<AxisStrip*>{elevation_, radius_, blank_, check_}) connect(strip, &AxisStrip::picked, this, &OrderWindow::pick);
  connect(elevation_, &Elevation::drawn_to, this, &OrderWindow::draw_to);
  grid_ = new MeasureGrid(*model_);
  find_ = new QLineEdit;
  find_->setPlaceholderText(tr("find a measure by its name or what it is"));
  find_->setAccessibleName(tr("find a measure"));
  find_->setClearButtonEnabled(true);
  connect(find_, &QLineEdit::textChanged, grid_, &MeasureGrid::find);
  connect(find_, &QLineEdit::returnPressed, grid_, [this] { grid_->setFocus(); });
  connect(grid_, &MeasureGrid::current_moved, this, [this](const QModelIndex& cell) {
    model_->follow_formula(cell);
    if (const auto column = cell.isValid() ? model_->sheet_column(cell.column()) : std::nullopt; column && *column >= family::kOrder) show_column(*column);
  });
  pieces_ = new QComboBox;
  pieces_->setAccessibleName(tr("which piece is shown"));
  connect(pieces_, &QComboBox::activated, this, [this](int which) {
    shown_piece_ = static_cast<std::size_t>(which);
    show_all();
  });
  standing_ = new StandingView;
  told_ = new QPlainTextEdit;
  told_->setReadOnly(true);
  told_->setAccessibleName(tr("what is different from the catalogue, and the cut check"));
  told_->setTabChangesFocus(true);

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

  left_behind_ = new QWidget;
  auto* bar = new QHBoxLayout(left_behind_);
  auto* say = new QLabel(tr("The last session ended with changes to this order that were not saved."));
  auto* take = new QPushButton(tr("Take them"));
  auto* leave = new QPushButton(tr("Leave them"));
  bar->addWidget(say, 1);
  bar->addWidget(take);
  bar->addWidget(leave);
  connect(take, &QPushButton::clicked, this, &OrderWindow::take_left_behind);
  connect(leave, &QPushButton::clicked, this, [this] {
    file_.forget();
    left_behind_->hide();
  });
  left_behind_->hide();

  steps_ = steps_bar();
  auto* strips = new QWidget;
  auto* down = new QVBoxLayout(strips);
  down->setContentsMargins(0, 0, 0, 0);
  down->setSpacing(1);
  down->addWidget(overview_, 2);
  down->addWidget(elevation_, 4);
  down->addWidget(radius_, 2);
  down->addWidget(blank_, 2);
  down->addWidget(check_, 2);

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
  standing->addWidget(told_);
  standing->setStretchFactor(0, 3);
  standing->setStretchFactor(1, 2);
  auto* lower = new QSplitter(Qt::Horizontal);
  lower->addWidget(measures);
  lower->addWidget(standing);
  lower->setStretchFactor(0, 3);
  lower->setStretchFactor(1, 2);
  auto* halves = new QSplitter(Qt::Vertical);
  auto* scroll = new QScrollArea;  // where a small window has no room for all strips that are open
  scroll->setWidget(strips);
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setFocusPolicy(Qt::NoFocus);
  scroll->setMinimumHeight(300);
  halves->addWidget(scroll);
  halves->addWidget(lower);
  halves->setStretchFactor(0, 2);
  halves->setStretchFactor(1, 3);

  auto* middle = new QWidget;
  auto* all = new QVBoxLayout(middle);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  all->addWidget(steps_);
  all->addWidget(left_behind_);
  all->addWidget(halves, 1);
  all->addWidget(foot_);
  setCentralWidget(middle);
  setAcceptDrops(true);
  resize(1280, 860);
}

// The way through the window, until somebody has read it.
QWidget* OrderWindow::steps_bar() {
  auto* bar = new QWidget;
  auto* across = new QHBoxLayout(bar);
  across->setContentsMargins(10, 3, 6, 3);
  auto* pick = new QPushButton(tr("1  Pick a design"));
  auto* height = new QPushButton(tr("2  Type the size you want"));
  auto* read = new QPushButton(tr("3  Read what follows"));
  auto* known = new QPushButton(tr("I know the way"));
  connect(pick, &QPushButton::clicked, this, &OrderWindow::new_wanted);
  connect(height, &QPushButton::clicked, this, [this] {
    grid_->setCurrentIndex(model_->index(std::max(1, model_->row_of("table_height")), SheetModel::kOrderValue));
    grid_->setFocus();
  });
  connect(read, &QPushButton::clicked, this, [this] {
    grid_->go_to(book_.sheet().outcomes().front(), SheetModel::kOrderValue);
    grid_->setFocus();
  });
  connect(known, &QPushButton::clicked, this, [bar] {
    QSettings().setValue(kStepsKnown, true);
    bar->hide();
  });
  for (QPushButton* one : {pick, height, read}) across->addWidget(one);
  across->addStretch(1);
  across->addWidget(known);
  bar->setVisible(!QSettings().value(kStepsKnown).toBool());
  return bar;
}

QAction* OrderWindow::action(QMenu* menu, const QString& words, const QKeySequence& keys, std::function<void()> run) {
  auto* made = menu->addAction(words);
  made->setShortcut(keys);
  if (run) connect(made, &QAction::triggered, this, [run = std::move(run)] { run(); });
  return made;
}

void OrderWindow::build_menus() {
  auto* order = menuBar()->addMenu(tr("&Order"));
  action(order, tr("&New from a design …"), QKeySequence::New, [this] { emit new_wanted(); });
  action(order, tr("&Open …"), QKeySequence::Open, [this] { emit open_wanted(); });
  recent_ = order->addMenu(tr("Open a&gain"));
  recent_->setEnabled(false);
  action(order, tr("&Save"), QKeySequence::Save, [this] { save(file_.path()); });
  action(order, tr("Save &under another name …"), QKeySequence::SaveAs, [this] { ask_where_to_save(); });
  order->addSeparator();
  action(order, tr("Make the &job folder …"), QKeySequence(Qt::CTRL | Qt::Key_J), [this] { ask_for_folder(); });
  order->addSeparator();
  action(order, tr("&Close"), QKeySequence::Close, [this] { close(); });

  auto* measures = menuBar()->addMenu(tr("&Measures"));
  QAction* undo = book_.undo().createUndoAction(this, tr("&Undo"));
  undo->setShortcut(QKeySequence::Undo);
  QAction* redo = book_.undo().createRedoAction(this, tr("&Redo"));
  redo->setShortcut(QKeySequence::Redo);
  measures->addActions({undo, redo});
  measures->addSeparator();
  // keys of the grid itself: they must not be taken from a text that is being typed
  measures->addAction(tr("&Copy\tCtrl+C"), grid_, &MeasureGrid::copy);
  measures->addAction(tr("&Paste\tCtrl+V"), grid_, &MeasureGrid::paste);
  measures->addAction(tr("Take the catalogue's again\tDel"), grid_, &MeasureGrid::clear_cells);
  action(measures, tr("Carry &across all sizes"), QKeySequence(Qt::CTRL | Qt::Key_R), [this] { grid_->carry_across(); });
  measures->addSeparator();
  action(measures, tr("Try &another size beside it"), QKeySequence(Qt::CTRL | Qt::Key_T), [this] { book_.try_another_size(shown_column_); });
  action(measures, tr("&Drop the size tried"), {}, [this] {
    if (shown_column_ > family::kOrder) book_.drop_size(shown_column_);
  });
  action(measures, tr("Find the measure that &gives …"), QKeySequence(Qt::CTRL | Qt::Key_G), [this] {
    const QModelIndex at = grid_->currentIndex();
    SeekDialog(book_, shown_column_, at.isValid() ? model_->name_of(at.row()) : std::string(), this).exec();
  });
  action(measures, tr("&Find"), QKeySequence::Find, [this] { find_->setFocus(), find_->selectAll(); });

  auto* show = menuBar()->addMenu(tr("&Show"));
  auto* units = new QActionGroup(this);
  const LengthFormat &of_order = book_.shown().lengths;
  for (const auto& [words, unit] : {std::pair{tr("&Millimetres"), LengthUnit::millimetre}, std::pair{tr("&Inches"), LengthUnit::inch}, std::pair{tr("Feet and i&nches"), LengthUnit::foot}}) {
    QAction* one = action(show, words, {}, [this, unit = unit, of_order] {
      LengthFormat lengths = of_order;
      lengths.unit = unit;
      book_.show_lengths(lengths);
    });
    one->setCheckable(true);
    one->setChecked(unit == of_order.unit);
    units->addAction(one);
  }
  show->addSeparator();
  const auto strip = [&](const QString& words, const QKeySequence& keys, QWidget* what) {
    QAction* one = action(show, words, keys, {[what] { what->setVisible(!what->isVisible()); }});
    one->setCheckable(true);
  };
  strip(tr("&Radius over the length"), QKeySequence(Qt::ALT | Qt::Key_1), radius_);
  strip(tr("&Blank and waste"), QKeySequence(Qt::ALT | Qt::Key_2), blank_);
  strip(tr("&Cut check, unrolled"), QKeySequence(Qt::ALT | Qt::Key_3), check_);
  QAction* dimensions = action(show, tr("&Lengths of the elements"), QKeySequence(Qt::ALT | Qt::Key_4), {});
  dimensions->setCheckable(true);
  connect(dimensions, &QAction::toggled, elevation_, &Elevation::show_dimensions);
  action(show, tr("The &program, line by line"), QKeySequence(Qt::ALT | Qt::Key_5), [this] { open_program(); });
  action(show, tr("The &whole piece"), QKeySequence(Qt::CTRL | Qt::Key_0), [this] { axis_->show_all(); });

  auto* help = menuBar()->addMenu(tr("&Help"));
  action(help, tr("How to &begin"), QKeySequence::HelpContents, [this] {
    QMessageBox::information(this, tr("How to begin"), tr("1. Pick a design: Order, New from a design.\n2. Type the height you want over the catalogue's, in the column 'this order'. Write it as you do at the bench: 31 1/4 in, 2' 7\", 790 mm, or a formula: = table_height - 3/4 in.\n3. Read what follows: the piece above, the frame beside it, blank, time and price at the foot of the column.\n\nWhen all is well, Order, Make the job folder writes the programs that have been checked, with everything that goes with them."));
  });
  action(help, tr("&Words of the trade"), {}, [this] { show_words_of_the_trade(this); });
}

// --- asking and taking answers

void OrderWindow::reshape() {
  std::map<std::size_t, ColumnState> kept;
  kept[family::kCatalogue] = columns_[family::kCatalogue];
  columns_ = std::move(kept);
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
  follower_.follow(book_.sheet(), std::move(columns), check ? std::optional(shown_column_) : std::nullopt);
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

// --- showing

void OrderWindow::show_column(std::size_t column) {
  if (column == shown_column_) return;
  shown_column_ = column;
  shown_piece_ = 0;
  if (!columns_[column].checked) ask();
  else show_all();
}

void OrderWindow::show_all() {
  const ColumnState &catalogue = columns_[family::kCatalogue], &order = columns_[shown_column_];
  fill_pieces(order);
  show_strips(catalogue, order);
  standing_->show_frames(catalogue.made, order.made, shown_column_ == family::kOrder ? tr("this order") : text(book_.sheet().column_name(shown_column_)), order.stale, book_.shown().lengths);
  show_program();
  told_->setPlainText(told_text());
  say();
  follow_hairline();
}

void OrderWindow::fill_pieces(const ColumnState& order) {
  const std::size_t count = order.made ? order.made->pieces.size() : 0;
  pieces_->setVisible(count > 1);
  QStringList names;
  for (std::size_t i = 0; i < count; ++i) names << text(order.made->pieces[i].wanted.label);
  QStringList now;
  for (int i = 0; i < pieces_->count(); ++i) now << pieces_->itemText(i);
  if (now != names) {
    pieces_->clear();
    pieces_->addItems(names);
  }
  if (shown_piece_ >= count) shown_piece_ = 0;
  if (count > 0) pieces_->setCurrentIndex(static_cast<int>(shown_piece_));
}

void OrderWindow::show_strips(const ColumnState& catalogue, const ColumnState& order) {
  content_.lengths = book_.shown().lengths;
  content_.stale = order.stale;
  content_.order = order.made ? shown_piece(*order.made, shown_piece_) : nullptr;
  content_.catalogue = nullptr;
  content_.blank.reset();
  content_.program = nullptr;
  if (content_.order && catalogue.made) {
    const std::string& wanted = order.made->pieces[shown_piece_].wanted.id;
    const auto& pieces = catalogue.made->pieces;
    const auto same = std::find_if(pieces.begin(), pieces.end(), [&](const family::MadePiece& one) { return one.wanted.id == wanted; });
    if (same != pieces.end()) content_.catalogue = shown_piece(*catalogue.made, static_cast<std::size_t>(same - pieces.begin()));
  }
  if (order.followed) content_.blank = order.followed->blanks[shown_piece_].plan.blank;
  if (order.checked && order.followed)
    for (std::size_t i = 0; i < order.checked->turnings.size() && !content_.program; ++i)
      if (order.followed->piece_of_turning(i) == shown_piece_) content_.program = order.checked->turnings[i].program;
  double from = 0, to = 1;
  for (const auto& piece : {content_.catalogue, content_.order})
    if (piece) to = std::max(to, piece->subject.leg.length);
  if (content_.blank) from = std::min(from, content_.blank->x0), to = std::max(to, content_.blank->x1);
  axis_->set_whole(from, to);
  elevation_->updateGeometry();
  for (QWidget* strip : std::initializer_list<QWidget*>{overview_, elevation_, radius_, blank_, check_}) strip->update();
}

ProgramView& OrderWindow::open_program() {
  if (!program_) program_ = new ProgramView(*axis_, this);
  show_program();
  program_->show();
  program_->raise();
  return *program_;
}

void OrderWindow::show_program() {
  if (!program_ || !content_.order) return;
  const shop::Machine* machine = job::machine_of(book_.loaded());  // load() has reported an unknown one
  program_->show_program(content_.program, *machine, text(content_.order->subject.heading), content_.lengths);
}

void OrderWindow::follow_hairline() { reading_->setText(elevation_->reading()); }

std::optional<std::size_t> OrderWindow::element_at(double x) const {
  if (!content_.order) return std::nullopt;
  const auto& elements = content_.order->subject.leg.elements;
  const auto mark = std::find_if(elements.begin(), elements.end(), [&](const shape::ElementMark& one) { return x >= one.x0 && x <= one.x1; });
  return mark == elements.end() ? std::nullopt : std::optional(static_cast<std::size_t>(mark - elements.begin()));
}

// The measure behind an element: the first that its sizes are made of.
void OrderWindow::pick(double x) {
  const auto element = element_at(x);
  if (!element) return;
  const ColumnState& state = columns_[shown_column_];
  for (const std::string& name : measures_of_element(book_.loaded(), state.made->pieces[shown_piece_].wanted.named, *element, book_.sheet()))
    if (grid_->go_to(name, SheetModel::kCatalogueValue + static_cast<int>(shown_column_))) {
      grid_->setFocus();
      return;
    }
  statusBar()->showMessage(tr("'%1' has fixed sizes: no measure stands behind it").arg(text(content_.order->subject.leg.elements[*element].label)), 5000);
}

// A thickness drawn with the mouse becomes an entry of the measure behind it, in this size alone.
void OrderWindow::draw_to(double x, double diameter) {
  const auto element = element_at(x);
  if (!element) return;
  const shape::ElementMark& mark = content_.order->subject.leg.elements[*element];
  const std::string& piece = columns_[shown_column_].made->pieces[shown_piece_].wanted.named;
  const auto entry = entry_for_diameter(book_.loaded(), piece, *element, (x - mark.x0) / (mark.x1 - mark.x0), diameter, book_.sheet(), shown_column_, book_.shown().lengths);
  if (!entry.ok()) return statusBar()->showMessage(lines_of(entry.reasons()).join(u' '), 8000);
  book_.edit(tr("%1 drawn").arg(text(mark.label)), {{entry->measure, shown_column_, entry->entry}});
  grid_->go_to(entry->measure, SheetModel::kCatalogueValue + static_cast<int>(shown_column_));
  statusBar()->showMessage(tr("'%1' is %2 now; the thickness here is %3").arg(text(entry->measure), text(entry->entry), text(entry->formula)), 8000);
}

void OrderWindow::say() {
  const QStringList problems = lines_of(columns_[shown_column_].reasons) + model_->problems(shown_column_);
  const QString working = settled_ ? QString() : tr("working out what follows …");
  foot_->setText(problems.isEmpty() ? settled_ ? tr("Type another size over one of this order's; an empty cell takes the catalogue's again.") : working
                                    : QStringLiteral("✗ ") + problems.join(QStringLiteral("\n✗ ")));
  QPalette palette = QApplication::palette();
  if (!problems.isEmpty()) palette.setColor(QPalette::WindowText, tones().wrong);
  foot_->setPalette(palette);
}

QString OrderWindow::told_text() const {
  const auto state = columns_.find(shown_column_);
  const QStringList changes = model_->changes(shown_column_);
  QString out = tr("Cut check") + u'\n' + (state == columns_.end() ? QString() : check_text(state->second));
  out += QStringLiteral("\n\n") + tr("Different from the catalogue") + u'\n';
  return out + (changes.isEmpty() ? tr("  nothing") : QStringLiteral("  ") + changes.join(QStringLiteral("\n  ")));
}

QString OrderWindow::check_text(const ColumnState& state) const {
  if (!state.checked) return state.reasons.empty() && book_.sheet().sound(shown_column_) ? tr("  …") : tr("  nothing to check");
  QStringList lines;
  for (const CheckedTurning& one : state.checked->turnings) {
    const QString piece = text(one.piece);
    if (!one.program) {
      lines << tr("%1: no program. %2").arg(piece, lines_of(one.reasons).join(u' '));
      continue;
    }
    const proof::Proof& proof = one.program->proof;
    if (proof.passed()) {
      lines << tr("%1: the program's own text was cut in simulation and is sound; deepest below the skin %2 mm, most left in reach %3 mm, %4 places for hand work, %5")
                   .arg(piece)
                   .arg(proof.gouge.amount, 0, 'f', 3)
                   .arg(proof.leftover.amount, 0, 'f', 3)
                   .arg(proof.hand_work.size())
                   .arg(minutes_text(proof.minutes()));
      continue;
    }
    for (const proof::Finding& finding : proof.findings)
      if (finding.severity == Severity::error) lines << tr("✗ %1, line %2, %3: %4").arg(piece).arg(finding.line).arg(text(finding.stage), text(finding.message));
  }
  return QStringLiteral("  ") + lines.join(QStringLiteral("\n  "));
}

// --- files

bool OrderWindow::save(const std::filesystem::path& path) {
  if (const auto done = file_.save(entries(), path); !done.ok()) {
    QMessageBox::warning(this, tr("Not saved"), lines_of(done.reasons()).join("\n\n"));
    return false;
  }
  setWindowModified(false);
  statusBar()->showMessage(tr("saved as %1").arg(text(path.generic_string())), 5000);
  return true;
}

void OrderWindow::ask_where_to_save() {
  const QString path = QFileDialog::getSaveFileName(this, tr("Save the order"), text(file_.path().generic_string()), tr("orders (*.yaml)"));
  if (!path.isEmpty()) save(path.toStdString());
}

void OrderWindow::keep_copy() {
  if (const auto kept = file_.keep(entries()); !kept.ok()) statusBar()->showMessage(tr("no copy of the unsaved changes could be kept: %1").arg(lines_of(kept.reasons()).join(u' ')), 8000);
}

bool OrderWindow::offer_left_behind() {
  const bool there = file_.left_behind().has_value();
  left_behind_->setVisible(there);
  return there;
}

void OrderWindow::take_left_behind() {
  left_behind_->hide();
  const auto left = file_.left_behind();
  if (!left) return;
  std::vector<CellEdit> edits;
  for (const auto& [name, was] : entries())
    if (!left->contains(name)) edits.push_back({name, family::kOrder, std::nullopt});
  for (const auto& [name, entry] : *left)
    if (book_.sheet().parameter(name)) edits.push_back({name, family::kOrder, entry});
  book_.edit(tr("changes of the last session"), edits);
}

void OrderWindow::ask_for_folder() {
  if (maker_.busy()) return;
  const QString proposed = text((file_.path().parent_path() / (file_.path().stem().string() + "-job")).generic_string());
  const QString path = QFileDialog::getSaveFileName(this, tr("Make the job folder"), proposed, {}, nullptr, QFileDialog::DontConfirmOverwrite);
  if (path.isEmpty()) return;
  const bool there = std::filesystem::exists(path.toStdString());
  if (there && QMessageBox::question(this, tr("Replace the job folder?"), tr("'%1' is there already. Shall the new job folder take its place?").arg(path)) != QMessageBox::Yes) return;
  make_folder(path.toStdString(), there);
}

void OrderWindow::make_folder(const std::filesystem::path& into, bool replace) {
  if (maker_.busy()) return;
  stop_making_->show();
  doing_->setText(tr("making the job folder …"));
  maker_.make(book_.order_of(shown_column_), into, replace);
}

void OrderWindow::show_recent(const QStringList& paths) {
  recent_->clear();
  for (const QString& path : paths) connect(recent_->addAction(path), &QAction::triggered, this, [this, path] { emit reopen_wanted(path); });
  recent_->setEnabled(!paths.isEmpty());
}

void OrderWindow::dragEnterEvent(QDragEnterEvent* event) {
  const QList<QUrl> urls = event->mimeData()->urls();
  if (urls.size() == 1 && urls.front().isLocalFile()) event->acceptProposedAction();
}

void OrderWindow::dropEvent(QDropEvent* event) {
  const QString path = event->mimeData()->urls().front().toLocalFile();
  event->acceptProposedAction();
  // after the drop has ended: the window may close
  QTimer::singleShot(0, this, [this, path] { emit reopen_wanted(path); });
}

void OrderWindow::closeEvent(QCloseEvent* event) {
  if (isWindowModified()) {
    const auto answer = QMessageBox::question(this, tr("Save the order?"), tr("The order has changes that are not saved."), QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel);
    if (answer == QMessageBox::Cancel || (answer == QMessageBox::Save && !save(file_.path()))) return event->ignore();
  }
  keep_soon_.stop();
  if (!left_behind_->isVisible()) file_.forget();
  event->accept();
}

}  // namespace pommel::ui
