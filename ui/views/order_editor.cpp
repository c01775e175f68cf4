#include "ui/views/order_editor.h"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QHBoxLayout>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>

#include "job/shop_files.h"
#include "job/turning.h"
#include "ui/views/choice_box.h"
#include "ui/views/design_chooser.h"
#include "ui/views/hint.h"
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
  edit->setCursorPosition(0);  // of words that are too long the beginning is seen
  edit->setObjectName(key);
  show_hint(*edit, hint);
  edit->setMinimumWidth(24 * edit->fontMetrics().averageCharWidth());
  before_[key] = now;
  form->addRow(label, edit);
  edit->setAccessibleName(label);
  return edit;
}

QComboBox* OrderEditor::add_choice(QFormLayout* form, const char* key, const QString& label, const std::vector<std::pair<QString, QString>>& choices, const std::string& now) {
  auto* box = new ChoiceBox;
  box->setObjectName(key);
  for (const auto& [id, words] : choices) box->addItem(words, id);
  box->setCurrentIndex(std::max(0, box->findData(text(now))));
  before_[key] = box->currentData().toString().toStdString();
  form->addRow(label, box);
  box->setAccessibleName(label);
  return box;
}

std::string OrderEditor::stated(const char* key) const { return job::value_at(book_.sizes().order, book_.sources().order_file.generic_string(), {key}).value_or(""); }

QComboBox* OrderEditor::add_usual(QFormLayout* form, const char* key, const QString& label, std::vector<std::pair<QString, QString>> choices, const QString& usual) {
  choices.insert(choices.begin(), {QString(), tr("as usual: %1").arg(usual)});
  auto* box = add_choice(form, key, label, choices, stated(key));
  dim_where_unstated(*box);
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
  add_usual(form, "units", tr("lengths are written in"), {{"mm", tr("millimetres")}, {"in", tr("inches")}}, tr("millimetres"));
  add_usual(form, "paper", tr("paper"), {{"A4", "A4"}, {"letter", tr("letter")}}, tr("A4 for millimetres, letter for inches"));
  add_line(form, "scale_bar_measures", tr("a printed scale bar of 200 mm measures"), stated("scale_bar_measures"), tr("as usual: %1").arg(QStringLiteral("200 mm")));
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
  const job::Loaded& loaded = book_.loaded();
  const family::Order& order = *loaded.order;
  const bool thin = loaded.design.thin_stubs.value_or(loaded.family.thin_stubs.value_or(false));
  auto* group = new QGroupBox(tr("How it is cut"));
  auto* form = new QFormLayout(group);
  add_usual(form, "passes", tr("passes"), {{"fastest", tr("whichever way is faster")}, {"lengthwise", tr("along the piece")}, {"round and round", tr("round and round")}}, tr("whichever way is faster"));
  add_line(form, "cusp", tr("ridge that may be left"), length_entry(order.cusp, order.lengths),
           tr("as usual: %1; or give the way between lines").arg(text(length_entry(job::TurningRequest().cusp, order.lengths))));
  add_line(form, "stepover", tr("or the way between lines"), length_entry(order.stepover, order.lengths), tr("follows from the ridge"));
  add_usual(form, "climb", tr("teeth run with the cutter's way"), {{"nowhere", tr("nowhere")}, {"finishing", tr("in the last passes")}, {"everywhere", tr("everywhere")}}, tr("nowhere"));
  add_usual(form, "joints", tr("joints are cut by"), {{"machine", tr("the machine, as far as it can")}, {"bench", tr("the bench")}}, tr("the machine, as far as it can"));
  add_usual(form, "thin_stubs", tr("ends that are thinner than they should be"), {{"yes", tr("are cut, and told")}, {"no", tr("are refused")}}, thin ? tr("are cut, and told") : tr("are refused"));
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
