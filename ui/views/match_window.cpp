// The window's parts and what they do; what it says is in match_window_show.cpp, what outlives a kill in match_window_copy.cpp.
#include "ui/views/match_window.h"

#include <QCloseEvent>
#include <QCoreApplication>
#include <QDragEnterEvent>
#include <QFileDialog>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QInputDialog>
#include <QMenuBar>
#include <QMessageBox>
#include <QMimeData>
#include <QSplitter>
#include <QStatusBar>
#include <QVBoxLayout>

#include "base/text.h"
#include "ui/views/hint.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr int kKeepAfter = 800;  ///< milliseconds after a change until a copy is kept

QLabel* label_for(const QString& words, QWidget* field) {
  auto* label = new QLabel(words);
  label->setBuddy(field);
  return label;
}

}  // namespace

bool may_be_matched(const std::filesystem::path& file) {
  const std::string ending = lowered(file.extension().string());
  return ending == ".csv" || ending == ".txt" || ending == ".dxf" || ending == ".svg" || ending == ".stl";
}

MatchWindow::MatchWindow(FileSystem& files, designs::House house, LengthUnit unit, std::filesystem::path kept_in, QWidget* parent)
    : QMainWindow(parent), files_(files), house_(std::move(house)), copy_(files, std::move(kept_in)) {
  setWindowTitle(tr("Match a turning[*] — Pommel"));
  axis_.set_whole(0, 700);
  build();
  build_menus();
  unit_->setCurrentIndex(unit_->findData(unit == LengthUnit::millimetre ? "mm" : "in"));
  connect(&bench_, &MatchBench::changed, this, &MatchWindow::show_all);
  connect(&axis_, &LengthAxis::changed, this, &MatchWindow::follow_hairline);
  keep_soon_.setSingleShot(true);
  keep_soon_.setInterval(kKeepAfter);
  connect(&keep_soon_, &QTimer::timeout, this, &MatchWindow::keep_copy);
  connect(&bench_, &MatchBench::changed, this, [this] {
    if (!keep_soon_.isActive()) keep_soon_.start();
  });
  connect(&bench_.readings().undo(), &QUndoStack::cleanChanged, this, [this](bool clean) {
    setWindowModified(!clean);
    keep_soon_.start();  // a copy of what is saved is taken away
  });
  take_how();
  grid_->setCurrentIndex(bench_.readings().index(0, 0));
  grid_->setFocus();
  setAcceptDrops(true);
  resize(1280, 860);
}

MatchWindow::~MatchWindow() {
  bench_.disconnect(this);
  bench_.readings().undo().disconnect(this);
  axis_.disconnect(this);
  delete takeCentralWidget();  // its views look at the bench
}

void MatchWindow::build() {
  strip_ = new MatchStrip(axis_, bench_, look_);
  misfit_ = new MisfitStrip(axis_, bench_, look_);
  for (AxisStrip* strip : std::initializer_list<AxisStrip*>{strip_, misfit_}) {
    connect(strip, &AxisStrip::picked, this, [this](double x) {
      axis_.set_hair(x);
      if (!bench_.fitted()) return;
      const auto& all = bench_.fitted()->found.elements;
      for (std::size_t k = 0; k < all.size(); ++k)
        if (x >= all[k].stroke.x0 && x <= all[k].stroke.x1) return elements_->selectRow(static_cast<int>(k));
    });
  }
  auto* strips = new QWidget;
  auto* over = new QVBoxLayout(strips);
  over->setContentsMargins(0, 0, 0, 0);
  over->setSpacing(1);
  over->addWidget(strip_, 3);
  over->addWidget(misfit_, 1);
  auto* lower = new QSplitter(Qt::Horizontal);
  lower->addWidget(readings_side());
  lower->addWidget(elements_side());
  lower->setStretchFactor(0, 1);
  lower->setStretchFactor(1, 1);
  auto* halves = new QSplitter(Qt::Vertical);
  halves->addWidget(strips);
  halves->addWidget(lower);
  halves->setStretchFactor(0, 2);
  halves->setStretchFactor(1, 3);
  auto* middle = new QWidget;
  auto* down = new QVBoxLayout(middle);
  down->setContentsMargins(0, 0, 0, 0);
  down->setSpacing(0);
  down->addWidget(left_bar_ = left_bar());
  down->addWidget(drawn_bar_ = drawn_bar());
  down->addWidget(halves, 1);
  down->addWidget(keeping_bar());
  setCentralWidget(middle);
  reading_ = new QLabel;
  statusBar()->addWidget(reading_, 1);
}

QLineEdit* MatchWindow::field(const QString& name, const QString& hint) {
  auto* edit = new QLineEdit;
  edit->setAccessibleName(name);
  show_hint(*edit, hint);
  edit->setMinimumWidth(11 * edit->fontMetrics().averageCharWidth());
  connect(edit, &QLineEdit::editingFinished, this, &MatchWindow::take_how);
  return edit;
}

QWidget* MatchWindow::ways_of_reading() {
  auto* ways = new QWidget;
  auto* grid = new QGridLayout(ways);
  grid->setContentsMargins(0, 0, 0, 0);
  unit_ = new QComboBox;
  unit_->setAccessibleName(tr("plain numbers are in"));
  for (const char* unit : {"mm", "cm", "m", "in", "ft"}) unit_->addItem(QLatin1String(unit), QLatin1String(unit));
  connect(unit_, &QComboBox::activated, this, &MatchWindow::take_how);
  square_ = field(tr("width of the squares"), tr("such as 64 mm"));
  uncertainty_ = field(tr("uncertainty of a diameter"), tr("0.1 mm"));
  place_uncertainty_ = field(tr("uncertainty of a place"), tr("as a diameter's"));
  as_read_ = new QCheckBox(tr("sizes as read, not rounded"));
  connect(as_read_, &QCheckBox::toggled, this, &MatchWindow::take_how);
  int at = 0;
  for (const auto& [words, one] : {std::pair<QString, QWidget*>{tr("&plain numbers are in"), unit_}, {tr("s&quares are wide"), square_}, {tr("diameters ±"), uncertainty_}, {tr("places ±"), place_uncertainty_}}) {
    grid->addWidget(label_for(words, one), at / 2, at % 2 * 2);
    grid->addWidget(one, at / 2, at % 2 * 2 + 1);
    ++at;
  }
  grid->addWidget(as_read_, 2, 0, 1, 4);
  grid->setColumnStretch(1, 1);
  grid->setColumnStretch(3, 1);
  return ways;
}

QWidget* MatchWindow::drawn_bar() {
  auto* bar = new QWidget;
  auto* across = new QHBoxLayout(bar);
  across->setContentsMargins(8, 3, 6, 3);
  drawn_name_ = new QLabel;
  drawn_unit_ = new QComboBox;
  drawn_unit_->setAccessibleName(tr("unit of the drawing"));
  drawn_unit_->addItem(tr("as its file says"), QString());
  for (const char* unit : {"mm", "cm", "m", "in", "ft"}) drawn_unit_->addItem(QLatin1String(unit), QLatin1String(unit));
  scan_axis_ = new QComboBox;
  scan_axis_->setAccessibleName(tr("axis of the scan"));
  for (const auto& [words, axis] : {std::pair{tr("found"), "found"}, {tr("x"), "x"}, {tr("y"), "y"}, {tr("z"), "z"}}) scan_axis_->addItem(words, QLatin1String(axis));
  for (QComboBox* choice : {drawn_unit_, scan_axis_}) connect(choice, &QComboBox::activated, this, &MatchWindow::take_how);
  gap_ = field(tr("gaps that are closed"), tr("0.1 mm"));
  end_for_end_ = new QCheckBox(tr("its head is at the other end"));
  connect(end_for_end_, &QCheckBox::toggled, this, &MatchWindow::take_how);
  auto* away = new QPushButton(tr("Put it away"));
  connect(away, &QPushButton::clicked, &bench_, &MatchBench::put_drawn_away);
  across->addWidget(drawn_name_, 1);
  for (const auto& [words, one] : {std::pair<QString, QWidget*>{tr("its unit"), drawn_unit_}, {tr("gaps up to"), gap_}, {tr("axis"), scan_axis_}}) {
    across->addWidget(label_for(words, one));
    across->addWidget(one);
  }
  across->addWidget(end_for_end_);
  across->addWidget(away);
  bar->hide();
  return bar;
}

QWidget* MatchWindow::readings_side() {
  grid_ = new ReadingsGrid(bench_.readings());
  connect(grid_, &ReadingsGrid::current_moved, this, [this](int row) {
    look_.row = row;
    strip_->update();
    misfit_->update();
  });
  connect(grid_, &ReadingsGrid::not_pasted, this, [this](const QString& why) { QMessageBox::warning(this, tr("Not pasted"), why); });
  auto* side = new QWidget;
  auto* down = new QVBoxLayout(side);
  down->setContentsMargins(6, 4, 0, 4);
  down->addWidget(ways_of_reading());
  down->addWidget(grid_, 1);
  return side;
}

QWidget* MatchWindow::elements_side() {
  found_ = new FoundModel(this);
  elements_ = new QTableView;
  elements_->setModel(found_);
  elements_->setAccessibleName(tr("the elements it is cut into"));
  elements_->setSelectionBehavior(QAbstractItemView::SelectRows);
  elements_->setSelectionMode(QAbstractItemView::SingleSelection);
  elements_->setTabKeyNavigation(false);
  elements_->setWordWrap(false);
  elements_->horizontalHeader()->setHighlightSections(false);
  elements_->verticalHeader()->setDefaultSectionSize(elements_->fontMetrics().height() + 8);
  const int letter = elements_->fontMetrics().averageCharWidth();
  for (const auto& [column, letters] : {std::pair{FoundModel::kName, 19}, {FoundModel::kFrom, 14}, {FoundModel::kLength, 12}, {FoundModel::kDiameters, 30}, {FoundModel::kOff, 17}}) elements_->setColumnWidth(column, letters * letter);
  elements_->horizontalHeader()->setSectionResizeMode(FoundModel::kDiameters, QHeaderView::Stretch);
  connect(elements_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, [this](const QModelIndex& at) { choose(at.isValid() ? at.row() : -1); });
  pin_ = new QPushButton(tr("Keep it as it is"));
  split_ = new QPushButton(tr("Part it at the hairline"));
  merge_ = new QPushButton(tr("One with the next"));
  connect(pin_, &QPushButton::clicked, this, &MatchWindow::pin);
  connect(split_, &QPushButton::clicked, this, &MatchWindow::split);
  connect(merge_, &QPushButton::clicked, this, &MatchWindow::merge);
  kind_ = new QComboBox;
  kind_->setAccessibleName(tr("what the element is"));
  connect(kind_, &QComboBox::activated, this, [this](int at) {
    const std::string word = kind_->itemData(at).toString().toStdString();
    if (!word.empty() && look_.element >= 0) bench_.change_kind(static_cast<std::size_t>(look_.element), word);
  });
  auto* ways = new QHBoxLayout;
  for (QPushButton* one : {pin_, split_, merge_}) ways->addWidget(one);
  ways->addWidget(kind_, 1);
  told_ = new QPlainTextEdit;
  told_->setReadOnly(true);
  told_->setTabChangesFocus(true);
  told_->setAccessibleName(tr("what is seen, and what is missing"));
  auto* parts = new QSplitter(Qt::Vertical);
  parts->addWidget(elements_);
  parts->addWidget(told_);
  parts->setStretchFactor(0, 3);
  parts->setStretchFactor(1, 2);
  auto* side = new QWidget;
  auto* down = new QVBoxLayout(side);
  down->setContentsMargins(0, 4, 6, 4);
  down->addLayout(ways);
  down->addWidget(parts, 1);
  return side;
}

QWidget* MatchWindow::keeping_bar() {
  name_ = new QLineEdit;
  name_->setAccessibleName(tr("name of the design"));
  show_hint(*name_, tr("such as tavern-leg"));
  connect(name_, &QLineEdit::textChanged, this, &MatchWindow::show_ways);
  family_ = new QComboBox;
  family_->setAccessibleName(tr("what it becomes"));
  family_->addItem(tr("as its ends look"), QString());
  static constexpr const char* kFamilies[] = {QT_TRANSLATE_NOOP("families", "table leg"), QT_TRANSLATE_NOOP("families", "baluster"), QT_TRANSLATE_NOOP("families", "bed post"), QT_TRANSLATE_NOOP("families", "lamp column")};
  (void)kFamilies;
  for (const std::string& id : designs::matched_families()) family_->addItem(QCoreApplication::translate("families", designs::family_in_words(id).c_str()), text(id));
  replace_ = new QCheckBox(tr("in place of one that is there"));
  keep_ = new QPushButton(tr("&Keep as a design of the house"));
  connect(keep_, &QPushButton::clicked, this, [this] { keep(); });
  kept_told_ = new QLabel;
  kept_told_->setWordWrap(true);
  kept_told_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
  kept_told_->hide();
  auto* bar = new QWidget;
  auto* down = new QVBoxLayout(bar);
  down->setContentsMargins(8, 3, 6, 3);
  auto* across = new QHBoxLayout;
  across->addWidget(label_for(tr("&name"), name_));
  across->addWidget(name_, 1);
  across->addWidget(label_for(tr("&becomes"), family_));
  across->addWidget(family_);
  across->addWidget(replace_);
  across->addWidget(keep_);
  down->addLayout(across);
  down->addWidget(kept_told_);
  return bar;
}

void MatchWindow::build_menus() {
  const auto action = [this](QMenu* menu, const QString& words, const QKeySequence& keys, auto run) {
    auto* made = menu->addAction(words);
    made->setShortcut(keys);
    connect(made, &QAction::triggered, this, [run] { run(); });
  };
  auto* readings = menuBar()->addMenu(tr("&Readings"));
  action(readings, tr("&Open readings, a drawing or a scan …"), QKeySequence::Open, [this] { ask_for_file(); });
  action(readings, tr("&Save the readings …"), QKeySequence::Save, [this] { ask_where_to_save(); });
  readings->addSeparator();
  QAction* undo = bench_.readings().undo().createUndoAction(this, tr("&Undo"));
  undo->setShortcut(QKeySequence::Undo);
  QAction* redo = bench_.readings().undo().createRedoAction(this, tr("&Redo"));
  redo->setShortcut(QKeySequence::Redo);
  readings->addActions({undo, redo});
  readings->addSeparator();
  // keys of the grid itself: they must not be taken from a text that is being typed
  readings->addAction(tr("&Copy\tCtrl+C"), grid_, &ReadingsGrid::copy);
  readings->addAction(tr("&Paste\tCtrl+V"), grid_, &ReadingsGrid::paste);
  readings->addAction(tr("C&lear cells\tDel"), grid_, &ReadingsGrid::clear_cells);
  readings->addAction(tr("&Take rows out\tCtrl+Del"), grid_, &ReadingsGrid::take_rows_out);
  readings->addSeparator();
  action(readings, tr("&Hold a finished copy against a design …"), {}, [this] { ask_for_design(); });
  action(readings, tr("Close"), QKeySequence::Close, [this] { close(); });
  auto* elements = menuBar()->addMenu(tr("&Elements"));
  action(elements, tr("Keep it as it is"), QKeySequence(Qt::CTRL | Qt::Key_P), [this] { pin(); });
  action(elements, tr("Part it at the hairline"), QKeySequence(Qt::CTRL | Qt::Key_E), [this] { split(); });
  action(elements, tr("One with the next"), QKeySequence(Qt::CTRL | Qt::Key_M), [this] { merge(); });
  action(elements, tr("&Keep as a design of the house"), QKeySequence(Qt::CTRL | Qt::Key_D), [this] { keep(); });
  action(elements, tr("The &whole piece"), QKeySequence(Qt::CTRL | Qt::Key_0), [this] { axis_.show_all(); });
}

void MatchWindow::take_how() {
  MatchHow how;
  how.input.unit = unit_->currentData().toString().toStdString();
  how.input.square = square_->text().trimmed().toStdString();
  how.input.uncertainty = uncertainty_->text().trimmed().toStdString();
  how.input.place_uncertainty = place_uncertainty_->text().trimmed().toStdString();
  if (const QString gap = gap_->text().trimmed(); !gap.isEmpty()) how.input.gap = gap.toStdString();
  how.input.axis = scan_axis_->currentData().toString().toStdString();
  how.input.end_for_end = end_for_end_->isChecked();
  how.drawn_unit = drawn_unit_->currentData().toString().toStdString();
  how.as_read = as_read_->isChecked();
  const bool inches = how.input.unit == "in" || how.input.unit == "ft";
  look_.lengths = inches ? LengthFormat{LengthUnit::inch, 3, 64} : LengthFormat{LengthUnit::millimetre, 2, 32};
  bench_.take_how(std::move(how));
}

void MatchWindow::pin() {
  if (pin_->isEnabled()) bench_.pin(static_cast<std::size_t>(look_.element));
}

void MatchWindow::merge() {
  if (merge_->isEnabled()) bench_.merge_with_next(static_cast<std::size_t>(look_.element));
}

void MatchWindow::split() {
  if (split_->isEnabled()) bench_.split(*axis_.hair());
}

bool MatchWindow::keep() {
  if (!keep_->isEnabled()) return false;
  const MatchHow& how = bench_.how();
  job::KeepAs as;
  as.name = name_->text().trimmed().toStdString();
  as.replace = replace_->isChecked();
  as.source = bench_.drawn() ? bench_.drawn()->file.filename().string() : tr("readings typed in").toStdString();
  as.unit = how.input.unit == "in" ? LengthUnit::inch : LengthUnit::millimetre;
  as.family = family_->currentData().toString().toStdString();
  const auto done = job::keep_matched(files_, house_, bench_.fitted()->found, as);
  kept_told_->show();
  QPalette colours = palette();
  if (!done.ok()) colours.setColor(QPalette::WindowText, tones().wrong);
  kept_told_->setPalette(colours);
  if (!done.ok()) {
    kept_told_->setText(QStringLiteral("✗ ") + lines_of(done.reasons()).join(QStringLiteral("\n✗ ")));
    return false;
  }
  kept_told_->setText(tr("kept as %1, a %2; read back, it lies %3 mm off what is drawn above (root of the mean square)")
                          .arg(text(done->file.generic_string()), QCoreApplication::translate("families", designs::family_in_words(done->choice.family).c_str()), QString::number(done->read_back.rms, 'f', 3)));
  bench_.readings().undo().setClean();
  emit kept(as.name);
  return true;
}

// --- files

bool MatchWindow::open(const std::filesystem::path& file) {
  const auto done = bench_.open(files_, file);
  if (!done.ok()) {
    QMessageBox::warning(this, tr("Not opened"), text(pommel::render(done.reasons())));
    return false;
  }
  if (name_->text().isEmpty()) name_->setText(text(file.stem().string()));
  return true;
}

void MatchWindow::ask_for_file() {
  const QString path = QFileDialog::getOpenFileName(this, tr("Open readings, a drawing or a scan"), {}, tr("readings, drawings and scans (*.csv *.txt *.dxf *.svg *.stl)"));
  if (!path.isEmpty()) open(path.toStdString());
}

bool MatchWindow::save(const std::filesystem::path& file) {
  const auto done = files_.write(file, bench_.text_to_save());
  if (!done.ok()) QMessageBox::warning(this, tr("Not saved"), lines_of(done.reasons()).join("\n\n"));
  else bench_.readings().undo().setClean();
  return done.ok();
}

bool MatchWindow::ask_where_to_save() {
  const QString path = QFileDialog::getSaveFileName(this, tr("Save the readings"), name_->text().trimmed() + QStringLiteral(".csv"), tr("readings (*.csv)"));
  return !path.isEmpty() && save(path.toStdString());
}

void MatchWindow::ask_for_design() {
  QStringList names;
  for (const std::string& name : designs::design_names(files_, house_)) names << text(name);
  bool chosen = false;
  const QString name = QInputDialog::getItem(this, tr("Hold a finished copy against a design"), tr("The readings were taken of a copy of this design:"), names, 0, false, &chosen);
  if (chosen) hold_against(name.toStdString());
}

void MatchWindow::closeEvent(QCloseEvent* event) {
  if (isWindowModified() && !bench_.readings().blank()) {
    const auto answer = QMessageBox::question(this, tr("Save the readings?"), tr("The readings are not saved."), QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel);
    if (answer == QMessageBox::Cancel || (answer == QMessageBox::Save && !ask_where_to_save())) return event->ignore();
  }
  keep_soon_.stop();
  copy_.forget();
  bench_.rest();
  event->accept();
}

// Readings that were not saved are still there when it is shown again.
void MatchWindow::showEvent(QShowEvent* event) {
  QMainWindow::showEvent(event);
  bench_.wake();
  keep_soon_.start();
}

void MatchWindow::dragEnterEvent(QDragEnterEvent* event) {
  const QList<QUrl> urls = event->mimeData()->urls();
  if (urls.size() == 1 && urls.front().isLocalFile() && may_be_matched(urls.front().toLocalFile().toStdString())) event->acceptProposedAction();
}

void MatchWindow::dropEvent(QDropEvent* event) {
  event->acceptProposedAction();
  open(event->mimeData()->urls().front().toLocalFile().toStdString());
}

}  // namespace pommel::ui
