#include "ui/views/shop_form.h"

#include <QDialogButtonBox>
#include <QEvent>
#include <QFormLayout>
#include <QGridLayout>
#include <QGroupBox>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include "ui/views/hint.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

QString name_of(const job::ShopKeys& keys) {
  const std::string& last = keys.back();
  const bool index = last.find_first_not_of("0123456789") == std::string::npos;
  return text(index && keys.size() > 1 ? keys[keys.size() - 2] + " " + last : last);
}

}  // namespace

void FormDrawing::show_part(const QString& part, const QString& value) {
  part_ = part, value_ = value;
  update();
}

ShopForm::ShopForm(FileSystem& files, std::filesystem::path file, const QString& title, const std::vector<FormGroup>& groups, FormDrawing* drawing, job::ShopKeys confirmed,
                   const QString& act, QWidget* parent)
    : QDialog(parent), files_(files), file_(std::move(file)), drawing_(drawing), confirmed_keys_(std::move(confirmed)) {
  setWindowTitle(title);
  if (const auto read = files_.read(file_); read.ok()) text_ = *read;
  auto* fields = new QWidget;
  auto* grid = new QGridLayout(fields);
  confirmed_ = new QCheckBox(QString(act).replace(QStringLiteral(" ("), QStringLiteral("\n(")));  // a check box does not wrap its words
  confirmed_->setChecked(job::value_at(text_, file_.generic_string(), confirmed_keys_) == "yes");
  for (std::size_t i = 0; i < groups.size(); ++i)
    if (QWidget* group = group_of(groups[i])) grid->addWidget(group, static_cast<int>(i / 3), static_cast<int>(i % 3));
  auto* scroll = new QScrollArea;
  scroll->setWidget(fields);
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setAccessibleName(title);
  told_ = new QLabel(tr("Kept in %1").arg(text(file_.generic_string())));
  told_->setWordWrap(true);
  told_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Save | QDialogButtonBox::Cancel);
  connect(buttons, &QDialogButtonBox::accepted, this, [this] {
    if (take()) accept();
  });
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  auto* down = new QVBoxLayout(this);
  down->addWidget(drawing_);
  down->addWidget(scroll, 1);
  down->addWidget(confirmed_);
  down->addWidget(told_);
  down->addWidget(buttons);
  resize(960, 760);
}

QWidget* ShopForm::group_of(const FormGroup& group) {
  auto* box = new QGroupBox(group.title);
  auto* form = new QFormLayout(box);
  for (const FormField& field : group.fields) {
    const auto now = job::value_at(text_, file_.generic_string(), field.keys);
    if (!now && field.usual.isEmpty()) continue;
    auto* edit = new QLineEdit(text(now.value_or("")));
    if (!field.usual.isEmpty()) show_hint(*edit, tr("as usual: %1").arg(field.usual));
    edit->setObjectName(name_of(field.keys));
    edit->setAccessibleName(group.title + ", " + field.label);
    edit->setMinimumWidth(12 * edit->fontMetrics().averageCharWidth());
    edit->setCursorPosition(0);
    edit->installEventFilter(this);
    connect(edit, &QLineEdit::textEdited, this, [this, field](const QString& value) {
      confirmed_->setChecked(false);  // another figure is not what was confirmed
      drawing_->show_part(field.part, value);
    });
    form->addRow(field.label, edit);
    lines_.push_back({field, edit, now.value_or("")});
  }
  if (form->rowCount() > 0) return box;
  delete box;
  return nullptr;
}

bool ShopForm::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::FocusIn)
    for (const Line& line : lines_)
      if (line.edit == watched) drawing_->show_part(line.field.part, line.edit->text());
  return QDialog::eventFilter(watched, event);
}

bool ShopForm::take() {
  job::Stated values;
  QStringList unsaid;
  for (const Line& line : lines_) {
    const std::string now = line.edit->text().trimmed().toStdString();
    if (now == line.before) continue;
    if (now.empty() && line.field.usual.isEmpty()) unsaid << line.edit->accessibleName();
    values.emplace_back(line.field.keys, now.empty() ? std::nullopt : std::optional(now));
  }
  values.emplace_back(confirmed_keys_, confirmed_->isChecked() ? "yes" : "no");
  const auto refused = [this](const std::vector<Diagnostic>& reasons) {
    QPalette wrong = palette();
    wrong.setColor(QPalette::WindowText, tones().wrong);
    told_->setPalette(wrong);
    told_->setText(QStringLiteral("✗ ") + lines_of(reasons).join(QStringLiteral("\n✗ ")));
    return false;
  };
  if (!unsaid.isEmpty()) return refused(fail("ui.unsaid", "this must be stated: " + unsaid.join(QStringLiteral("; ")).toStdString(), "fill it in").reasons);
  const auto made = job::with_values(text_, file_.generic_string(), values);
  if (!made.ok()) return refused(made.reasons());
  const auto saved = job::save_file(files_, file_, text_, *made);
  return saved.ok() ? true : refused(saved.reasons());
}

}  // namespace pommel::ui
