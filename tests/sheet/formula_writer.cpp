#include "sheet/formula_writer.h"

namespace pommel::sheet {

std::string FormulaWriter::nonsense() {
  return pick<std::string>({"= (", "= 3 mm +", "= nothing_here + 1 mm", "oak", "= 1/0 * 1 mm", "= 3 mm 4",
                            "= price * 1", "= sizes", "3 mm 4 mm", "= yes ? 1 : 2 mm"});
}

std::string FormulaWriter::plain(const Kind& kind) {
  if (kind.form == Form::yes_no) return pick<std::string>({"yes", "no"});
  if (kind.form == Form::choice) return pick<std::string>({"oil", "wax", "lacquer", "oli"});
  if (kind == Kind::length())
    return pick<std::string>(
        {"717.5 mm", "28 1/4 in", "28-1/4\"", "2' 4 1/4\"", "3/4 in", "12 cm", "-5 mm", "0 mm", "0"});
  return literal(kind);
}

std::string FormulaWriter::literal(const Kind& kind) {
  if (kind == Kind::length())
    return pick<std::string>({"40 mm", "3/4 in", "2 1/2 in", "1 7/16\"", "2' 3 1/2\"", "0.35 m", "9.5 mm"});
  if (kind == Kind::angle()) return pick<std::string>({"30 deg", "0.4 rad", "12.5 deg"});
  if (kind == Kind::count()) return pick<std::string>({"4", "7", "1", "0"});
  if (kind == Kind::area()) return pick<std::string>({"1.25 m2", "0.4 m2"});
  if (kind == Kind::money()) return pick<std::string>({"12.5 EUR", "85 EUR"});
  if (kind == Kind::time()) return pick<std::string>({"45 min", "1.5 h"});
  if (kind == Kind::per(Kind::money(), Kind::time())) return pick<std::string>({"85 EUR per h", "1.5 EUR per min"});
  return pick<std::string>({"0.48", "15 %", "2", "3.25"});
}

std::string FormulaWriter::name_of(const Kind& kind, const std::string& otherwise) {
  std::vector<std::string> fitting;
  for (const auto& [name, of] : names_)
    if (of.form == kind.form && of.dimension == kind.dimension) fitting.push_back(name);
  return fitting.empty() ? otherwise : pick(fitting);
}

std::string FormulaWriter::condition(int depth) {
  const std::string one = name_of(Kind::yes_no(), "yes");
  if (depth <= 0) return one;
  switch (roll(6)) {
    case 0:
      return "(" + condition(depth - 1) + " and " + condition(depth - 1) + ")";
    case 1:
      return "(" + condition(depth - 1) + " or " + condition(depth - 1) + ")";
    case 2:
      return "not " + one;
    case 3:
      return std::string("finish ") + pick<std::string>({"==", "!="}) + pick<std::string>({" \"oil\"", " \"wax\""});
    default:
      break;
  }
  const Kind kind = pick<Kind>({Kind::length(), Kind::money(), Kind::ratio()});
  return "(" + number(kind, depth - 1) + pick<std::string>({" < ", " <= ", " > ", " >= ", " == ", " != "}) +
         number(kind, depth - 1) + ")";
}

std::string FormulaWriter::length(int depth) {
  const auto more = [&] { return number(Kind::length(), depth - 1); };
  switch (roll(9)) {
    case 0:
      return "round_up(" + more() + ", 1/16 in)";
    case 6:
      return "round_down(" + more() + ", 5 mm)";
    case 7:
      return pick<std::string>({"cos(", "tan("}) + number(Kind::angle(), depth - 1) + ") * " + more();
    case 1:
      return "round_to(" + more() + ", " + number(Kind::length(), 0) + ")";
    case 2:
      return "next_size(" + more() + ", sizes)";
    case 3:
      return "sqrt(" + number(Kind::area(), depth - 1) + ")";
    case 4:
      return "sin(" + number(Kind::angle(), depth - 1) + ") * " + more();
    case 5:
      return "(" + number(Kind::area(), depth - 1) + ") / (" + more() + ")";
    default:
      return "next_size(" + more() + ", 10 mm, " + more() + ", 5 m)";
  }
}

std::string FormulaWriter::number(const Kind& kind, int depth) {
  if (depth <= 0) return roll(3) == 0 ? literal(kind) : name_of(kind, literal(kind));
  const auto more = [&] { return number(kind, depth - 1); };
  switch (roll(11)) {
    case 0:
      return more() + " + " + more();
    case 1:
      return more() + " - " + more();
    case 2:
      return "(" + more() + " - " + more() + ") * " + number(Kind::ratio(), 0);
    case 3:
      return "min(" + more() + ", " + more() + ", " + more() + ")";
    case 4:
      return "max(0, " + more() + ")";
    case 5:
      return "(" + condition(depth - 1) + " ? " + more() + " : " + more() + ")";
    case 6:
      return "choose(finish, \"oil\", " + more() + ", \"wax\", " + more() +
             pick<std::string>({", \"lacquer\", ", ", "}) + more() + ")";
    case 7:
      return "-abs(" + more() + ")";
    case 8:
      return "(" + more() + ") / " + number(Kind::count(), 0);
    default:
      break;
  }
  if (kind == Kind::length()) return length(depth);
  if (kind == Kind::area())
    return roll(2) == 0 ? "(" + number(Kind::length(), depth - 1) + ")^2"
                        : number(Kind::length(), 0) + " * " + number(Kind::length(), 0);
  if (kind == Kind::angle())
    return "atan2(" + number(Kind::length(), depth - 1) + ", " + number(Kind::length(), 0) + ")";
  if (kind == Kind::money())
    return name_of(Kind::per(Kind::money(), Kind::time()), "85 EUR per h") + " * " + number(Kind::time(), depth - 1);
  if (kind == Kind::count())
    return pick<std::string>({"floor(", "ceil(", "round("}) + number(Kind::length(), depth - 1) + " / (" +
           number(Kind::length(), 0) + "))";
  return more();
}

std::string FormulaWriter::formula(const Kind& kind, int depth) {
  if (kind.form == Form::yes_no) return condition(depth);
  if (kind.form == Form::choice)
    return condition(depth) +
           pick<std::string>({" ? \"oil\" : \"wax\"", " ? \"wax\" : \"lacquer\"", " ? finish : \"oil\""});
  return number(kind, depth);
}

}  // namespace pommel::sheet
