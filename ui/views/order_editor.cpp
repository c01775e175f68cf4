#include "ui/views/order_editor.h"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QHBoxLayout>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>

#include "ui/views/design_chooser.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

std::string length_entry(double mm, const LengthFormat& lengths) {
  if (mm == 0) return {};
  LengthFormat fine = lengths;
  fine.unit = LengthUnit::millimetre, fine.decimals = 3;
  return format_length(mm, fine);
}

constexpr const char* kPasses[] = {"fastest", "lengthwise", "round and round"};
constexpr const char* kClimb[] = {"nowhere", "finishing", "everywhere"};

}  // namespace

OrderEditor::OrderEditor(OrderBook& book, const FileSystem& files, QWidget* parent) : QDialog(parent), book_(book), files_(files), design_id_(book.loaded().order->design) {
  setWindowTitle(tr("The order itself"));
  told_ = new QLabel;
  told_->setWordWrap(true);
  told_->hide();
  QPalette wrong = palette();
  wrong.setColor(QPalette::WindowText, tones().wrong);
  told_->setPalette(wrong);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
  buttons->button(QDialogButtonBox::Ok)->setText(tr("Take it into the order"));
  connect(buttons, &QDialogButtonBox::accepted, this, [this] {
    if (take()) accept();
  });
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  auto* down = new QVBoxLayout(this);
  QScrollArea* scroll = groups();
  down->addWidget(scroll, 1);
  down->addWidget(told_);
  down->addWidget(buttons);
  const QSize beside = sizeHint() - scroll->sizeHint();
  resize((scroll->widget()->sizeHint() + beside.expandedTo(QSize(40, 0))).boundedTo(0.9 * screen()->availableSize()));
}

// To be scrolled where letters are large or the screen is small.
QScrollArea* OrderEditor::groups() {
  auto* all = new QWidget;
  auto* down = new QVBoxLayout(all);
  for (QWidget* group : {design(), papers(), machine(), cutting()}) down->addWidget(group);
  down->addStretch();
  auto* scroll = new QScrollArea;
  scroll->setWidget(all);
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setAccessibleName(windowTitle());
  return scroll;
}

QLineEdit* OrderEditor::add_line(QFormLayout* form, const char* key, const QString& label, const std::string& now, const QString& hint) {
  auto* edit = new QLineEdit(text(now));
  edit->setObjectName(key);
  edit->setPlaceholderText(hint);
  edit->setMinimumWidth(24 * edit->fontMetrics().averageCharWidth());
  before_[key] = now;
  form->addRow(label, edit);
  edit->setAccessibleName(label);
  return edit;
}

QComboBox* OrderEditor::add_choice(QFormLayout* form, const char* key, const QString& label, const std::vector<std::pair<QString, QString>>& choices, const std::string& now) {
  auto* box = new QComboBox;
  box->setObjectName(key);
  box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);  // its longest words may be cut off before the form is wider than a screen
  box->setMinimumContentsLength(20);
  for (const auto& [id, words] : choices) box->addItem(words, id);
  box->setCurrentIndex(std::max(0, box->findData(text(now))));
  before_[key] = box->currentData().toString().toStdString();
  form->addRow(label, box);
  box->setAccessibleName(label);
  return box;
}

QWidget* OrderEditor::design() {
  auto* group = new QGroupBox(tr("Design"));
  auto* across = new QHBoxLayout(group);
  design_ = new QLabel(text(book_.loaded().design.name));
  design_->setWordWrap(true);
  design_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  auto* another = new QPushButton(tr("Another design …"));
  connect(another, &QPushButton::clicked, this, &OrderEditor::ask_for_design);
  across->addWidget(design_, 1);
  across->addWidget(another, 0, Qt::AlignTop);
  return group;
}

void OrderEditor::ask_for_design() {
  DesignChooser chooser(files_, book_.loaded(), this, DesignChooser::For::the_order);
  if (chooser.exec() == QDialog::Accepted) choose_design(chooser.design());
}

bool OrderEditor::choose_design(const std::string& id) {
  told_->hide();
  const auto other = book_.other_design(id);
  if (!other.ok()) return refused(other.reasons());
  design_id_ = id;
  QStringList lines{text(other->name)};
  if (book_.design_changed() && id != book_.loaded().order->design) lines << tr("The outline that was changed and not saved goes.");
  QStringList entries;
  for (const auto& [name, entry] : other->unknown) entries << text(name).replace(u'_', u' ') + u' ' + text(entry);
  if (!entries.isEmpty()) lines << tr("It has no such measures, so these entries go: %1.").arg(entries.join(QStringLiteral(", ")));
  if (lines.size() > 1) lines << tr("Undo brings back what goes.");
  design_->setText(lines.join(u'\n'));
  return true;
}

QWidget* OrderEditor::papers() {
  const family::Order& order = *book_.loaded().order;
  auto* group = new QGroupBox(tr("On the papers"));
  auto* form = new QFormLayout(group);
  add_line(form, "order", tr("what is ordered"), order.name);
  add_line(form, "number", tr("number"), order.number);
  add_line(form, "client", tr("client"), order.client);
  add_line(form, "date", tr("date"), order.date, QStringLiteral("2026-03-02"));
  add_choice(form, "units", tr("lengths are written in"), {{"mm", tr("millimetres")}, {"in", tr("inches")}}, order.lengths.unit == LengthUnit::millimetre ? "mm" : "in");
  add_choice(form, "paper", tr("paper"), {{"", tr("as the unit goes")}, {"A4", "A4"}, {"letter", tr("letter")}}, order.paper);
  return group;
}

std::vector<std::pair<QString, QString>> OrderEditor::cutters(bool none) const {
  std::vector<std::pair<QString, QString>> out;
  if (none) out.emplace_back("", tr("none of its own"));
  for (const auto& [id, cutter] : book_.loaded().shop.cutters) out.emplace_back(text(id), cutter.label.empty() ? text(id) : text(cutter.label));
  return out;
}

QWidget* OrderEditor::machine() {
  const family::Order& order = *book_.loaded().order;
  std::vector<std::pair<QString, QString>> machines;
  for (const auto& [id, one] : book_.loaded().shop.machines) machines.emplace_back(text(id), text(one.label));
  auto* group = new QGroupBox(tr("Machine and cutters"));
  auto* form = new QFormLayout(group);
  add_choice(form, "machine", tr("machine"), machines, order.machine);
  add_choice(form, "cutters rough", tr("roughing"), cutters(true), order.rough);
  add_choice(form, "cutters finish", tr("finishing"), cutters(false), order.cutter);
  add_choice(form, "cutters fine", tr("where the finishing one left wood"), cutters(true), order.fine);
  return group;
}

QWidget* OrderEditor::cutting() {
  const family::Order& order = *book_.loaded().order;
  auto* group = new QGroupBox(tr("How it is cut"));
  auto* form = new QFormLayout(group);
  add_choice(form, "passes", tr("passes"), {{kPasses[0], tr("whichever way is faster")}, {kPasses[1], tr("along the piece")}, {kPasses[2], tr("round and round")}}, kPasses[static_cast<int>(order.passes)]);
  add_line(form, "cusp", tr("ridge that may be left"), length_entry(order.cusp, order.lengths), tr("as the house does; or give the way between lines"));
  add_line(form, "stepover", tr("or the way between lines"), length_entry(order.stepover, order.lengths), tr("follows from the ridge"));
  add_choice(form, "climb", tr("teeth run with the cutter's way"), {{kClimb[0], tr("nowhere")}, {kClimb[1], tr("in the last passes")}, {kClimb[2], tr("everywhere")}}, kClimb[static_cast<int>(order.climb)]);
  add_choice(form, "joints", tr("joints are cut by"), {{"machine", tr("the machine, as far as it can")}, {"bench", tr("the bench")}}, order.joints == family::Joints::machine ? "machine" : "bench");
  return group;
}

std::string OrderEditor::now_in(const char* key) const {
  if (const QLineEdit* edit = line(key)) return edit->text().trimmed().toStdString();
  return choice(key)->currentData().toString().toStdString();
}

family::HeadEntries OrderEditor::changed() const {
  family::HeadEntries out;
  for (const auto& [key, before] : before_) {
    const std::string now = now_in(key.c_str());
    if (now == before || key.starts_with("cutters ")) continue;
    out.emplace_back(key, now.empty() ? std::nullopt : std::optional(now));
  }
  return out;
}

bool OrderEditor::refused(const std::vector<Diagnostic>& reasons) {
  told_->setText(QStringLiteral("✗ ") + lines_of(reasons).join(QStringLiteral("\n✗ ")));
  told_->show();
  return false;
}

bool OrderEditor::take() {
  const family::HeadCutters cutters{now_in("cutters finish"), now_in("cutters rough"), now_in("cutters fine")};
  auto made = family::with_head(book_.sizes().order, book_.sources().order_file.generic_string(), changed(), cutters);
  if (made.ok() && design_id_ != book_.loaded().order->design) made = book_.order_of_design(*made, design_id_);
  if (!made.ok()) return refused(made.reasons());
  const auto done = book_.write_order(tr("the order itself"), *made);
  return done.ok() ? true : refused(done.reasons());
}

}  // namespace pommel::ui
