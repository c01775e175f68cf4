// pommel-window [ORDER]: the order's measures and what follows from them, in a window.
#include <QApplication>
#include <QCommandLineParser>
#include <QLibraryInfo>
#include <QLocale>
#include <QMessageBox>
#include <QTranslator>
#include <clocale>
#include <csignal>
#include <cstdio>

#include "ui/models/own_house.h"
#include "ui/views/desk.h"

namespace {

int complain(const std::vector<pommel::Diagnostic>& found) {
  const std::string text = pommel::render(found);
  std::fwrite(text.data(), 1, text.size(), stderr);
  if (QGuiApplication::platformName() != "offscreen") QMessageBox::warning(nullptr, "Pommel", QString::fromStdString(text));
  return 1;
}

constexpr auto kDemo = "catalog/orders/harvest-table.yaml";

// Beside the executable, or, run from its source, the folder it is run in.
std::filesystem::path came_with_the_tool() {
  const std::filesystem::path beside = std::filesystem::path(QCoreApplication::applicationDirPath().toStdString()).parent_path() / "share" / "pommel";
  return std::filesystem::exists(beside / kDemo) || !std::filesystem::exists(kDemo) ? beside : std::filesystem::current_path();
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGXFSZ, SIG_IGN);  // a file that grows too large is a failed write
  QApplication app(argc, argv);
  std::setlocale(LC_NUMERIC, "C");  // Qt has set the desktop's: libraries that print by it would write decimal commas
  QApplication::setOrganizationName("pommel");
  QApplication::setApplicationName("pommel-window");
  QCommandLineParser parser;
  parser.setApplicationDescription("An order's measures and what follows from them.");
  parser.addHelpOption();
  parser.addPositionalArgument("order", "an order's file; without one, the demo order in a house of your own, which is made at the first start");
  const QCommandLineOption picture("picture", "write a picture of the window when everything is worked out, and close", "file.png");
  parser.addOption(picture);
  const QCommandLineOption language("language", "the window's language (en, de); else the desktop's", "language");
  parser.addOption(language);
  parser.process(app);
  const QLocale speech = parser.isSet(language) ? QLocale(parser.value(language)) : QLocale();
  QTranslator ours, of_qt;
  if (ours.load(speech, "pommel", "_", ":/translations")) QApplication::installTranslator(&ours);
  if (of_qt.load(speech, "qtbase", "_", QLibraryInfo::path(QLibraryInfo::TranslationsPath))) QApplication::installTranslator(&of_qt);

  const std::filesystem::path installed = came_with_the_tool();
  const QStringList given = parser.positionalArguments();
  std::filesystem::path order = given.isEmpty() ? installed / kDemo : std::filesystem::path(given.front().toStdString());
  if (given.isEmpty()) {
    // the first start: a house of one's own, so that designs, machine and rates can be changed
    const auto files = pommel::real_files();
    const auto made = pommel::ui::make_own_house(*files, installed, pommel::ui::own_house_folder());
    if (!made.ok() && made.reasons().front().id == "ui.no-house") return complain(made.reasons());
    if (made.ok()) order = pommel::ui::own_house_folder() / kDemo;
    else complain(made.reasons());  // where nothing may be written, what came with the tool can be looked at
  }
  pommel::ui::Desk desk(installed, pommel::ui::Desk::unsaved_folder());
  if (const auto opened = desk.open(order); !opened.ok()) return complain(opened.reasons());
  if (parser.isSet(picture))
    QObject::connect(desk.window(), &pommel::ui::OrderWindow::followed_up, &app, [&] { QCoreApplication::exit(desk.window()->grab().save(parser.value(picture)) ? 0 : 4); });
  return QApplication::exec();
}
