// What stands on the bench and is not saved: kept while it is typed, offered again after a session that was ended.
#include <QStatusBar>

#include "ui/views/in_words.h"
#include "ui/views/match_window.h"
#include "ui/views/telling_bar.h"

namespace pommel::ui {
namespace {

constexpr auto kDrawing = "drawing";  ///< the file that lies on the bench beside the readings

}  // namespace

QWidget* MatchWindow::left_bar() {
  left_says_ = new QLabel;
  auto* take = new QPushButton(tr("Take them"));
  auto* away = new QPushButton(tr("Throw them away"));
  connect(take, &QPushButton::clicked, this, &MatchWindow::take_left_behind);
  connect(away, &QPushButton::clicked, this, [this] {
    copy_.throw_left_away();
    offer_left_behind();
  });
  return telling_bar(left_says_, {take, away});
}

// The names are written into copies: they stay what they are.
std::map<std::string, QLineEdit*> MatchWindow::texts() {
  return {{"square", square_}, {"diameters", uncertainty_}, {"places", place_uncertainty_}, {"gaps", gap_}, {"name", name_}};
}

std::map<std::string, QComboBox*> MatchWindow::choices() { return {{"numbers", unit_}, {"drawing unit", drawn_unit_}, {"axis", scan_axis_}, {"becomes", family_}}; }

std::map<std::string, QCheckBox*> MatchWindow::ticks() { return {{"as read", as_read_}, {"end for end", end_for_end_}}; }

BenchDraft MatchWindow::draft() {
  BenchDraft out;
  for (const auto& [name, field] : texts()) out.fields[name] = field->text().simplified().toStdString();
  for (const auto& [name, choice] : choices()) out.fields[name] = choice->currentData().toString().toStdString();
  for (const auto& [name, tick] : ticks()) out.fields[name] = tick->isChecked() ? "yes" : "no";
  if (bench_.drawn()) out.fields[kDrawing] = std::filesystem::absolute(bench_.drawn()->file).generic_string();
  out.table = bench_.readings().text();
  return out;
}

void MatchWindow::keep_copy() {
  if (!isWindowModified() || bench_.readings().blank()) return copy_.forget();
  if (const auto kept = copy_.keep(draft()); !kept.ok()) statusBar()->showMessage(tr("no copy of the unsaved readings could be kept: %1").arg(lines_of(kept.reasons()).join(u' ')), 8000);
}

bool MatchWindow::offer_left_behind() {
  left_ = copy_.left_behind();
  left_bar_->setVisible(left_.has_value());
  if (left_) left_says_->setText(tr("The last session ended with readings that were not saved, %1 rows of them.").arg(ReadingsModel::rows_of(left_->table).size()));
  if (copy_.damaged()) statusBar()->showMessage(tr("Unsaved readings of the last session cannot be read. What is left of them is kept as %1").arg(text(copy_.damaged()->generic_string())));
  return left_.has_value();
}

void MatchWindow::take_left_behind() {
  if (!left_) return;
  const auto fields = std::move(left_->fields);
  const auto written = [&](const std::string& name) {
    const auto at = fields.find(name);
    return at == fields.end() ? QString() : text(at->second);
  };
  for (const auto& [name, field] : texts()) field->setText(written(name));
  for (const auto& [name, choice] : choices()) choice->setCurrentIndex(std::max(0, choice->findData(written(name))));
  for (const auto& [name, tick] : ticks()) tick->setChecked(written(name) == QStringLiteral("yes"));
  bench_.readings().change(tr("readings of the last session"), ReadingsModel::rows_of(left_->table));
  copy_.take_left();
  left_.reset();
  left_bar_->hide();
  take_how();
  if (const QString drawing = written(kDrawing); !drawing.isEmpty()) open(drawing.toStdString());
}

}  // namespace pommel::ui
