// One order: the piece along the window's width, under it the measures with what follows, beside them the frame as it stands and what is
// different from the catalogue.
//
// Nothing here waits: the sheet answers at once, piece and frame in milliseconds, time, price and cut check when the follower has them. What is
// not yet worked out again is shown light and with its date, or as "…".
#pragma once

#include <QAction>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QMainWindow>
#include <QMenu>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QTimer>
#include <map>
#include <set>

#include "ui/models/column_state.h"
#include "ui/models/element_measures.h"
#include "ui/models/folder_maker.h"
#include "ui/models/order_file.h"
#include "ui/views/cut_view.h"
#include "ui/views/follows_view.h"
#include "ui/views/measure_grid.h"
#include "ui/views/outline_palette.h"
#include "ui/views/piece_strips.h"
#include "ui/views/program_view.h"
#include "ui/views/shop_forms.h"
#include "ui/views/solid_view.h"
#include "ui/views/standing_view.h"

namespace pommel::ui {

class OrderWindow : public QMainWindow {
  Q_OBJECT

 public:
  /// REQUIRES: `loaded` has an order; `sheet` is its sheet, without errors; `file` is of the file that it was read from.
  OrderWindow(job::Loaded loaded, sheet::Sheet sheet, job::Sources sources, OrderFile file, QWidget* parent = nullptr);
  ~OrderWindow() override;

  OrderBook& book() { return book_; }
  SheetModel& model() { return *model_; }
  MeasureGrid& grid() { return *grid_; }
  LengthAxis& axis() { return *axis_; }
  /// Whether all that was asked has been answered.
  bool settled() const { return settled_; }
  const ColumnState& state_of(std::size_t column) { return columns_[column]; }
  /// The text beside the standing picture, as shown.
  QString told() const { return follows_->told(); }
  QString at_foot() const { return foot_->text(); }
  QWidget& steps() { return *steps_; }
  QWidget& held() { return *held_bar_; }
  QComboBox& pieces() { return *pieces_; }
  OutlinePalette& palette() { return *palette_; }
  CutView& cut() { return *cut_; }
  FollowsView& follows() { return *follows_; }

  const std::filesystem::path& file_path() const { return file_.path(); }
  void show_recent(const QStringList& paths);

  /// Reasons are shown; false when it was not saved.
  bool save(const std::filesystem::path& path);
  void make_folder(const std::filesystem::path& into, bool replace);
  FolderMaker& folder_maker() { return maker_; }
  /// The program of the piece that is shown, in a window of its own.
  ProgramView& open_program();
  /// The piece that is shown, as a solid in a window of its own.
  SolidView& open_solid();
  /// Holds the copy of unsaved changes for this window; shows what an ended session left, and says where that is damaged or another
  /// window has the order open. Whether there is something to take up.
  bool offer_left_behind();
  /// Takes up what an ended session left, as one step that can be undone.
  void take_left_behind();
  /// Says that readings of a turning were left, too; they are shown by match_wanted().
  void offer_left_readings();
  /// Of another window this one's order may be opened now.
  void let_go_of_copy() { file_.let_go(); }
  /// What is said above the strips of damaged or held copies; empty when nothing is.
  QString notice() const;

 signals:
  /// Everything shown is up to date again.
  void followed_up();
  void open_wanted();
  void new_wanted();
  void match_wanted();
  void reopen_wanted(const QString& path);

 protected:
  void closeEvent(QCloseEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  void build();
  void build_menus();
  QWidget* steps_bar();
  QAction* action(QMenu* menu, const QString& words, const QKeySequence& keys, std::function<void()> run);
  void ask();
  void take(const Sketched& answer);
  void take(const Followed& answer);
  void reshape();
  void show_column(std::size_t column);
  void show_all();
  void show_strips(const ColumnState& catalogue, const ColumnState& order);
  void show_strip(QWidget* strip, bool on);
  void show_program();
  void show_solid();
  void show_palette();
  void fill_pieces(const ColumnState& order);
  void follow_hairline();
  void pick(double x);
  std::optional<ElementAt> written_element(std::size_t mark) const;
  void mark_elements();
  void draw_to(double x, double diameter);
  void stretch_to(std::size_t mark, double length);
  void take_drawn(const std::string& label, const Result<NewEntry>& entry);
  void set_drawn();
  QWidget* held_bar();
  std::optional<std::size_t> element_at(double x) const;
  void say();
  QString told_text() const;
  QString check_text(const ColumnState& state) const;
  void ask_for_folder();
  bool ask_for_design();
  bool ask_for_design_first();
  void edit_order();
  void fill_in(ShopForm* form);
  ShopForm* my_machine();
  ShopForm* my_rates();
  void ask_where_to_save();
  void keep_copy();
  void rewritten();
  void name_window();
  Draft draft() const;

  OrderBook book_;
  OrderFile file_;
  ShopBook shop_book_;
  SheetModel* model_;
  Follower follower_;
  FolderMaker maker_;
  LengthAxis* axis_;
  StripContent content_;
  Overview* overview_;
  Elevation* elevation_;
  RadiusStrip* radius_;
  BlankStrip* blank_;
  CheckStrip* check_;
  OutlinePalette* palette_;
  CutView* cut_;
  ProgramView* program_ = nullptr;
  SolidView* solid_ = nullptr;
  MeasureGrid* grid_;
  QLineEdit* find_;
  QComboBox* pieces_;
  StandingView* standing_;
  FollowsView* follows_;
  QLabel *foot_, *reading_, *doing_;
  QPushButton* stop_making_;
  QWidget *steps_, *left_behind_, *notice_, *held_bar_;
  QLabel* notice_says_;
  QScrollArea* strips_;
  QSplitter* halves_;
  QLabel* held_says_;
  QPushButton* held_set_;
  QMenu* recent_;
  QTimer keep_soon_;

  /// A piece ready to be painted is kept while what it was made from is the same: most answers change something else.
  struct KeptPiece {
    std::shared_ptr<const family::Made> made;
    std::size_t piece = 0;
    std::string member;
    std::shared_ptr<const ShownPiece> shown;
  };
  static std::shared_ptr<const ShownPiece> kept_piece(KeptPiece& kept, const std::shared_ptr<const family::Made>& made, std::size_t piece, const std::string& member);
  KeptPiece kept_order_, kept_catalogue_;
  struct {
    double head = 0, foot = 0;
  } waste_;  // mm beyond the piece's ends, of the last blank that was known
  std::map<std::size_t, ColumnState> columns_;
  std::set<std::size_t> unanswered_;
  std::size_t shown_column_ = family::kOrder;
  std::size_t shown_piece_ = 0;
  std::string shown_member_;                                 ///< id, where the piece's members are of several kinds
  std::vector<std::pair<std::size_t, std::string>> faces_;   ///< beside pieces_: piece and member
  NewEntry held_;
  QString held_label_;
  bool settled_ = false;
};

}  // namespace pommel::ui
