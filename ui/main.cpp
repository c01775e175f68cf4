// pommel-window [ORDER]: the order's measures and what follows from them, in a window.
#include <QApplication>
#include <QCommandLineParser>
#include <QMessageBox>
#include <cstdio>

#include "ui/views/order_window.h"

namespace {

int complain(const std::vector<pommel::Diagnostic>& found) {
  const std::string text = pommel::render(found);
  std::fwrite(text.data(), 1, text.size(), stderr);
  if (QGuiApplication::platformName() != "offscreen") QMessageBox::warning(nullptr, "Pommel", QString::fromStdString(text));
  return 1;
}

}  // namespace

int main(int argc, char** argv) {
  QApplication app(argc, argv);
  QApplication::setApplicationName("pommel-window");
  QCommandLineParser parser;
  parser.setApplicationDescription("An order's measures and what follows from them.");
  parser.addHelpOption();
  parser.addPositionalArgument("order", "an order's file; without one, the demo order");
  const QCommandLineOption picture("picture", "write a picture of the window when everything is worked out, and close", "file.png");
  parser.addOption(picture);
  parser.process(app);

  const auto files = pommel::real_files();
  const std::filesystem::path beside = std::filesystem::path(QCoreApplication::applicationDirPath().toStdString()).parent_path() / "share" / "pommel";
  const QStringList given = parser.positionalArguments();
  std::filesystem::path order = given.isEmpty() ? "catalog/orders/harvest-table.yaml" : given.front().toStdString();
  if (given.isEmpty() && !files->exists(order)) order = beside / order;
  const auto house = pommel::job::find_house(*files, order, {}, beside);
  if (!house.ok()) return complain(house.reasons());
  pommel::Sink sink;
  const auto loaded = pommel::job::load(*files, *house, order, sink);
  if (sink.has_errors() || !loaded) return complain(sink.all());
  if (!loaded->order) return complain(pommel::fail("ui.no-order", "'" + order.generic_string() + "' is a design, not an order", "open an order").reasons);
  auto sheet = pommel::family::make_sheet(loaded->family, loaded->design, &*loaded->order, loaded->shop, {}, sink);
  if (sink.has_errors()) return complain(sink.all());

  pommel::ui::OrderWindow window(*loaded, std::move(sheet));
  if (parser.isSet(picture))
    QObject::connect(&window, &pommel::ui::OrderWindow::followed_up, &app, [&] { QCoreApplication::exit(window.grab().save(parser.value(picture)) ? 0 : 4); });
  window.show();
  return QApplication::exec();
}
