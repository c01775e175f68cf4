// pommel-window [ORDER]: the order's measures and what follows from them, in a window.
#include <QApplication>
#include <QCommandLineParser>
#include <QLibraryInfo>
#include <QLocale>
#include <QMessageBox>
#include <QTranslator>
#include <cstdio>

#include "ui/views/desk.h"

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
  QApplication::setOrganizationName("pommel");
  QApplication::setApplicationName("pommel-window");
  QCommandLineParser parser;
  parser.setApplicationDescription("An order's measures and what follows from them.");
  parser.addHelpOption();
  parser.addPositionalArgument("order", "an order's file; without one, the demo order");
  const QCommandLineOption picture("picture", "write a picture of the window when everything is worked out, and close", "file.png");
  parser.addOption(picture);
  const QCommandLineOption language("language", "the window's language (en, de); else the desktop's", "language");
  parser.addOption(language);
  parser.process(app);
  const QLocale speech = parser.isSet(language) ? QLocale(parser.value(language)) : QLocale();
  QTranslator ours, of_qt;
  if (ours.load(speech, "pommel", "_", ":/translations")) QApplication::installTranslator(&ours);
  if (of_qt.load(speech, "qtbase", "_", QLibraryInfo::path(QLibraryInfo::TranslationsPath))) QApplication::installTranslator(&of_qt);

  const std::filesystem::path beside = std::filesystem::path(QCoreApplication::applicationDirPath().toStdString()).parent_path() / "share" / "pommel";
  const QStringList given = parser.positionalArguments();
  std::filesystem::path order = given.isEmpty() ? "catalog/orders/harvest-table.yaml" : given.front().toStdString();
  if (given.isEmpty() && !std::filesystem::exists(order)) order = beside / order;
  pommel::ui::Desk desk(beside, pommel::ui::Desk::unsaved_folder());
  if (const auto opened = desk.open(order); !opened.ok()) return complain(opened.reasons());
  if (parser.isSet(picture))
    QObject::connect(desk.window(), &pommel::ui::OrderWindow::followed_up, &app, [&] { QCoreApplication::exit(desk.window()->grab().save(parser.value(picture)) ? 0 : 4); });
  return QApplication::exec();
}
