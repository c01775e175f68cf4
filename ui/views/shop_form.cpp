#include "ui/views/shop_form.h"

#include <QAction>
#include <QContextMenuEvent>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QMenu>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/views/choice_box.h"
#include "ui/views/columns_layout.h"
#include "ui/views/hint.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr int kColumns = 3, kShownLines = 3, kLeastLetters = 12;

// Within the file; of a machine, which it is goes without saying.
QString name_of(const job::ShopKeys& keys) {
  QStringList out;
  for (std::size_t i = keys.size() > 2 ? 2 : 0; i < keys.size(); ++i) out << text(keys[i]);
  return out.join(u' ');
}

void in_wrong_tone(QWidget& label) {
  QPalette wrong = label.palette();
  wrong.setColor(QPalette::WindowText, tones().wrong);
  label.setPalette(wrong);
}

}  // namespace

void FormDrawing::show_part(const QString& part, const QString& value) {
  part_ = part, value_ = value;
  update();
}

ShopForm::ShopForm(ShopEntries& entries, const QString& title, const std::vector<FormGroup>& groups, FormDrawing* drawing, const QString& act, QWidget* parent)
    : QDialog(parent), entries_(entries), drawing_(drawing) {
  setWindowTitle(title);
  std::vector<ShopEntries::Entry> wanted;
  for (const FormGroup& group : groups)
    for (const FormField& field : group.fields) wanted.push_back({group.title + ", " + field.label, field.keys, field.lines, !field.usual.isEmpty()});
  entries_.read(std::move(wanted));
  auto* fields = new QWidget;
  auto* columns = new ColumnsLayout(kColumns, fields);
  confirmed_ = new QCheckBox(QString(act).replace(QStringLiteral(" ("), QStringLiteral("\n(")));  // a check box does not wrap its words
  for (const FormGroup& group : groups)
    if (QWidget* box = group_of(group)) columns->addWidget(box);
  scroll_ = new QScrollArea;
  scroll_->setWidget(fields);
  scroll_->setWidgetResizable(true);
  scroll_->setFrameShape(QFrame::NoFrame);
  scroll_->setAccessibleName(title);
  told_ = new QLabel;
  told_->setWordWrap(true);
  show_where();
  told_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  auto* down = new QVBoxLayout(this);
  down->addWidget(drawing_);
  down->addWidget(scroll_, 1);
  down->addWidget(confirmed_);
  down->addWidget(told_);
  down->addWidget(buttons());
  show_entries();
  connect(confirmed_, &QCheckBox::toggled, this, [this](bool yes) {
    if (!showing_) entries_.confirm(yes);
  });
  connect(&entries_, &ShopEntries::changed, this, &ShopForm::show_entries);
  resize(960, 760);
}

QDialogButtonBox* ShopForm::buttons() {
  auto* box = new QDialogButtonBox(QDialogButtonBox::Save | QDialogButtonBox::Cancel);
  undo_ = entries_.undo().createUndoAction(this, tr("Undo"));
  redo_ = entries_.undo().createRedoAction(this, tr("Redo"));
  undo_->setShortcut(QKeySequence::Undo);
  redo_->setShortcut(QKeySequence::Redo);
  for (const auto& [action, words] : {std::pair{undo_, tr("Undo")}, std::pair{redo_, tr("Redo")}}) {
    addAction(action);
    auto* button = box->addButton(words, QDialogButtonBox::ActionRole);
    button->setAutoDefault(false);
    const auto follow = [button, action = action] {
      button->setEnabled(action->isEnabled());
      button->setToolTip(action->text());
    };
    connect(action, &QAction::changed, button, follow);
    connect(button, &QPushButton::clicked, action, &QAction::trigger);
    follow();
  }
  connect(box, &QDialogButtonBox::accepted, this, [this] {
    if (take()) accept();
  });
  connect(box, &QDialogButtonBox::rejected, this, &QDialog::reject);
  return box;
}

QWidget* ShopForm::group_of(const FormGroup& group) {
  auto* box = new QGroupBox(group.title);
  auto* form = new QFormLayout(box);
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  for (const FormField& field : group.fields) {
    const auto entry = entries_.index_of(field.keys);
    if (!entry) continue;
    QWidget* edit = edit_of(field, *entry);
    edit->setObjectName(name_of(field.keys));
    edit->setAccessibleName(group.title + ", " + field.label);
    if (field.choices.empty()) edit->setMinimumWidth(kLeastLetters * edit->fontMetrics().averageCharWidth());  // a choice knows its own
    edit->installEventFilter(this);
    auto* wrong = new QLabel;
    wrong->setWordWrap(true);
    wrong->hide();
    form->addRow(field.label, edit);
    form->addRow(wrong);
    rows_.push_back({field, edit, wrong});  // as entries_ has them: in the order of the fields
  }
  if (form->rowCount() > 0) return box;
  delete box;
  return nullptr;
}

QWidget* ShopForm::edit_of(const FormField& field, std::size_t entry) {
  if (field.lines) return lines_of(field, entry);
  return field.choices.empty() ? line_of(field, entry) : choice_of(field, entry);
}

QWidget* ShopForm::line_of(const FormField& field, std::size_t entry) {
  auto* edit = new QLineEdit;
  if (!field.usual.isEmpty()) show_hint(*edit, tr("as usual: %1").arg(field.usual));
  connect(edit, &QLineEdit::textChanged, this, [this, entry](const QString& value) { edited(entry, value, true); });
  return edit;
}

// A word that is none of the choices (of a newer house, say) stands among them as it is written.
QWidget* ShopForm::choice_of(const FormField& field, std::size_t entry) {
  auto* box = new ChoiceBox;
  box->setFocusPolicy(Qt::StrongFocus);
  if (!field.usual.isEmpty()) box->addItem(tr("as usual: %1").arg(field.usual), QString());
  for (const auto& [id, words] : field.choices) box->addItem(words, id);
  const QString& now = entries_.entries()[entry].stated;
  if (!now.isEmpty() && box->findData(now) < 0) box->addItem(now, now);
  if (!field.usual.isEmpty()) dim_where_unstated(*box);
  connect(box, &QComboBox::currentIndexChanged, this, [this, box, entry] { edited(entry, box->currentData().toString(), false); });
  return box;
}

QWidget* ShopForm::lines_of(const FormField& field, std::size_t entry) {
  auto* edit = new QPlainTextEdit;
  edit->setTabChangesFocus(true);
  edit->setUndoRedoEnabled(false);  // the form has its own
  edit->setLineWrapMode(QPlainTextEdit::NoWrap);
  if (!field.usual.isEmpty()) show_hint(*edit, tr("as usual: %1").arg(field.usual));
  const int beside = 2 * (edit->frameWidth() + static_cast<int>(edit->document()->documentMargin()));
  edit->setFixedHeight(kShownLines * edit->fontMetrics().lineSpacing() + beside);
  connect(edit, &QPlainTextEdit::textChanged, this, [this, edit, entry] { edited(entry, edit->toPlainText(), true); });
  return edit;
}

void ShopForm::edited(std::size_t entry, const QString& value, bool typed) {
  if (showing_) return;
  entries_.set(entry, value, typed);
  drawing_->show_part(rows_[entry].field.part, value);
}

// Where it was changed by no field, the first one that changes shows itself.
void ShopForm::show_entries() {
  showing_ = true;
  const Row* shown = nullptr;
  for (std::size_t i = 0; i < rows_.size(); ++i)
    if (show_entry(i) && !shown) shown = &rows_[i];
  confirmed_->setChecked(entries_.values().confirmed);
  showing_ = false;
  if (shown && isVisible()) show_row(*shown);
}

bool ShopForm::show_entry(std::size_t entry) {
  const QString& value = entries_.values().entries[entry];
  QWidget* const edit = rows_[entry].edit;
  if (auto* line = qobject_cast<QLineEdit*>(edit)) {
    if (line->text() == value) return false;
    line->setText(value);
    if (!isVisible()) line->setCursorPosition(0);
  } else if (auto* box = qobject_cast<QComboBox*>(edit)) {
    if (box->currentData().toString() == value) return false;
    box->setCurrentIndex(box->findData(value));
  } else if (auto* lines = qobject_cast<QPlainTextEdit*>(edit)) {
    if (lines->toPlainText() == value) return false;
    lines->setPlainText(value);
    if (isVisible()) lines->moveCursor(QTextCursor::End);
  }
  return true;
}

void ShopForm::show_row(const Row& row) {
  row.edit->setFocus();
  scroll_->ensureWidgetVisible(row.edit);
  const std::size_t entry = static_cast<std::size_t>(&row - rows_.data());
  drawing_->show_part(row.field.part, entries_.values().entries[entry]);
}

QString ShopForm::told_beside(const char* keys) const {
  for (const Row& row : rows_)
    if (row.edit->objectName() == QLatin1String(keys)) return row.wrong->text();
  return {};
}

bool ShopForm::eventFilter(QObject* watched, QEvent* event) {
  const auto row = std::find_if(rows_.begin(), rows_.end(), [watched](const Row& one) { return one.edit == watched; });
  if (row == rows_.end()) return QDialog::eventFilter(watched, event);
  if (event->type() == QEvent::FocusIn) drawing_->show_part(row->field.part, entries_.values().entries[static_cast<std::size_t>(row - rows_.begin())]);
  if (event->type() == QEvent::FocusOut) entries_.end_typing();
  if (event->type() == QEvent::Wheel && qobject_cast<QComboBox*>(watched) && !row->edit->hasFocus()) {
    event->ignore();  // it scrolls the form and chooses nothing on the way
    return true;
  }
  if (event->type() == QEvent::ShortcutOverride || event->type() == QEvent::KeyPress) {
    const auto* key = static_cast<QKeyEvent*>(event);
    if (key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) {
      event->ignore();  // the form's, never the field's own
      return true;
    }
  }
  if (auto* line = event->type() == QEvent::ContextMenu ? qobject_cast<QLineEdit*>(watched) : nullptr) {
    show_menu(*line, static_cast<QContextMenuEvent*>(event)->globalPos());
    return true;
  }
  return QDialog::eventFilter(watched, event);
}

// The field's own menu with the form's undo in it.
void ShopForm::show_menu(QLineEdit& edit, const QPoint& at) {
  QMenu* menu = edit.createStandardContextMenu();
  menu->setAttribute(Qt::WA_DeleteOnClose);
  for (QAction* one : menu->actions())
    if (one->objectName() == QLatin1String("edit-undo") || one->objectName() == QLatin1String("edit-redo")) menu->removeAction(one);
  menu->insertActions(menu->actions().value(0), {undo_, redo_});
  menu->popup(at);
}

// Beside the field where it is known which, all of them at the foot, too: a field may be out of sight.
void ShopForm::show_wrong(const std::vector<Diagnostic>& reasons) {
  const Row* first = nullptr;
  for (Row& row : rows_) row.wrong->clear();
  for (const Diagnostic& reason : reasons) {
    const auto entry = entries_.of(reason);
    if (!entry) continue;
    QLabel& wrong = *rows_[*entry].wrong;
    in_wrong_tone(wrong);
    const QString words = QStringLiteral("✗ ") + ui::lines_of({reason}).join(u' ');
    wrong.setText(wrong.text().isEmpty() ? words : wrong.text() + u'\n' + words);
    if (!first || &rows_[*entry] < first) first = &rows_[*entry];
  }
  for (Row& row : rows_) row.wrong->setVisible(!row.wrong->text().isEmpty());
  if (reasons.empty()) return show_where();
  in_wrong_tone(*told_);
  told_->setText(QStringLiteral("✗ ") + ui::lines_of(reasons).join(QStringLiteral("\n✗ ")));
  if (first && isVisible()) show_row(*first);
}

void ShopForm::show_where() {
  told_->setPalette(palette());
  told_->setText(tr("Kept in %1").arg(text(entries_.file().generic_string())));
}

bool ShopForm::take() {
  const auto saved = entries_.save();
  show_wrong(saved.ok() ? std::vector<Diagnostic>() : saved.reasons());
  return saved.ok();
}

void ShopForm::reject() {
  entries_.go_back();
  QDialog::reject();
}

}  // namespace pommel::ui
