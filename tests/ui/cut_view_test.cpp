// The wood going under the cutter: forwards, backwards, from a line of the text.
#include <QImage>
#include <QTest>

#include "ui/opened.h"

namespace pommel::ui {
namespace {

class CutShown : public Opened {};

double wood_of(const proof::WoodState& state) {
  double sum = 0;
  for (const float r : state.radius) sum += static_cast<double>(r) * r;
  return sum;
}

TEST_F(CutShown, WoodGoesBothWaysAndEndsAsThePiece) {
  settle();
  CutView& cut = window().cut();
  EXPECT_FALSE(cut.ready());  // nothing is made that nobody looks at
  cut.show();
  wait([&] { return cut.ready(); });
  const double whole = wood_of(cut.state());
  EXPECT_EQ(cut.state().line, 0);
  cut.go_to(1e9);
  const proof::WoodState& end = cut.state();
  EXPECT_LT(wood_of(end), 0.6 * whole);
  cut.slider().setValue(500);
  const double half = wood_of(cut.state());
  EXPECT_LT(half, whole);
  EXPECT_GT(half, wood_of(end));
  cut.run(-60);
  wait([&] { return cut.minutes() == 0; });
  EXPECT_EQ(wood_of(cut.state()), whole);
  cut.run(600);
  wait([&] { return cut.told().startsWith(QString::number(cut.minutes(), 'f', 1)) && cut.minutes() > 10; });
  ProgramView& program = window().open_program();
  program.passes().setCurrentCell(1, 0);  // a line by the hand
  EXPECT_LE(cut.state().line, program.line());
  EXPECT_GT(cut.state().line, 0);
  cut.go_to(1e9);
  EXPECT_EQ(program.line(), cut.state().line);  // and the text follows the wood
  if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
    cut.go_to(12);
    cut.resize(1250, 220);
    EXPECT_TRUE(cut.grab().save(QString::fromLocal8Bit(folder) + "/cut.png"));
  }
}

}  // namespace
}  // namespace pommel::ui
