// The window's menus and its way for beginners.
#include <QActionGroup>
#include <QMenuBar>
#include <QMessageBox>
#include <QSettings>
#include <algorithm>

#include "ui/views/order_window.h"
#include "ui/views/rows_layout.h"
#include "ui/views/seek_dialog.h"
#include "ui/views/words_of_the_trade.h"

namespace pommel::ui {

namespace {

constexpr auto kStepsKnown = "steps-known";

}  // namespace

// The way through the window, until somebody has read it.
QWidget* OrderWindow::steps_bar() {
  auto* bar = new QWidget;
  auto* across = new RowsLayout(bar);
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
  auto* machine = new QPushButton(tr("4  My machine"));
  auto* rates = new QPushButton(tr("5  My rates"));
  connect(machine, &QPushButton::clicked, this, [this] { fill_in(my_machine()); });
  connect(rates, &QPushButton::clicked, this, [this] { fill_in(my_rates()); });
  for (QPushButton* one : {pick, height, read, machine, rates, known}) across->addWidget(one);
  bar->setVisible(!QSettings().value(kStepsKnown).toBool());
  return bar;
}

ShopForm* OrderWindow::my_machine() { return machine_form(shop_book_, book_.loaded(), this); }

ShopForm* OrderWindow::my_rates() {
  const auto followed = columns_[shown_column_].followed;
  return rates_form(shop_book_, book_.loaded(), followed ? &followed->quote : nullptr, this);
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
  action(order, tr("Match an existing &turning …"), QKeySequence(Qt::CTRL | Qt::Key_M), [this] { emit match_wanted(); });
  action(order, tr("&Open …"), QKeySequence::Open, [this] { emit open_wanted(); });
  recent_ = order->addMenu(tr("Open a&gain"));
  recent_->setEnabled(false);
  action(order, tr("&Save"), QKeySequence::Save, [this] { save(file_.path()); });
  action(order, tr("Save &under another name …"), QKeySequence::SaveAs, [this] { ask_where_to_save(); });
  action(order, tr("Save as a new &design or revision …"), QKeySequence(Qt::CTRL | Qt::Key_D), [this] { ask_for_design(); });
  order->addSeparator();
  action(order, tr("The order &itself: client, machine, cutters …"), QKeySequence(Qt::CTRL | Qt::Key_I), [this] { edit_order(); });
  action(order, tr("My m&achine …"), {}, [this] { fill_in(my_machine()); });
  action(order, tr("My &rates …"), {}, [this] { fill_in(my_rates()); });
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
    QAction* one = action(show, words, keys, {});
    one->setCheckable(true);
    connect(one, &QAction::toggled, this, [this, what](bool on) { show_strip(what, on); });
  };
  strip(tr("&Radius over the length"), QKeySequence(Qt::ALT | Qt::Key_1), radius_);
  strip(tr("&Blank and waste"), QKeySequence(Qt::ALT | Qt::Key_2), blank_);
  strip(tr("&Cut check, unrolled"), QKeySequence(Qt::ALT | Qt::Key_3), check_);
  strip(tr("The &wood under the cutter"), QKeySequence(Qt::ALT | Qt::Key_8), cut_);
  QAction* dimensions = action(show, tr("&Lengths of the elements"), QKeySequence(Qt::ALT | Qt::Key_4), {});
  dimensions->setCheckable(true);
  connect(dimensions, &QAction::toggled, elevation_, &Elevation::show_dimensions);
  QAction* palette = action(show, tr("The &elements, to add, move and take out"), QKeySequence(Qt::ALT | Qt::Key_7), {});
  palette->setCheckable(true);
  connect(palette, &QAction::toggled, this, [this](bool on) {
    show_strip(palette_, on);
    show_palette();
  });
  QAction* mirror = action(show, tr("Joints of the &mirror image"), QKeySequence(Qt::ALT | Qt::Key_9), {});
  mirror->setCheckable(true);
  connect(mirror, &QAction::toggled, this, [this](bool on) {
    content_.mirror = on;
    elevation_->update();
  });
  action(show, tr("The &program, line by line"), QKeySequence(Qt::ALT | Qt::Key_5), [this] { open_program(); });
  action(show, tr("The &solid, to be turned"), QKeySequence(Qt::ALT | Qt::Key_6), [this] { open_solid(); });
  action(show, tr("The &whole piece"), QKeySequence(Qt::CTRL | Qt::Key_0), [this] { axis_->show_all(); });

  auto* help = menuBar()->addMenu(tr("&Help"));
  action(help, tr("How to &begin"), QKeySequence::HelpContents, [this] {
    QMessageBox::information(this, tr("How to begin"), tr("1. Pick a design: Order, New from a design.\n2. Type the height you want over the catalogue's, in the column 'this order'. Write it as you do at the bench: 31 1/4 in, 2' 7\", 790 mm, or a formula: = table_height - 3/4 in.\n3. Read what follows: the piece above, the frame beside it, blank, time and price at the foot of the column.\n\nWhen all is well, Order, Make the job folder writes the programs that have been checked, with everything that goes with them."));
  });
  action(help, tr("&Words of the trade"), {}, [this] { show_words_of_the_trade(this); });
}

}  // namespace pommel::ui
