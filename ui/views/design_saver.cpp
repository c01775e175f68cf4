#include "ui/views/design_saver.h"

#include <QDate>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QPushButton>
#include <QVBoxLayout>

#include "job/save_design.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {

DesignSaver::DesignSaver(OrderBook& book, FileSystem& files, std::size_t column, QWidget* parent) : QDialog(parent), book_(book), files_(files), column_(column) {
  setWindowTitle(tr("Save the design"));
  const family::Design& design = book.loaded().design;
  as_new_ = new QRadioButton(tr("as a new design of the catalog"));
  as_revision_ = new QRadioButton(tr("as revision %1 of '%2'; the one before is kept").arg(job::revision_of(book.sources().design) + 1).arg(text(design.name)));
  as_new_->setChecked(true);
  // an earlier revision is what it was
  as_revision_->setEnabled(book.sources().design.file.parent_path().filename() == "designs");
  with_measures_ = new QCheckBox(tr("with the measures of this size as its own"));
  with_measures_->setChecked(true);
  name_ = new QLineEdit(tr("%1, another").arg(text(design.name)));
  date_ = new QLineEdit(QDate::currentDate().toString(Qt::ISODate));
  what_ = new QLineEdit;
  why_ = new QLineEdit;
  file_ = new QLabel;
  told_ = new QLabel;
  told_->setWordWrap(true);
  QPalette wrong = palette();
  wrong.setColor(QPalette::WindowText, tones().wrong);
  told_->setPalette(wrong);
  auto* form = new QFormLayout;
  form->addRow(tr("name"), name_);
  form->addRow(tr("file"), file_);
  form->addRow(tr("date"), date_);
  form->addRow(tr("what is different"), what_);
  form->addRow(tr("why"), why_);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Save | QDialogButtonBox::Cancel);
  connect(buttons, &QDialogButtonBox::accepted, this, [this] {
    if (take()) accept();
  });
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(as_new_, &QRadioButton::toggled, this, &DesignSaver::hold);
  connect(name_, &QLineEdit::textChanged, this, &DesignSaver::hold);
  auto* down = new QVBoxLayout(this);
  for (QWidget* one : std::initializer_list<QWidget*>{as_new_, as_revision_, with_measures_}) down->addWidget(one);
  down->addLayout(form);
  down->addWidget(told_);
  down->addWidget(buttons);
  resize(560, sizeHint().height());
  hold();
}

void DesignSaver::hold() {
  name_->setEnabled(as_new_->isChecked());
  file_->setText(as_new_->isChecked() ? text("designs/" + job::design_id_for(name_->text().toStdString()) + ".yaml") : text("designs/" + book_.sources().design.file.filename().string()));
}

Result<Done> DesignSaver::save() {
  job::DesignToSave design;
  design.text = book_.sizes().design;
  design.from = book_.sources().design;
  if (with_measures_->isChecked()) design.measures = book_.sizes().columns[column_ - family::kOrder].own;
  design.date = date_->text().trimmed().toStdString();
  design.what = what_->text().trimmed().toStdString();
  design.why = why_->text().trimmed().toStdString();
  if (as_new_->isChecked()) design.new_name = name_->text().trimmed().toStdString();
  const auto saved = job::save_design(files_, book_.loaded().house, design);
  if (!saved.ok()) return saved.failure();
  return book_.design_saved(*saved);
}

bool DesignSaver::take() {
  const auto done = save();
  if (!done.ok()) told_->setText(QStringLiteral("✗ ") + lines_of(done.reasons()).join(QStringLiteral("\n✗ ")));
  return done.ok();
}

}  // namespace pommel::ui
