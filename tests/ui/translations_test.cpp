// Every text of the window in every language it has: none missing, none left behind, places for values the same.
#include <gtest/gtest.h>

#include <QCoreApplication>
#include <QFile>
#include <QLocale>
#include <QRegularExpression>
#include <QTranslator>
#include <QXmlStreamReader>
#include <filesystem>
#include <map>
#include <set>

#include "ui/models/sheet_model.h"
#include "ui/views/piece_strips.h"

namespace pommel::ui {
namespace {

const std::filesystem::path kUi = std::filesystem::path(POMMEL_SOURCE_DIR) / "ui";

QString read(const std::filesystem::path& path) {
  QFile file(QString::fromStdString(path.string()));
  EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << path;
  return QString::fromUtf8(file.readAll());
}

// Texts inside tr("..."), QT_TRANSLATE_NOOP("...", "...") and translate("...", "..."), with C++ escapes undone.
std::set<QString> texts_of_sources() {
  std::set<QString> out;
  static const QRegularExpression call(QStringLiteral(R"re((?:\btr\(|QT_TRANSLATE_NOOP\("\w+", |translate\("\w+", )"((?:[^"\\]|\\.)*)")re"));
  for (const auto& entry : std::filesystem::recursive_directory_iterator(kUi)) {
    if (entry.path().extension() != ".cpp") continue;
    const QString source = read(entry.path());
    for (auto found = call.globalMatch(source); found.hasNext();)
      out.insert(found.next().captured(1).replace("\\n", "\n").replace("\\t", "\t").replace("\\\"", "\"").replace("\\\\", "\\"));
  }
  return out;
}

std::map<QString, QString> texts_of(const std::filesystem::path& ts) {
  std::map<QString, QString> out;
  QXmlStreamReader xml(read(ts));
  QString source;
  while (!xml.atEnd()) {
    if (xml.readNext() != QXmlStreamReader::StartElement) continue;
    if (xml.name() == u"source") source = xml.readElementText();
    if (xml.name() == u"translation") {
      EXPECT_TRUE(xml.attributes().isEmpty()) << "unfinished: " << source.toStdString();
      out[source] = xml.readElementText();
    }
  }
  EXPECT_FALSE(xml.hasError()) << xml.errorString().toStdString();
  return out;
}

std::multiset<QString> places(const QString& text) {
  std::multiset<QString> out;
  static const QRegularExpression place(QStringLiteral("%[0-9]"));
  for (auto found = place.globalMatch(text); found.hasNext();) out.insert(found.next().captured());
  return out;
}

TEST(Translations, AreComplete) {
  const std::set<QString> wanted = texts_of_sources();
  ASSERT_GE(wanted.size(), 200u);
  std::size_t languages = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kUi / "translations")) {
    ++languages;
    const auto there = texts_of(entry.path());
    for (const QString& text : wanted) EXPECT_TRUE(there.contains(text)) << "not translated: " << text.toStdString();
    for (const auto& [source, translation] : there) {
      EXPECT_TRUE(wanted.contains(source)) << "left behind: " << source.toStdString();
      EXPECT_FALSE(translation.isEmpty()) << source.toStdString();
      EXPECT_EQ(places(source), places(translation)) << source.toStdString();
    }
  }
  EXPECT_GE(languages, 1u);
}

TEST(Translations, AreInTheProgram) {
  QTranslator german;
  ASSERT_TRUE(german.load(QLocale(QLocale::German), "pommel", "_", ":/translations"));
  // asked as the window asks, by its classes
  QCoreApplication::installTranslator(&german);
  EXPECT_EQ(SheetModel::tr("measure"), QStringLiteral("Maß"));
  EXPECT_EQ(Elevation::tr("the piece at working scale"), QStringLiteral("das Stück im Arbeitsmaßstab"));
  EXPECT_EQ(QCoreApplication::translate("words", "mortise"), QStringLiteral("Zapfenloch"));
  QCoreApplication::removeTranslator(&german);
}

}  // namespace
}  // namespace pommel::ui
