// Matching an existing turning: its readings in a table, the outline fitted to them live above it on the length axis, the elements it is cut into beside
// the table, and what stands in the way of knowing it better; then it is kept as a design of the house.
//
// Nothing here waits for the fitting (ui/models/match_bench.h). A drawing or scan can lie on the bench instead of readings, or together with them.
#pragma once

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QMainWindow>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableView>
#include <QTimer>

#include "job/matched.h"
#include "ui/models/bench_copy.h"
#include "ui/models/found_model.h"
#include "ui/models/match_bench.h"
#include "ui/views/match_strips.h"
#include "ui/views/readings_grid.h"

namespace pommel::ui {

/// Whether a file of that name is one to match: readings, a drawing or a scan.
bool may_be_matched(const std::filesystem::path& file);

class MatchWindow : public QMainWindow {
  Q_OBJECT

 public:
  /// `unit`: of numbers without one, until another is chosen. `kept_in`: the folder for copies of unsaved readings. REQUIRES: files outlive the window.
  MatchWindow(FileSystem& files, designs::House house, LengthUnit unit, std::filesystem::path kept_in, QWidget* parent = nullptr);
  ~MatchWindow() override;

  /// Reasons are shown; false when nothing was taken.
  bool open(const std::filesystem::path& file);
  /// Writes the design as the command does; false, and told, where that cannot be.
  bool keep();
  /// Shows, above all else, what an ended session left; whether it left anything.
  bool offer_left_behind();
  /// Takes that up: the table as one step that can be undone.
  void take_left_behind();
  /// Holds the readings, taken of a finished copy, against a design of the house, and tells how far they lie off.
  void hold_against(const std::string& design);

  MatchBench& bench() { return bench_; }
  ReadingsGrid& grid() { return *grid_; }
  LengthAxis& axis() { return axis_; }
  MatchStrip& strip() { return *strip_; }
  MisfitStrip& misfit() { return *misfit_; }
  QTableView& elements() { return *elements_; }
  QLineEdit& name() { return *name_; }
  QComboBox& family() { return *family_; }
  QComboBox& kind() { return *kind_; }
  QComboBox& unit() { return *unit_; }
  QComboBox& drawn_unit() { return *drawn_unit_; }
  QLineEdit& square() { return *square_; }
  QPushButton& keep_button() { return *keep_; }
  /// What is said of the outline, and what stands in the way, as shown.
  QString told() const { return told_->toPlainText(); }
  QString told_of_keeping() const { return kept_told_->text(); }

  void pin();
  void split();
  void merge();

 signals:
  /// A design was written: its name in the catalog.
  void kept(const std::string& design);

 protected:
  void showEvent(QShowEvent* event) override;
  void closeEvent(QCloseEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  void build();
  void build_menus();
  QWidget* ways_of_reading();
  QWidget* left_bar();
  QWidget* drawn_bar();
  QWidget* readings_side();
  QWidget* elements_side();
  QWidget* keeping_bar();
  QLineEdit* field(const QString& name, const QString& hint);
  void take_how();
  void show_all();
  void show_ways();
  void choose(int element);
  void follow_hairline();
  QString told_text() const;
  QStringList problem_lines() const;
  QStringList what_is_seen() const;
  void ask_for_file();
  bool ask_where_to_save();
  void ask_for_design();
  bool save(const std::filesystem::path& file);
  std::map<std::string, QLineEdit*> texts();
  std::map<std::string, QComboBox*> choices();
  std::map<std::string, QCheckBox*> ticks();
  BenchDraft draft();
  void keep_copy();

  FileSystem& files_;
  designs::House house_;
  BenchCopy copy_;
  QTimer keep_soon_;
  std::optional<BenchDraft> left_;  ///< what is offered
  MatchBench bench_;
  LengthAxis axis_;
  MatchLook look_;
  FoundModel* found_;
  MatchStrip* strip_;
  MisfitStrip* misfit_;
  ReadingsGrid* grid_;
  QTableView* elements_;
  QPlainTextEdit* told_;
  QComboBox *unit_, *drawn_unit_, *scan_axis_, *family_, *kind_;
  QLineEdit *square_, *uncertainty_, *place_uncertainty_, *gap_, *name_;
  QCheckBox *as_read_, *end_for_end_, *replace_;
  QPushButton *pin_, *split_, *merge_, *keep_;
  QWidget *left_bar_, *drawn_bar_;
  QLabel *left_says_, *drawn_name_, *kept_told_, *reading_;
};

}  // namespace pommel::ui
