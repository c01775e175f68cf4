// What can be asserted of pictures: they decode, have ink where the subject is, none where nothing is, say the same bytes twice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QImage>
#include <QXmlStreamReader>

#include "job/job.h"
#include "paper/jobs.h"
#include "paper/canvas.h"
#include "paper/papers.h"
#include "paper/pictures.h"
#include "paper/standing.h"

namespace pommel::paper {
namespace {

// The demo order as far as pictures need it.
job::Job demo_job(const std::string& order_name = {}) {
  job::Job job = stock_job("harvest-table");
  if (!order_name.empty()) job.loaded.order->name = order_name;
  return job;
}

std::string bytes_of(const std::vector<job::File>& files, const std::string& name) {
  for (const job::File& file : files)
    if (file.name == name) return file.bytes;
  ADD_FAILURE() << "no " << name;
  return {};
}

std::vector<job::File> written(const job::Job& job) {
  auto files = papers()->write(job);
  EXPECT_TRUE(files.ok());
  std::vector<job::File> pictures;
  if (files.ok())
    for (const job::File& file : *files)
      if (file.name.starts_with("pictures/")) pictures.push_back(file);
  return pictures;
}

QImage decoded(const std::string& bytes) { return QImage::fromData(reinterpret_cast<const uchar*>(bytes.data()), static_cast<int>(bytes.size()), "PNG"); }

// Names of the chunks of a PNG file (ISO/IEC 15948, clause 5: length, type, data, check, after eight bytes of signature).
std::vector<std::string> chunks(const std::string& png) {
  std::vector<std::string> names;
  for (std::size_t at = 8; at + 12 <= png.size();) {
    std::size_t length = 0;
    for (int i = 0; i < 4; ++i) length = length << 8 | static_cast<unsigned char>(png[at + static_cast<std::size_t>(i)]);
    names.push_back(png.substr(at + 4, 4));
    at += 12 + length;
  }
  return names;
}

int darkness(const QImage& image, QRect where) {
  int dark = 0;
  for (int y = where.top(); y <= where.bottom(); ++y)
    for (int x = where.left(); x <= where.right(); ++x)
      if (qGray(image.pixel(x, y)) < 225) ++dark;
  return dark;
}

TEST(Pictures, OfAJobAreThreeFilesThatDecode) {
  const auto files = written(demo_job());
  ASSERT_EQ(files.size(), 3u);
  const QImage leg = decoded(bytes_of(files, "pictures/leg.png")), standing = decoded(bytes_of(files, "pictures/standing.png"));
  EXPECT_EQ(leg.width(), 2000);
  EXPECT_GT(leg.height(), 500);
  EXPECT_LT(leg.height(), 1600);
  EXPECT_EQ(standing.width(), 2400);
  EXPECT_GT(standing.height(), 400);
}

TEST(Pictures, CarryNoClockAndNoText) {
  const auto files = written(demo_job());
  for (const char* name : {"pictures/leg.png", "pictures/standing.png"}) {
    const auto found = chunks(bytes_of(files, name));
    ASSERT_GE(found.size(), 3u);
    for (const std::string& chunk : found) EXPECT_THAT(chunk, testing::AnyOf("IHDR", "pHYs", "IDAT", "IEND")) << name;
  }
}

TEST(Pictures, AreTheSameBytesForTheSameJob) {
  const auto job = demo_job();
  const auto once = written(job), again = written(job), afresh = written(demo_job());
  for (std::size_t i = 0; i < once.size(); ++i) {
    EXPECT_EQ(once[i].bytes, again[i].bytes) << once[i].name;
    EXPECT_EQ(once[i].bytes, afresh[i].bytes) << once[i].name;
  }
}

TEST(Pictures, ALongerLegChangesThePicture) {
  auto job = demo_job();
  const auto as_ordered = written(job);
  job.order = job.catalogue;
  EXPECT_NE(bytes_of(as_ordered, "pictures/leg.png"), bytes_of(written(job), "pictures/leg.png"));
}

TEST(Pictures, HaveWoodInTheMiddleAndPaperAtTheEdges) {
  const auto files = written(demo_job());
  for (const char* name : {"pictures/leg.png", "pictures/standing.png"}) {
    const QImage image = decoded(bytes_of(files, name));
    const int w = image.width(), h = image.height();
    for (const QRect& edge : {QRect(0, 0, w, 12), QRect(0, h - 8, w, 8), QRect(0, 0, 12, h), QRect(w - 12, 0, 12, h)})
      EXPECT_EQ(darkness(image, edge), 0) << name << ": something runs over the edge";
    EXPECT_GT(darkness(image, QRect(w / 10, h / 8, w * 8 / 10, h * 6 / 8)), w * h / 100) << name;
  }
}

TEST(Svg, IsWellFormedAndEscapesAName) {
  const std::string name = "Table <for> \"A & B\" & sons";
  const auto job = demo_job(name);
  const std::string svg = bytes_of(written(job), "pictures/leg.svg");
  QXmlStreamReader reader(QByteArray::fromStdString(svg));
  std::string title, texts;
  while (!reader.atEnd()) {
    if (reader.readNext() != QXmlStreamReader::StartElement) continue;
    if (reader.name() == QLatin1String("title")) title = reader.readElementText().toStdString();
    else if (reader.name() == QLatin1String("text")) texts += reader.readElementText().toStdString() + "\n";
  }
  EXPECT_FALSE(reader.hasError()) << reader.errorString().toStdString();
  EXPECT_THAT(title, testing::HasSubstr(name));
  EXPECT_THAT(texts, testing::HasSubstr(name));
  EXPECT_EQ(svg.find("<for>"), std::string::npos);
  EXPECT_EQ(svg.find("Generated"), std::string::npos) << "the generator signs nothing";
}

TEST(ContactSheet, ShowsEveryDesignInItsColumn) {
  const auto job = demo_job();
  const DesignPicture one{"one <&>", {job.catalogue.made.pieces.front().part}, {"table 740 mm high", "square 64 mm, thinnest 26.9 mm"}};
  for (std::size_t count : {1u, 3u, 8u, 9u}) {
    const auto sheet = contact_sheet(std::vector<DesignPicture>(count, one));
    ASSERT_TRUE(sheet.ok());
    const QImage image = decoded(sheet->front().bytes);
    const int columns = static_cast<int>(std::min<std::size_t>(count, 8));
    EXPECT_EQ(image.width(), 120 + 290 * columns);
    for (int i = 0; i < columns; ++i) EXPECT_GT(darkness(image, QRect(60 + 290 * i + 120, 130, 50, 900)), 20000) << i;
    for (int i = 0; i + 1 < columns; ++i) EXPECT_EQ(darkness(image, QRect(60 + 290 * (i + 1) - 20, 130, 40, 900)), 0) << "between " << i << " and the next";
  }
}

TEST(ContactSheet, OfNothingIsRefused) {
  const auto sheet = contact_sheet({});
  ASSERT_FALSE(sheet.ok());
  EXPECT_EQ(sheet.reasons().front().id, "paper.nothing");
}

// A map made by hand: one cell too deep, one left standing, the rest on the skin. The cells' colours stand where they should, and differ in more
// than their hue, so that they are told apart without it.
TEST(Pictures, TheUnrolledSurfaceShowsGougeAndLeftover) {
  SurfaceSheet sheet;
  sheet.title = "made by hand";
  sheet.x1 = sheet.length = 700;
  sheet.rows = 70, sheet.columns = 36;
  sheet.gouge_limit = 0.02, sheet.cusp = 0.05, sheet.hand_work_from = 0.2;
  sheet.deviation.assign(70 * 36, 0.0f);
  sheet.deviation[20 * 36 + 9] = -0.06f;  // x 205, 95 degrees
  sheet.deviation[50 * 36 + 27] = 0.5f;   // x 505, 275 degrees
  sheet.spots = {{205, 95, "deepest, 0.06 mm"}};
  const Painting painting;
  ASSERT_TRUE(painting.ready().ok());
  const auto png = surface_picture(sheet);
  ASSERT_TRUE(png.ok());
  const QImage image = decoded(*png);
  ASSERT_EQ(image.width(), 2000);
  const auto at = [&](double x, double degrees) { return image.pixelColor(static_cast<int>(110 + 1830 * x / 700), static_cast<int>(128 + 540 * (1 - degrees / 360))); };
  const QColor deep = at(205, 95), left = at(505, 275), skin = at(350, 200);
  EXPECT_GT(deep.red(), deep.blue() + 100);
  EXPECT_GT(left.blue(), left.red() + 80);
  EXPECT_GT(qGray(skin.rgb()), 240);
  EXPECT_GT(qGray(deep.rgb()), qGray(left.rgb()) + 20);
}

// A frame whose pieces are known from an earlier painting looks as one that is found out anew; a bed is seen from two sides.
TEST(Standing, KeptViewsArePaintedAlike) {
  const Painting painting;
  ASSERT_TRUE(painting.ready().ok());
  for (const char* order : {"harvest-table", "cannonball-bed"}) {
    const job::Job job = stock_job(order);
    StandingSubject subject{"as ordered", job.order.made.frame, job.order.made.set};
    const auto painted = [&] {
      QImage image(600, 400, QImage::Format_RGB32);
      image.fill(Qt::white);
      QPainter painter(&image);
      paint_standing(painter, image.rect(), {subject}, {}, 12);
      return image;
    };
    const QImage anew = painted();
    subject.seen = std::make_shared<SeenPieces>();
    EXPECT_EQ(painted(), anew) << order;
    const std::size_t found = subject.seen->found_out();
    EXPECT_GE(found, 2u) << order;
    EXPECT_EQ(painted(), anew) << order;
    EXPECT_EQ(subject.seen->found_out(), found) << order;
  }
}

}  // namespace
}  // namespace pommel::paper
