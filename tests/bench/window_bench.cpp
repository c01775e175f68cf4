// From a keystroke to what is shown: numbers, elevation, what follows, cut check; on the demo order and on a sheet of 300 measures in 12 sizes.
// Goals: numbers and elevation within a frame (16 ms), the rest in the background within 2 s. Read them as such; nothing passes or fails here.
#include <benchmark/benchmark.h>

#include <QApplication>
#include <QImage>
#include <QPainter>
#include <cstdio>

#include "job/skin.h"
#include "paper/canvas.h"
#include "ui/models/sheet_model.h"
#include "ui/views/piece_strips.h"

namespace {

using namespace pommel;

struct Opened {
  job::Loaded loaded;
  sheet::Sheet sheet{"catalogue"};
};

const Opened& demo() {
  static const Opened opened = [] {
    const auto files = real_files();
    const std::filesystem::path path = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders/harvest-table.yaml";
    const auto house = job::find_house(*files, path, {}, {});
    Sink sink;
    auto read = house.ok() ? job::load(*files, *house, path, sink) : std::nullopt;
    if (!read || sink.has_errors()) {
      std::fputs(render(sink.all()).c_str(), stderr);
      std::exit(1);
    }
    Opened out{std::move(*read), sheet::Sheet("catalogue")};
    out.sheet = family::make_sheet(out.loaded.family, out.loaded.design, &*out.loaded.order, out.loaded.shop, {}, sink);
    return out;
  }();
  return opened;
}

// All cells as the grid asks for them: more than a screen ever shows.
void read_all(const ui::SheetModel& model) {
  for (int row = 0; row < model.rowCount(); ++row)
    for (int column = 0; column < model.columnCount(); ++column)
      for (const int role : {Qt::DisplayRole, Qt::ForegroundRole, Qt::FontRole, Qt::BackgroundRole}) benchmark::DoNotOptimize(model.data(model.index(row, column), role));
}

void type_again(benchmark::State& state, ui::OrderBook& book, const char* measure) {
  ui::SheetModel model(book);
  int turn = 0;
  for (auto _ : state) {
    book.edit("height", {{measure, family::kOrder, std::to_string(780 + ++turn % 20) + " mm"}});
    read_all(model);
  }
}

void keystroke_to_numbers(benchmark::State& state) {
  ui::OrderBook book(demo().loaded, demo().sheet);
  type_again(state, book, "table_height");
}
BENCHMARK(keystroke_to_numbers)->Unit(benchmark::kMillisecond);

void keystroke_to_numbers_300_by_12(benchmark::State& state) {
  sheet::Sheet sheet("catalogue");
  for (int i = 0; i < 300; ++i) {
    sheet::Parameter row;
    row.name = "m" + std::to_string(i);
    row.entry = sheet::Entry{i == 0 ? "700 mm" : "= m" + std::to_string(i - 1) + " + 1 mm", {}, {}};
    row.group = "group " + std::to_string(i / 30);
    sheet.add(std::move(row));
  }
  sheet.add_column("order");
  for (int i = 2; i < 12; ++i) sheet.add_column("size " + std::to_string(i));
  sheet.settle();
  ui::OrderBook book(demo().loaded, std::move(sheet));
  type_again(state, book, "m0");
}
BENCHMARK(keystroke_to_numbers_300_by_12)->Unit(benchmark::kMillisecond);

// The piece made from the sheet, its view, and the elevation painted.
void keystroke_to_elevation(benchmark::State& state) {
  sheet::Sheet sheet = demo().sheet;
  QImage image(1280, 260, QImage::Format_ARGB32_Premultiplied);
  int turn = 0;
  for (auto _ : state) {
    (void)sheet.set_entry("table_height", family::kOrder, {std::to_string(780 + ++turn % 20) + " mm", {}, {}});
    const auto made = family::make(demo().loaded.family, demo().loaded.design, sheet, family::kOrder, demo().loaded.shop, {});
    if (!made.ok()) return state.SkipWithError("no piece");
    const auto piece = ui::shown_piece(*made, 0);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    paper::paint_leg(painter, piece->view, QTransform(1.5, 0, 0, 1.5, 14, 130), paper::Voice::full, 1.4);
  }
}
BENCHMARK(keystroke_to_elevation)->Unit(benchmark::kMillisecond);

void keystroke_to_solid(benchmark::State& state) {
  sheet::Sheet sheet = demo().sheet;
  int turn = 0;
  for (auto _ : state) {
    (void)sheet.set_entry("table_height", family::kOrder, {std::to_string(780 + ++turn % 20) + " mm", {}, {}});
    const auto made = family::make(demo().loaded.family, demo().loaded.design, sheet, family::kOrder, demo().loaded.shop, {});
    if (!made.ok()) return state.SkipWithError("no piece");
    std::stop_source seen;  // the first is: the fine one comes behind it
    (void)job::skins_of(made->set.members.front().part, [&](const std::shared_ptr<const job::Skin>& skin) {
      solid::View view;
      view.width = 520, view.height = 640;
      benchmark::DoNotOptimize(solid::picture(skin->mesh, view));
      seen.request_stop();
    }, seen.get_token());
    if (!seen.stop_requested()) return state.SkipWithError("no solid");
  }
}
BENCHMARK(keystroke_to_solid)->Unit(benchmark::kMillisecond);

void keystroke_to_price(benchmark::State& state) {
  sheet::Sheet sheet = demo().sheet;
  int turn = 0;
  for (auto _ : state) {
    (void)sheet.set_entry("table_height", family::kOrder, {std::to_string(780 + ++turn) + " mm", {}, {}});
    const auto column = job::run_column(demo().loaded, sheet, family::kOrder, {});
    if (!column.ok()) return state.SkipWithError("nothing follows");
  }
}
BENCHMARK(keystroke_to_price)->Unit(benchmark::kMillisecond);

void price_to_check(benchmark::State& state) {
  const auto column = job::run_column(demo().loaded, demo().sheet, family::kOrder, {});
  if (!column.ok()) return state.SkipWithError("nothing follows");
  for (auto _ : state) {
    const auto program = job::write_and_prove(column->requests.front(), *column->turnings.front(), {}, {});
    if (!program.ok()) return state.SkipWithError("no program");
  }
}
BENCHMARK(price_to_check)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QApplication app(argc, argv);
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
}
