#include "ui/views/seek_dialog.h"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QVBoxLayout>

namespace pommel::ui {
namespace {

QString text(const std::string& bytes) { return QString::fromStdString(bytes); }

QString in_words(const std::string& name) { return text(name).replace('_', ' '); }

bool is_number(const sheet::Sheet& sheet, const std::string& name) {
  const auto kind = sheet.kind_of(name);
  return kind && kind->form == sheet::Form::number;
}

}  // namespace

SeekDialog::SeekDialog(OrderBook& book, std::size_t column, const std::string& wished, QWidget* parent)
    : QDialog(parent), book_(book), column_(column), seeker_(book.loaded()) {
  setWindowTitle(tr("Find the measure that gives"));
  wished_ = new QComboBox;
  wished_->setAccessibleName(tr("what is wished"));
  moving_ = new QComboBox;
  moving_->setAccessibleName(tr("the measure that may move"));
  value_ = new QLineEdit;
  value_->setAccessibleName(tr("the figure that is wished"));
  now_ = new QLabel;
  told_ = new QLabel;
  told_->setWordWrap(true);
  told_->setMinimumHeight(3 * told_->fontMetrics().height());
  told_->setAlignment(Qt::AlignTop);
  find_ = new QPushButton(tr("&Find"));
  find_->setDefault(true);
  take_ = new QPushButton(tr("&Take it"));
  take_->setEnabled(false);
  auto* close = new QPushButton(tr("Close"));
  auto* form = new QFormLayout;
  form->addRow(tr("make"), wished_);
  form->addRow(QString(), now_);
  form->addRow(tr("come to"), value_);
  form->addRow(tr("by moving"), moving_);
  auto* buttons = new QHBoxLayout;
  buttons->addStretch(1);
  for (QPushButton* one : {find_, take_, close}) buttons->addWidget(one);
  auto* down = new QVBoxLayout(this);
  down->addLayout(form);
  down->addWidget(told_, 1);
  down->addLayout(buttons);
  resize(520, 300);
  connect(find_, &QPushButton::clicked, this, &SeekDialog::find);
  connect(take_, &QPushButton::clicked, this, &SeekDialog::take);
  connect(close, &QPushButton::clicked, this, &QDialog::reject);
  connect(wished_, &QComboBox::currentIndexChanged, this, &SeekDialog::tell_now);
  connect(&seeker_, &Seeker::found, this, [this](const sheet::Sought& sought) {
    sought_ = sought;
    find_->setText(tr("&Find"));
    take_->setEnabled(true);
    told_->setText(tr("%1 of %2 gives %3 of %4.%5")
                       .arg(in_words(moved_), text(sheet::show(sought.measure, book_.shown())), wished_->currentText(), text(sheet::show(sought.achieved, book_.shown())),
                            sought.one_way ? QString() : tr(" It rises and falls over the measures tried, so there may be other answers.")));
  });
  connect(&seeker_, &Seeker::failed, this, [this](const std::vector<Diagnostic>& reasons) {
    find_->setText(tr("&Find"));
    QStringList lines;
    for (const Diagnostic& reason : reasons) lines << text(reason.message + (reason.remedy.empty() ? "" : ": " + reason.remedy));
    told_->setText(QStringLiteral("✗ ") + lines.join(u'\n'));
  });
  fill(wished);
}

// Measures that may move are those that are typed, with limits; all figures may be wished.
void SeekDialog::fill(const std::string& wished) {
  const sheet::Sheet& sheet = book_.sheet();
  for (const auto& names : {sheet.outcomes(), sheet.parameters()})
    for (const std::string& name : names)
      if (is_number(sheet, name)) wished_->addItem(in_words(name), text(name));
  for (const std::string& name : sheet.parameters()) {
    const auto cell = sheet.cell(name, column_);
    if (is_number(sheet, name) && cell && cell->value && cell->least && cell->most && !cell->value->kind().whole) moving_->addItem(in_words(name), text(name));
  }
  if (const int row = wished_->findData(text(wished)); row >= 0) wished_->setCurrentIndex(row);
  tell_now();
}

void SeekDialog::tell_now() {
  const auto* value = book_.sheet().value(wished_->currentData().toString().toStdString(), column_);
  now_->setText(value ? tr("now %1").arg(text(sheet::show(*value, book_.shown()))) : tr("not known yet"));
  take_->setEnabled(false);
}

void SeekDialog::find() {
  if (seeker_.busy()) return seeker_.cancel();
  sheet::Goal goal{wished_->currentData().toString().toStdString(), sheet::Value::length(0), moving_->currentData().toString().toStdString(), column_, {}, {}, {}, {}};
  const auto value = book_.sheet().evaluate({value_->text().trimmed().toStdString(), {}, {}}, book_.sheet().kind_of(goal.wished), column_);
  take_->setEnabled(false);
  if (!value.ok()) return told_->setText(QStringLiteral("✗ ") + text(value.reasons().front().message + ": " + value.reasons().front().remedy));
  goal.value = *value;
  moved_ = goal.moving;
  find_->setText(tr("&Stop"));
  told_->setText(tr("looking for it …"));
  seeker_.seek(book_.sheet(), goal);
}

void SeekDialog::take() {
  if (!sought_) return;
  book_.edit(tr("%1 found").arg(in_words(moved_)), {{moved_, column_, sheet::exact_entry(sought_->measure, book_.shown())}});
  accept();
}

}  // namespace pommel::ui
