// What a maker reads when an entry is wrong: the whole text, with the place in the file, the caret and the remedy.
#include "sheet/support.h"

namespace pommel::sheet {
namespace {

struct Case {
  std::string entry, text;
};

/// The entry stands in leg.yaml at line 12, after "  x: ".
std::string told(const std::string& text, const std::optional<Kind>& kind = Kind::length()) {
  Sheet sheet("family");
  sheet.add(row("height", "750 mm"));
  sheet.add(row("rail_depth", "90 mm"));
  sheet.add(row("nothing", "= height - height"));
  sheet.add(row("legs", "4"));
  sheet.add(row("wage", "85 EUR/h"));
  sheet.add(row("turned", "yes"));
  sheet.add(choice("finish", "oil", {"oil", "wax", "lacquer"}));
  sheet.add(SizeList{"bits", {entry("1/4 in"), entry("1/2 in")}, "", {}});
  sheet.add(Outcome{"price", Kind::money(), "quote", ""});
  Parameter wrong;
  wrong.name = "x";
  wrong.kind = kind;
  wrong.entry = in_file(text, 12, 6, "  x: " + text);
  sheet.add(wrong);
  sheet.settle();
  EXPECT_FALSE(sheet.broken_invariant().has_value());
  return render(sheet.diagnostics());
}

void expect_all(const std::vector<Case>& cases, const std::optional<Kind>& kind = Kind::length()) {
  for (const Case& one : cases) EXPECT_EQ(told(one.entry, kind), one.text) << one.entry;
}

TEST(Problems, ThreeWhat) {
  expect_all({
      {"= height + 3",
       "leg.yaml:12:17: error: 3 what? it is added to a length [sheet.no-unit]\n"
       "   12 |   x: = height + 3\n"
       "      |                 ^\n"
       "   do: give it a unit, as in '3 mm'\n"},
      {"= 3 + height",
       "leg.yaml:12:8: error: 3 what? what is added to it is a length [sheet.no-unit]\n"
       "   12 |   x: = 3 + height\n"
       "      |        ^\n"
       "   do: give it a unit, as in '3 mm'\n"},
      {"= height - 3",
       "leg.yaml:12:17: error: 3 what? it is taken from a length [sheet.no-unit]\n"
       "   12 |   x: = height - 3\n"
       "      |                 ^\n"
       "   do: give it a unit, as in '3 mm'\n"},
      {"= 28-1/4\"",
       "leg.yaml:12:8: error: 28 what? what is taken from it is a length [sheet.no-unit]\n"
       "   12 |   x: = 28-1/4\"\n"
       "      |        ^~\n"
       "   do: give it a unit, as in '28 mm'; or, for a mixed fraction, '28 1/4\"'\n"},
      {"= 1+7/8 in",
       "leg.yaml:12:8: error: 1 what? what is added to it is a length [sheet.no-unit]\n"
       "   12 |   x: = 1+7/8 in\n"
       "      |        ^\n"
       "   do: give it a unit, as in '1 mm'; or, for a mixed fraction, '1 7/8 in'\n"},
      {"= max(height, 3)",
       "leg.yaml:12:20: error: 3 what? beside it in 'max' stands a length [sheet.no-unit]\n"
       "   12 |   x: = max(height, 3)\n"
       "      |                    ^\n"
       "   do: give it a unit, as in '3 mm'\n"},
      {"= height > 900 mm ? 40 mm : 40",
       "leg.yaml:12:34: error: 40 what? the other branch is a length [sheet.no-unit]\n"
       "   12 |   x: = height > 900 mm ? 40 mm : 40\n"
       "      |                                  ^~\n"
       "   do: give it a unit, as in '40 mm'\n"},
      {"= height > 900 ? 40 mm : 40 mm",
       "leg.yaml:12:17: error: 900 what? it is compared with a length [sheet.no-unit]\n"
       "   12 |   x: = height > 900 ? 40 mm : 40 mm\n"
       "      |                 ^~~\n"
       "   do: give it a unit, as in '900 mm'\n"},
      {"= 40",
       "leg.yaml:12:8: error: 40 what? 'x' is a length [sheet.no-unit]\n"
       "   12 |   x: = 40\n"
       "      |        ^~\n"
       "   do: give it a unit, as in '40 mm'\n"},
      {"= -40",
       "leg.yaml:12:8: error: -40 what? 'x' is a length [sheet.no-unit]\n"
       "   12 |   x: = -40\n"
       "      |        ^~~\n"
       "   do: give it a unit, as in '-40 mm'\n"},
      {"= round_up(height, 2)",
       "leg.yaml:12:25: error: 2 what? beside it in 'round_up' stands a length [sheet.no-unit]\n"
       "   12 |   x: = round_up(height, 2)\n"
       "      |                         ^\n"
       "   do: give it a unit, as in '2 mm'\n"},
      {"= choose(finish, \"oil\", 1 mm, 2)",
       "leg.yaml:12:36: error: 2 what? beside it in 'choose' stands a length [sheet.no-unit]\n"
       "   12 |   x: = choose(finish, \"oil\", 1 mm, 2)\n"
       "      |                                    ^\n"
       "   do: give it a unit, as in '2 mm'\n"},
      {"= sin(30) * 1 mm",
       "leg.yaml:12:12: error: 30 what? 'sin' takes an angle [sheet.no-unit]\n"
       "   12 |   x: = sin(30) * 1 mm\n"
       "      |            ^~\n"
       "   do: give it a unit, as in '30 deg'\n"},
      {"= next_size(height, 1, 2 m)",
       "leg.yaml:12:26: error: 1 what? beside it in 'next_size' stands a length [sheet.no-unit]\n"
       "   12 |   x: = next_size(height, 1, 2 m)\n"
       "      |                          ^\n"
       "   do: give it a unit, as in '1 mm'\n"},
  });
}

TEST(Problems, KindsThatDoNotMeet) {
  expect_all({
      {"= height * rail_depth",
       "leg.yaml:12:8: error: this gives an area, but 'x' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = height * rail_depth\n"
       "      |        ^~~~~~~~~~~~~~~~~~~\n"
       "   do: check the units and the signs in it\n"},
      {"= height + legs",
       "leg.yaml:12:8: error: a length and a count cannot be added [sheet.kinds-differ]\n"
       "   12 |   x: = height + legs\n"
       "      |        ^~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
      {"= height + wage",
       "leg.yaml:12:8: error: a length and money per time cannot be added [sheet.kinds-differ]\n"
       "   12 |   x: = height + wage\n"
       "      |        ^~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
      {"= height / rail_depth",
       "leg.yaml:12:8: error: this gives a ratio, but 'x' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = height / rail_depth\n"
       "      |        ^~~~~~~~~~~~~~~~~~~\n"
       "   do: check the units and the signs in it\n"},
      {"= legs",
       "leg.yaml:12:8: error: this gives a count, but 'x' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = legs\n"
       "      |        ^~~~\n"
       "   do: check the units and the signs in it\n"},
      {"= turned",
       "leg.yaml:12:8: error: this gives a yes/no, but 'x' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = turned\n"
       "      |        ^~~~~~\n"
       "   do: check the units and the signs in it\n"},
      {"= height * turned",
       "leg.yaml:12:17: error: '*' takes a number, and 'turned' is a yes/no [sheet.not-a-number]\n"
       "   12 |   x: = height * turned\n"
       "      |                 ^~~~~~\n"
       "   do: turn it into one: condition ? this : that\n"},
      {"= not height",
       "leg.yaml:12:12: error: 'not' takes a yes/no, and 'height' is a length [sheet.not-a-condition]\n"
       "   12 |   x: = not height\n"
       "      |            ^~~~~~\n"
       "   do: compare it, as in x > 0\n"},
      {"= height ? 1 mm : 2 mm",
       "leg.yaml:12:8: error: the part before '?' takes a yes/no, and 'height' is a length [sheet.not-a-condition]\n"
       "   12 |   x: = height ? 1 mm : 2 mm\n"
       "      |        ^~~~~~\n"
       "   do: compare it, as in x > 0\n"},
      {"= turned and legs ? 1 mm : 2 mm",
       "leg.yaml:12:19: error: 'and' takes a yes/no, and 'legs' is a count [sheet.not-a-condition]\n"
       "   12 |   x: = turned and legs ? 1 mm : 2 mm\n"
       "      |                   ^~~~\n"
       "   do: compare it, as in x > 0\n"},
      {"= floor(height)",
       "leg.yaml:12:14: error: 'floor' takes a plain number, and 'height' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = floor(height)\n"
       "      |              ^~~~~~\n"
       "   do: say to which step: round_down(x, 1 mm)\n"},
      {"= sqrt(height)",
       "leg.yaml:12:8: error: there is no square root of a length [sheet.root]\n"
       "   12 |   x: = sqrt(height)\n"
       "      |        ^~~~~~~~~~~~\n"
       "   do: take it of an area or a plain number\n"},
      {"= height^0.5",
       "leg.yaml:12:15: error: the power of a length must be a whole number written out [sheet.power]\n"
       "   12 |   x: = height^0.5\n"
       "      |               ^~~\n"
       "   do: write it as in x^2; for roots there is sqrt(x)\n"},
      {"= height^legs",
       "leg.yaml:12:15: error: the power of a length must be a whole number written out [sheet.power]\n"
       "   12 |   x: = height^legs\n"
       "      |               ^~~~\n"
       "   do: write it as in x^2; for roots there is sqrt(x)\n"},
      {"= 2^height * 1 mm",
       "leg.yaml:12:10: error: a power is a plain number, and 'height' is a length [sheet.power]\n"
       "   12 |   x: = 2^height * 1 mm\n"
       "      |          ^~~~~~\n"
       "   do: take the unit out\n"},
      {"= tan(legs) * 1 mm",
       "leg.yaml:12:12: error: 'tan' takes an angle, and 'legs' is a count [sheet.wrong-kind]\n"
       "   12 |   x: = tan(legs) * 1 mm\n"
       "      |            ^~~~\n"
       "   do: multiply it by 1 rad or 1 deg\n"},
      {"= finish",
       "leg.yaml:12:8: error: this gives a choice, but 'x' is a length [sheet.wrong-kind]\n"
       "   12 |   x: = finish\n"
       "      |        ^~~~~~\n"
       "   do: check the units and the signs in it\n"},
      {"= finish + 1",
       "leg.yaml:12:8: error: '+' takes a number, and 'finish' is a choice [sheet.not-a-number]\n"
       "   12 |   x: = finish + 1\n"
       "      |        ^~~~~~\n"
       "   do: turn it into one by choose(...)\n"},
      {"= height == turned ? 1 mm : 2 mm",
       "leg.yaml:12:8: error: a length and a yes/no cannot be compared [sheet.kinds-differ]\n"
       "   12 |   x: = height == turned ? 1 mm : 2 mm\n"
       "      |        ^~~~~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
      {"= turned ? height : finish",
       "leg.yaml:12:17: error: a length and a choice cannot be the two branches of one condition [sheet.kinds-differ]\n"
       "   12 |   x: = turned ? height : finish\n"
       "      |                 ^~~~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
      {"= bits",
       "leg.yaml:12:8: error: 'bits' is a list of sizes, not one value [sheet.list-as-value]\n"
       "   12 |   x: = bits\n"
       "      |        ^~~~\n"
       "   do: only next_size(x, bits) reads it\n"},
      {"= bits + 1 mm",
       "leg.yaml:12:8: error: 'bits' is a list of sizes, not one value [sheet.list-as-value]\n"
       "   12 |   x: = bits + 1 mm\n"
       "      |        ^~~~\n"
       "   do: only next_size(x, bits) reads it\n"},
      {"= next_size(legs, bits)",
       "leg.yaml:12:8: error: a count and the sizes of 'bits' (a length) cannot be compared [sheet.kinds-differ]\n"
       "   12 |   x: = next_size(legs, bits)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
      {"= max(finish, height)",
       "leg.yaml:12:12: error: 'max' takes a number, and 'finish' is a choice [sheet.not-a-number]\n"
       "   12 |   x: = max(finish, height)\n"
       "      |            ^~~~~~\n"
       "   do: turn it into one by choose(...)\n"},
      {"= height == 3 * legs ? 1 mm : 2 mm",
       "leg.yaml:12:8: error: a length and a count cannot be compared [sheet.kinds-differ]\n"
       "   12 |   x: = height == 3 * legs ? 1 mm : 2 mm\n"
       "      |        ^~~~~~~~~~~~~~~~~~\n"
       "   do: bring both to one kind\n"},
  });
}

TEST(Problems, NamesAndWords) {
  expect_all({
      {"= rail_deph + 1 mm",
       "leg.yaml:12:8: error: 'rail_deph' is no name of this sheet [sheet.unknown-name]\n"
       "   12 |   x: = rail_deph + 1 mm\n"
       "      |        ^~~~~~~~~\n"
       "   do: did you mean 'rail_depth'?\n"},
      {"= zzz + 1 mm",
       "leg.yaml:12:8: error: 'zzz' is no name of this sheet [sheet.unknown-name]\n"
       "   12 |   x: = zzz + 1 mm\n"
       "      |        ^~~\n"
       "   do: add a row of this name, or correct it\n"},
      {"= price / 1 EUR * 1 mm",
       "leg.yaml:12:8: error: 'price' is an outcome, known only after the stage 'quote': x -> price "
       "[sheet.outcome-in-parameter]\n"
       "   12 |   x: = price / 1 EUR * 1 mm\n"
       "      |        ^~~~~\n"
       "   do: outcomes may stand in checks only; to reach one, seek the measure that gives it\n"},
      {"= height.y",
       "leg.yaml:12:8: error: 'height.y' has a dot in it [sheet.dotted-name]\n"
       "   12 |   x: = height.y\n"
       "      |        ^~~~~~~~\n"
       "   do: join the words of a name by '_': height_y\n"},
      {"= maxx(height, 1 mm)",
       "leg.yaml:12:8: error: 'maxx' is no function [sheet.unknown-function]\n"
       "   12 |   x: = maxx(height, 1 mm)\n"
       "      |        ^~~~\n"
       "   do: did you mean 'max'?\n"},
      {"= wibble(3)",
       "leg.yaml:12:8: error: 'wibble' is no function [sheet.unknown-function]\n"
       "   12 |   x: = wibble(3)\n"
       "      |        ^~~~~~\n"
       "   do: use one of min, max, abs, sqrt, sin, cos, tan, atan2, floor, ceil, round, round_up, round_down, "
       "round_to, next_size, choose\n"},
      {"= finish == \"oyl\" ? 1 mm : 2 mm",
       "leg.yaml:12:18: error: 'oyl' is no choice of 'finish' [sheet.not-a-choice]\n"
       "   12 |   x: = finish == \"oyl\" ? 1 mm : 2 mm\n"
       "      |                  ^~~~~\n"
       "   do: did you mean 'oil'?\n"},
      {"= choose(finish, \"oil\", 1 mm)",
       "leg.yaml:12:8: error: nothing is said for 'wax' and 'lacquer' [sheet.choose]\n"
       "   12 |   x: = choose(finish, \"oil\", 1 mm)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~~~~~~~\n"
       "   do: name every choice of 'finish', or give one value more for all others\n"},
      {"= choose(finish, \"oil\", 1 mm, \"oil\", 2 mm, 3 mm)",
       "leg.yaml:12:36: error: 'oil' is named twice [sheet.choose]\n"
       "   12 |   x: = choose(finish, \"oil\", 1 mm, \"oil\", 2 mm, 3 mm)\n"
       "      |                                    ^~~~~\n"
       "   do: keep one of the two\n"},
      {"= choose(finish, oil, 1 mm, 3 mm)",
       "leg.yaml:12:23: error: a choice in quotes is wanted here, not 'oil' [sheet.choose]\n"
       "   12 |   x: = choose(finish, oil, 1 mm, 3 mm)\n"
       "      |                       ^~~\n"
       "   do: write it as in choose(finish, \"oil\", 12 mm, \"wax\", 10 mm)\n"},
      {"= choose(legs, \"4\", 1 mm, 3 mm)",
       "leg.yaml:12:15: error: 'choose' goes by a choice parameter, and 'legs' is none [sheet.choose]\n"
       "   12 |   x: = choose(legs, \"4\", 1 mm, 3 mm)\n"
       "      |               ^~~~\n"
       "   do: for other conditions write: condition ? this : that\n"},
      {"= height + 3 * h",
       "leg.yaml:12:21: error: 'h' is no name of this sheet [sheet.unknown-name]\n"
       "   12 |   x: = height + 3 * h\n"
       "      |                     ^\n"
       "   do: a unit follows a number: write '1 h', or 'per h' in a rate\n"},
      {"= max",
       "leg.yaml:12:8: error: 'max' needs its values in brackets [sheet.syntax]\n"
       "   12 |   x: = max\n"
       "      |        ^~~\n"
       "   do: write it as in max(a, b)\n"},
      {"= max(height)",
       "leg.yaml:12:8: error: 'max' takes 2 or more values, not 1 [sheet.value-count]\n"
       "   12 |   x: = max(height)\n"
       "      |        ^~~~~~~~~~~\n"
       "   do: write it as in max(a, b); decimals take a point\n"},
      {"= abs(height, 1 mm)",
       "leg.yaml:12:8: error: 'abs' takes 1 value, not 2 [sheet.value-count]\n"
       "   12 |   x: = abs(height, 1 mm)\n"
       "      |        ^~~~~~~~~~~~~~~~~\n"
       "   do: write it as in abs(x); decimals take a point\n"},
      {"= a1 + a2",
       "leg.yaml:12:8: error: 'a1' is no name of this sheet [sheet.unknown-name]\n"
       "   12 |   x: = a1 + a2\n"
       "      |        ^~\n"
       "   do: add a row of this name, or correct it\n"
       "leg.yaml:12:13: error: 'a2' is no name of this sheet [sheet.unknown-name]\n"
       "   12 |   x: = a1 + a2\n"
       "      |             ^~\n"
       "   do: add a row of this name, or correct it\n"},
  });
}

TEST(Problems, NumbersAndSigns) {
  expect_all({
      {"= 1,5 mm",
       "leg.yaml:12:8: error: '1,5' has a comma in the number [sheet.comma]\n"
       "   12 |   x: = 1,5 mm\n"
       "      |        ^~~\n"
       "   do: write '1.5'\n"},
      {"= max(1,5 mm, height)",
       "leg.yaml:12:12: error: 1 what? beside it in 'max' stands a length [sheet.no-unit]\n"
       "   12 |   x: = max(1,5 mm, height)\n"
       "      |            ^\n"
       "   do: give it a unit, as in '1 mm'; or, for a decimal, '1.5'\n"},
      {"= (height",
       "leg.yaml:12:8: error: this bracket is not closed [sheet.syntax]\n"
       "   12 |   x: = (height\n"
       "      |        ^\n"
       "   do: write ')' where it ends\n"},
      {"= height)",
       "leg.yaml:12:14: error: this bracket closes nothing [sheet.syntax]\n"
       "   12 |   x: = height)\n"
       "      |              ^\n"
       "   do: take it out, or open one before it\n"},
      {"= height +",
       "leg.yaml:12:16: error: the formula ends too early [sheet.syntax]\n"
       "   12 |   x: = height +\n"
       "      |                ^\n"
       "   do: write a number or a name at its end\n"},
      {"= * 3",
       "leg.yaml:12:8: error: a number or a name is missing before '*' [sheet.syntax]\n"
       "   12 |   x: = * 3\n"
       "      |        ^\n"
       "   do: write it, or take the sign out\n"},
      {"= height rail_depth",
       "leg.yaml:12:15: error: a sign is missing before 'rail_depth' [sheet.syntax]\n"
       "   12 |   x: = height rail_depth\n"
       "      |               ^~~~~~~~~~\n"
       "   do: write +, -, * or / between the two\n"},
      {"= 3 mm mm",
       "leg.yaml:12:13: error: 'mm' is left over after '3 mm' [sheet.unknown-unit]\n"
       "   12 |   x: = 3 mm mm\n"
       "      |             ^~\n"
       "   do: take it out, or write a sign between the two\n"},
      {"= 3 mmm",
       "leg.yaml:12:10: error: 'mmm' is no unit [sheet.unknown-unit]\n"
       "   12 |   x: = 3 mmm\n"
       "      |          ^~~\n"
       "   do: did you mean 'mm'?\n"},
      {"= height / 3/4 in",
       "leg.yaml:12:17: error: '3/4' after '/' can be read in two ways [sheet.two-readings]\n"
       "   12 |   x: = height / 3/4 in\n"
       "      |                 ^~~\n"
       "   do: put it in brackets, with its unit\n"},
      {"= 3 1/0 in",
       "leg.yaml:12:10: error: '1/0' is no fraction [sheet.fraction]\n"
       "   12 |   x: = 3 1/0 in\n"
       "      |          ^~~\n"
       "   do: write a number above 0 below the line\n"},
      {"= 3 5/4 in",
       "leg.yaml:12:8: error: '3 5/4' is no mixed number [sheet.fraction]\n"
       "   12 |   x: = 3 5/4 in\n"
       "      |        ^~~~~\n"
       "   do: write a whole number and a fraction under 1, as in 28 1/4 in\n"},
      {"= height && turned",
       "leg.yaml:12:15: error: '&&' is no sign of a formula [sheet.foreign-sign]\n"
       "   12 |   x: = height && turned\n"
       "      |               ^~\n"
       "   do: write 'and' instead\n"},
      {"= height = 3 mm ? 1 mm : 2 mm",
       "leg.yaml:12:15: error: '=' is no sign of a formula [sheet.foreign-sign]\n"
       "   12 |   x: = height = 3 mm ? 1 mm : 2 mm\n"
       "      |               ^\n"
       "   do: write '==' instead\n"},
      {"= height × 2",
       "leg.yaml:12:15: error: '×' is no sign of a formula [sheet.foreign-sign]\n"
       "   12 |   x: = height × 2\n"
       "      |               ^\n"
       "   do: write '*' instead\n"},
      {"= height ½",
       "leg.yaml:12:15: error: '½' is no sign of a formula [sheet.foreign-sign]\n"
       "   12 |   x: = height ½\n"
       "      |               ^\n"
       "   do: write '1/2' instead\n"},
      {"= \"oil",
       "leg.yaml:12:8: error: the words that begin here have no closing mark [sheet.open-quote]\n"
       "   12 |   x: = \"oil\n"
       "      |        ^~~~\n"
       "   do: close them with \"\n"},
      {"= 1 mm < height < 2 mm",
       "leg.yaml:12:22: error: two comparisons in a row [sheet.syntax]\n"
       "   12 |   x: = 1 mm < height < 2 mm\n"
       "      |                      ^\n"
       "   do: join them by 'and', as in: a < b and b < c\n"},
      {"= turned ? 1 mm",
       "leg.yaml:12:15: error: this condition has no ':' [sheet.syntax]\n"
       "   12 |   x: = turned ? 1 mm\n"
       "      |               ^\n"
       "   do: write it as in: condition ? this : that\n"},
      {"= $5",
       "leg.yaml:12:8: error: this sheet counts in EUR [sheet.other-currency]\n"
       "   12 |   x: = $5\n"
       "      |        ^\n"
       "   do: write amounts as in 85 EUR\n"},
      {"= 3 per x",
       "leg.yaml:12:14: error: 'x' is no unit [sheet.unknown-unit]\n"
       "   12 |   x: = 3 per x\n"
       "      |              ^\n"
       "   do: name the unit, as in 'per h'\n"},
      {"= 2' 3 mm",
       "leg.yaml:12:11: error: only inches can follow feet [sheet.after-feet]\n"
       "   12 |   x: = 2' 3 mm\n"
       "      |           ^~~~\n"
       "   do: write it as in 2' 4 1/4\"\n"},
      {"=",
       "leg.yaml:12:7: error: the formula ends too early [sheet.syntax]\n"
       "   12 |   x: =\n"
       "      |       ^\n"
       "   do: write a number or a name at its end\n"},
      {"= 3 mm # note",
       "leg.yaml:12:13: error: '#' does not belong in a formula [sheet.foreign-sign]\n"
       "   12 |   x: = 3 mm # note\n"
       "      |             ^\n"
       "   do: take it out\n"},
      {"= 4 mm^2 / 1 mm",
       "leg.yaml:12:8: error: '4 mm^' can be read in two ways [sheet.two-readings]\n"
       "   12 |   x: = 4 mm^2 / 1 mm\n"
       "      |        ^~~~~\n"
       "   do: write '(4 mm)^2' for the power, or an area's own unit, as in 4 mm2\n"},
  });
}

TEST(Problems, WhileComputing) {
  expect_all({
      {"= height / 0",
       "leg.yaml:12:8: error: 'height / 0' divides by 0 [sheet.divided-by-zero]\n"
       "   12 |   x: = height / 0\n"
       "      |        ^~~~~~~~~~\n"
       "   do: see that what stands below the line is never 0\n"},
      {"= height * (1 mm / nothing)",
       "leg.yaml:12:18: error: '1 mm / nothing' divides by 0 [sheet.divided-by-zero]\n"
       "   12 |   x: = height * (1 mm / nothing)\n"
       "      |                  ^~~~~~~~~~~~~~\n"
       "   do: see that what stands below the line is never 0\n"},
      {"= sqrt(-1) * 1 mm",
       "leg.yaml:12:8: error: the square root is taken of -1 [sheet.root-of-negative]\n"
       "   12 |   x: = sqrt(-1) * 1 mm\n"
       "      |        ^~~~~~~~\n"
       "   do: see that what stands in the brackets is never below 0\n"},
      {"= sqrt(nothing * 1 mm - 4 mm2)",
       "leg.yaml:12:8: error: the square root is taken of -4 mm2 [sheet.root-of-negative]\n"
       "   12 |   x: = sqrt(nothing * 1 mm - 4 mm2)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~~~~~~~~\n"
       "   do: see that what stands in the brackets is never below 0\n"},
      {"= round_up(height, nothing)",
       "leg.yaml:12:8: error: the step is 0 mm, and must be above 0 [sheet.no-step]\n"
       "   12 |   x: = round_up(height, nothing)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~~~~~\n"
       "   do: write it as in round_up(x, 1/16 in)\n"},
      {"= next_size(height, bits)",
       "leg.yaml:12:8: error: no size is large enough: 750 mm is needed, and the largest is 12.7 mm [sheet.no-size]\n"
       "   12 |   x: = next_size(height, bits)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~~~\n"
       "   do: add a larger size, or make the measure smaller\n"},
      {"= next_size(height, 7 mm, 70 mm)",
       "leg.yaml:12:8: error: no size is large enough: 750 mm is needed, and the largest is 70 mm [sheet.no-size]\n"
       "   12 |   x: = next_size(height, 7 mm, 70 mm)\n"
       "      |        ^~~~~~~~~~~~~~~~~~~~~~~~~~~~~~\n"
       "   do: add a larger size, or make the measure smaller\n"},
      {"= (-8)^0.5 * 1 mm",
       "leg.yaml:12:8: error: '(-8)^0.5' has no value [sheet.no-power]\n"
       "   12 |   x: = (-8)^0.5 * 1 mm\n"
       "      |        ^~~~~~~~\n"
       "   do: raise what is above 0, or use whole powers\n"},
      {"= 1e308 * 10 * 1 mm",
       "leg.yaml:12:8: error: '1e308 * 10 * 1 mm' is beyond all numbers [sheet.too-large]\n"
       "   12 |   x: = 1e308 * 10 * 1 mm\n"
       "      |        ^~~~~~~~~~~~~~~~~\n"
       "   do: check its figures\n"},
      {"= min(1e308 * 10, 5) * 1 mm",
       "leg.yaml:12:8: error: 'min(1e308 * 10, 5)' is beyond all numbers [sheet.too-large]\n"
       "   12 |   x: = min(1e308 * 10, 5) * 1 mm\n"
       "      |        ^~~~~~~~~~~~~~~~~~\n"
       "   do: check its figures\n"},
      {"= 0^-1 * 1 mm",
       "leg.yaml:12:8: error: '0^-1' divides by 0 [sheet.divided-by-zero]\n"
       "   12 |   x: = 0^-1 * 1 mm\n"
       "      |        ^~~~\n"
       "   do: see that what stands below the line is never 0\n"},
  });
}

TEST(Problems, PlainEntries) {
  expect_all({
      {"28 1/4",
       "leg.yaml:12:6: error: 28 1/4 what? this length has no unit [quantity.no-unit]\n"
       "   12 |   x: 28 1/4\n"
       "      |      ^~~~~~\n"
       "   do: write '28 1/4 mm' or '28 1/4 in'\n"},
      {"28,5 mm",
       "leg.yaml:12:6: error: '28,5' has a comma in the number [quantity.comma]\n"
       "   12 |   x: 28,5 mm\n"
       "      |      ^~~~\n"
       "   do: write '28.5'\n"},
      {"30 deg",
       "leg.yaml:12:9: error: 'deg' is no unit of length [quantity.unknown-unit]\n"
       "   12 |   x: 30 deg\n"
       "      |         ^~~\n"
       "   do: use mm, cm, m, in or ft\n"},
      {"height",
       "leg.yaml:12:6: error: 'height' is no length [quantity.not-a-length]\n"
       "   12 |   x: height\n"
       "      |      ^~~~~~\n"
       "   do: write a length such as 717.5 mm or 28 1/4 in; a formula begins with '='\n"},
      {"height + 3 mm",
       "leg.yaml:12:6: error: 'height + 3 mm' is no length [quantity.not-a-length]\n"
       "   12 |   x: height + 3 mm\n"
       "      |      ^~~~~~~~~~~~~\n"
       "   do: write a length such as 717.5 mm or 28 1/4 in; a formula begins with '='\n"},
      {"",
       "leg.yaml:12:6: error: there is nothing in this entry [sheet.empty]\n"
       "   12 |   x:\n"
       "      |     ^\n"
       "   do: write a value, or a formula after '='\n"},
      {"3 mm 4 mm",
       "leg.yaml:12:11: error: '4 mm' is left over after the length '3 mm' [quantity.left-over]\n"
       "   12 |   x: 3 mm 4 mm\n"
       "      |           ^~~~\n"
       "   do: take it out, or write one length such as 717.5 mm or 28 1/4 in\n"},
      {"oak",
       "leg.yaml:12:6: error: 'oak' is no length [quantity.not-a-length]\n"
       "   12 |   x: oak\n"
       "      |      ^~~\n"
       "   do: write a length such as 717.5 mm or 28 1/4 in; a formula begins with '='\n"},
  });
}

TEST(Problems, PlainEntriesWithoutAStatedKind) {
  expect_all(
      {
          {"oak",
           "leg.yaml:12:6: error: 'oak' tells no kind [sheet.untold-kind]\n"
           "   12 |   x: oak\n"
           "      |      ^~~\n"
           "   do: a formula begins with '=': write '= oak'; words go in quotes\n"},
          {"height + 3 mm",
           "leg.yaml:12:6: error: 'height + 3 mm' tells no kind [sheet.untold-kind]\n"
           "   12 |   x: height + 3 mm\n"
           "      |      ^~~~~~~~~~~~~\n"
           "   do: a formula begins with '=': write '= height + 3 mm'; words go in quotes\n"},
          {"28 1/4",
           "leg.yaml:12:6: error: 28 1/4 what? no unit and no kind is stated [sheet.no-unit]\n"
           "   12 |   x: 28 1/4\n"
           "      |      ^~~~~~\n"
           "   do: give it a unit, as in '28 1/4 mm', or state the row's kind\n"},
          {"1,5",
           "leg.yaml:12:6: error: '1,5' has a comma in the number [sheet.comma]\n"
           "   12 |   x: 1,5\n"
           "      |      ^~~\n"
           "   do: write '1.5'\n"},
          {"3 mmm",
           "leg.yaml:12:8: error: 'mmm' is no unit [sheet.unknown-unit]\n"
           "   12 |   x: 3 mmm\n"
           "      |        ^~~\n"
           "   do: did you mean 'mm'?\n"},
          {"3 4",
           "leg.yaml:12:8: error: '4' is left over after the number [sheet.left-over]\n"
           "   12 |   x: 3 4\n"
           "      |        ^\n"
           "   do: take it out; a formula begins with '='\n"},
          {"- ",
           "leg.yaml:12:6: error: '-' is no number [sheet.not-a-number]\n"
           "   12 |   x: -\n"
           "      |      ^\n"
           "   do: write a number with its unit; a formula begins with '='\n"},
          {"3 mm/x",
           "leg.yaml:12:11: error: 'x' is no unit [sheet.unknown-unit]\n"
           "   12 |   x: 3 mm/x\n"
           "      |           ^\n"
           "   do: name the unit, as in 'per h'\n"},
          {"$5",
           "leg.yaml:12:6: error: this sheet counts in EUR [sheet.other-currency]\n"
           "   12 |   x: $5\n"
           "      |      ^\n"
           "   do: write amounts as in 85 EUR\n"},
          {"30 deg deg",
           "leg.yaml:12:13: error: 'deg' is left over after '30 deg' [sheet.unknown-unit]\n"
           "   12 |   x: 30 deg deg\n"
           "      |             ^~~\n"
           "   do: take it out, or write a sign between the two\n"},
      },
      std::nullopt);
}

TEST(Problems, CountsAndYesNo) {
  expect_all(
      {
          {"3.5",
           "leg.yaml:12:6: error: '3.5' is not whole, and 'x' is a count [sheet.not-whole]\n"
           "   12 |   x: 3.5\n"
           "      |      ^~~\n"
           "   do: write a whole number\n"},
          {"3 mm",
           "leg.yaml:12:6: error: '3 mm' is a length, but 'x' is a count [sheet.wrong-kind]\n"
           "   12 |   x: 3 mm\n"
           "      |      ^~~~\n"
           "   do: take the unit out\n"},
          {"= 7 / 2",
           "leg.yaml:12:8: error: 'x' came out as 3.5, and a count is whole [sheet.not-whole]\n"
           "   12 |   x: = 7 / 2\n"
           "      |        ^~~~~\n"
           "   do: round it: round(...), floor(...) or ceil(...)\n"},
          {"four",
           "leg.yaml:12:6: error: 'four' is no number [sheet.not-a-number]\n"
           "   12 |   x: four\n"
           "      |      ^~~~\n"
           "   do: write a number with its unit; a formula begins with '='\n"},
      },
      Kind::count());
  expect_all(
      {
          {"maybe",
           "leg.yaml:12:6: error: 'maybe' is neither yes nor no [sheet.not-yes-or-no]\n"
           "   12 |   x: maybe\n"
           "      |      ^~~~~\n"
           "   do: write yes or no\n"},
          {"1",
           "leg.yaml:12:6: error: '1' is neither yes nor no [sheet.not-yes-or-no]\n"
           "   12 |   x: 1\n"
           "      |      ^\n"
           "   do: write yes or no\n"},
          {"= 1",
           "leg.yaml:12:8: error: this gives a count, but 'x' is a yes/no [sheet.wrong-kind]\n"
           "   12 |   x: = 1\n"
           "      |        ^\n"
           "   do: check the units and the signs in it\n"},
          {"= height",
           "leg.yaml:12:8: error: this gives a length, but 'x' is a yes/no [sheet.wrong-kind]\n"
           "   12 |   x: = height\n"
           "      |        ^~~~~~\n"
           "   do: check the units and the signs in it\n"},
      },
      Kind::yes_no());
}

/// Columns count characters, not bytes.
TEST(Problems, ColumnsCountCharacters) {
  Sheet sheet("family");
  Parameter x = row("x", "", Kind::text());
  x.entry = in_file("= \"\xC3\xA9t\xC3\xA9\" + 1", 3, 5, "  x: = \"\xC3\xA9t\xC3\xA9\" + 1");
  sheet.add(x);
  sheet.settle();
  const auto found = sheet.diagnostics();
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].place.column, 5 + 2);
  x.entry = in_file("= \"\xC3\xA9t\xC3\xA9\" == nothing", 3, 5, "");
  ASSERT_TRUE(sheet.set_entry("x", 0, *x.entry).ok());
  EXPECT_EQ(sheet.diagnostics()[0].place.column, 5 + 11);
}

/// Its columns are no longer those of its line.
TEST(Problems, OneInATextOfSeveralLinesIsToldByTheBeginningOfThatText) {
  Sheet sheet("family");
  Parameter x = row("x", "", Kind::text());
  x.entry = in_file("= 1 mm + 2 mm + nowhere", 3, 6, "  x: = 1 mm +");
  x.entry->is_literal = false;
  sheet.add(x);
  sheet.settle();
  const auto found = sheet.diagnostics();
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].place.column, 6);
  EXPECT_EQ(found[0].read, "nowhere");
}

/// All at once, each where it stands; what only needs a wrong row adds nothing but a note of its own.
TEST(Problems, AreToldAllAtOnce) {
  Sheet sheet("family");
  sheet.add(row("a", "3 mmm"));
  sheet.add(row("b", "= a + 1 mm"));
  sheet.add(row("c", "= b * 2"));
  sheet.add(row("d", "= nowhere + 1 mm + elsewhere"));
  sheet.add(row("e", "10 mm"));
  sheet.add(row("e", "11 mm"));
  sheet.add(row("max", "12 mm"));
  sheet.add(row("a.b", "12 mm"));
  sheet.add(row("f", "", Kind::length()));
  sheet.add(Parameter{"g", Kind::length(), {}, {}, {}, {}, "", "", {"leg.yaml", 9, 3}});
  sheet.add(SizeList{"bits", {entry("1/4 in"), entry("30 deg"), entry("= 3 mm"), entry("x")}, "", {}});
  sheet.add(SizeList{"none", {}, "", {}});
  sheet.add(row("h", "= next_size(e, bits)"));
  sheet.settle();
  EXPECT_EQ(render(sheet.diagnostics()),
            "error: 'e' stands twice in this sheet [sheet.doubled-name]\n"
            "   do: give one of the two another name\n"
            "error: 'max' is a word of the formulas [sheet.bad-name]\n"
            "   do: choose another name\n"
            "error: 'a.b' cannot be a name in formulas [sheet.bad-name]\n"
            "   do: use letters, digits and _ (at most 100), beginning with a letter: long_rail_depth\n"
            "error: 'deg' is no unit of length [quantity.unknown-unit]\n"
            "      | 30 deg\n"
            "      |    ^~~\n"
            "   do: use mm, cm, m, in or ft\n"
            "error: a size of a list is written out, not computed [sheet.list-problem]\n"
            "      | = 3 mm\n"
            "      | ^~~~~~\n"
            "   do: write it as in 1/2 in\n"
            "error: 'x' is no length [quantity.not-a-length]\n"
            "      | x\n"
            "      | ^\n"
            "   do: write a length such as 717.5 mm or 28 1/4 in; a formula begins with '='\n"
            "error: 'none' is a list without sizes [sheet.list-problem]\n"
            "   do: list at least one\n"
            "error: 'mmm' is no unit [sheet.unknown-unit]\n"
            "      | 3 mmm\n"
            "      |   ^~~\n"
            "   do: did you mean 'mm'?\n"
            "error: 'nowhere' is no name of this sheet [sheet.unknown-name]\n"
            "      | = nowhere + 1 mm + elsewhere\n"
            "      |   ^~~~~~~\n"
            "   do: add a row of this name, or correct it\n"
            "error: 'elsewhere' is no name of this sheet [sheet.unknown-name]\n"
            "      | = nowhere + 1 mm + elsewhere\n"
            "      |                    ^~~~~~~~~\n"
            "   do: add a row of this name, or correct it\n"
            "error: there is nothing in this entry [sheet.empty]\n"
            "   do: write a value, or a formula after '='\n"
            "leg.yaml:9:3: error: 'g' has no value [sheet.no-value]\n"
            "   do: give it one\n"
            "error: 'bits' has a size that cannot be read [sheet.list-problem]\n"
            "      | = next_size(e, bits)\n"
            "      |                ^~~~\n"
            "   do: correct the list first\n");
  EXPECT_EQ(number(sheet, "e"), 10);
  const auto c = sheet.cell("c", 0);
  EXPECT_EQ(c->state, CellState::blocked);
  EXPECT_EQ(render(c->problems),
            "note: needs 'a', which has a problem [sheet.blocked]\n"
            "      | = b * 2\n"
            "      | ^~~~~~~\n");
  const auto need = sheet.need("c", 0);
  ASSERT_FALSE(need.ok());
  EXPECT_EQ(ids(need.reasons()), (std::vector<std::string>{"sheet.blocked", "sheet.unknown-unit"}));
}

// A byte that begins a character of three, with a line's end behind it, once put that end into the message.
TEST(Problems, BytesThatAreNoTextAreShownInOneLine) {
  const Sheet sheet = sheet_of({{"height", "= hei\xE2\n\xF5uh"}, {"width", "= he\"\n\""}});
  ASSERT_FALSE(sheet.diagnostics().empty());
  for (const Diagnostic& one : sheet.diagnostics()) EXPECT_EQ(one.message.find('\n'), std::string::npos) << one.message;
}

}  // namespace
}  // namespace pommel::sheet
