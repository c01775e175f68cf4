#include "paper/workbook.h"

#include <clocale>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <unistd.h>
#include <xlsxwriter.h>

#include "base/number.h"
#include "paper/money.h"

namespace pommel::paper {
namespace {

double units(Money amount) { return static_cast<double>(amount.cents) / 100; }

// Cells whose text begins like a formula are for reading only, here and in whatever they are copied to.
std::string harmless(const std::string& text) {
  return !text.empty() && std::string("=+-@\t\r").find(text[0]) != std::string::npos ? "'" + text : text;
}

std::string column_name(int column) { return std::string(1, static_cast<char>('A' + column)); }

// While it lives, the library prints this thread's numbers with a point: it asks the process's locale, which Qt sets to the user's, and a
// decimal comma makes a workbook that no program opens.
class PlainNumbers {
 public:
  PlainNumbers() : plain_(newlocale(LC_ALL_MASK, "C", nullptr)), before_(uselocale(plain_)) {}
  ~PlainNumbers() {
    uselocale(before_);
    freelocale(plain_);
  }
  PlainNumbers(const PlainNumbers&) = delete;
  PlainNumbers& operator=(const PlainNumbers&) = delete;

 private:
  locale_t plain_, before_;
};

// A folder of this process alone, gone with all that is in it: a file of a name that others can guess could lead elsewhere.
class PrivateFolder {
 public:
  PrivateFolder() {
    std::error_code code;
    name_ = (std::filesystem::temp_directory_path(code) / "pommel-XXXXXX").string();
    made_ = !code && mkdtemp(name_.data());
  }
  ~PrivateFolder() {
    std::error_code code;
    if (made_) std::filesystem::remove_all(name_, code);
  }
  PrivateFolder(const PrivateFolder&) = delete;
  PrivateFolder& operator=(const PrivateFolder&) = delete;

  bool made() const { return made_; }
  std::string file(const char* name) const { return name_ + "/" + name; }

 private:
  std::string name_;
  bool made_ = false;
};

// A workbook on its way through a temporary file, which the library wants.
class Book {
 public:
  Book(const std::string& title, const std::string& date) {
    book_ = workbook_new(path_.c_str());
    bold_ = workbook_add_format(book_);
    format_set_bold(bold_);
    money_ = workbook_add_format(book_);
    format_set_num_format(money_, "0.00");
    bold_money_ = workbook_add_format(book_);
    format_set_num_format(bold_money_, "0.00");
    format_set_bold(bold_money_);
    size_ = workbook_add_format(book_);
    format_set_num_format(size_, "0.0###");
    stamp(title, date);
  }
  ~Book() {
    if (book_) lxw_workbook_free(book_);
  }
  Book(const Book&) = delete;
  Book& operator=(const Book&) = delete;

  void sheet(const char* name, const std::vector<double>& widths) {
    sheet_ = workbook_add_worksheet(book_, name);
    for (std::size_t i = 0; i < widths.size(); ++i) worksheet_set_column(sheet_, static_cast<lxw_col_t>(i), static_cast<lxw_col_t>(i), widths[i], nullptr);
  }
  void text(int row, int column, const std::string& words, bool bold = false) {
    worksheet_write_string(sheet_, at(row), to(column), harmless(words).c_str(), bold ? bold_ : nullptr);
  }
  void count(int row, int column, double value) { worksheet_write_number(sheet_, at(row), to(column), value, nullptr); }
  void size(int row, int column, double value) { worksheet_write_number(sheet_, at(row), to(column), value, size_); }
  void fixed(int row, int column, double value, bool bold = false) { worksheet_write_number(sheet_, at(row), to(column), value, bold ? bold_money_ : money_); }
  /// `value`: what it comes to, for readers that do not reckon.
  void formula(int row, int column, const std::string& says, double value) { worksheet_write_formula_num(sheet_, at(row), to(column), says.c_str(), bold_money_, value); }

  Result<std::string> bytes() {
    if (!folder_.made()) return fail("paper.cannot-write", "no folder can be made for the workbooks on their way", "name a folder in TMPDIR that is there and may be written to");
    const lxw_error error = workbook_close(book_);
    book_ = nullptr;
    std::ifstream in(path_, std::ios::binary);
    std::string out((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    if (error != LXW_NO_ERROR || out.empty()) return fail("paper.cannot-write", "a workbook could not be written to '" + path_ + "'", "make room on the disk, or name another folder in TMPDIR");
    return out;
  }

 private:
  static lxw_row_t at(int row) { return static_cast<lxw_row_t>(row); }
  static lxw_col_t to(int column) { return static_cast<lxw_col_t>(column); }

  // the library would write the time of day
  void stamp(const std::string& title, const std::string& date) {
    std::tm day{};
    day.tm_year = 70;
    day.tm_mday = 1;
    if (date.size() == 10) {
      day.tm_year = static_cast<int>(parse_number(date.substr(0, 4)).value_or(1970)) - 1900;
      day.tm_mon = static_cast<int>(parse_number(date.substr(5, 2)).value_or(1)) - 1;
      day.tm_mday = static_cast<int>(parse_number(date.substr(8, 2)).value_or(1));
    }
    day.tm_hour = 12;
    std::string name = title, by = "pommel";
    lxw_doc_properties properties{};
    properties.title = name.data();
    properties.author = by.data();
    properties.created = timegm(&day);
    workbook_set_properties(book_, &properties);
  }

  PlainNumbers plain_numbers_;
  PrivateFolder folder_;
  std::string path_ = folder_.file("book.xlsx");
  lxw_workbook* book_ = nullptr;
  lxw_worksheet* sheet_ = nullptr;
  lxw_format *bold_ = nullptr, *money_ = nullptr, *bold_money_ = nullptr, *size_ = nullptr;
};

// Lengths as numbers in the order's unit: inches as decimals, to a ten-thousandth.
double in_unit(double mm, const Heading& heading) {
  const bool inches = heading.lengths.unit != LengthUnit::millimetre;
  return inches ? std::round(mm / kInch * 1e4) / 1e4 : std::round(mm * 1e3) / 1e3;
}

void pieces_sheet(Book& book, const job::Job& job, const Heading& heading) {
  const std::string unit = heading.lengths.unit == LengthUnit::millimetre ? " mm" : " in";
  book.sheet("pieces", {28, 8, 24, 14, 12, 12, 10, 16, 14, 14, 11, 60});
  const char* titles[] = {"piece", "count", "stock", "rough thickness", "rough width", "rough length", "glued of", "finished thickness", "finished width", "finished length", "board feet", "note"};
  for (int i = 0; i < 12; ++i) book.text(0, i, titles[i] + (i >= 3 && i <= 9 && i != 6 ? unit : ""), true);
  int row = 0;
  double feet = 0;
  for (const stock::CutRow& cut : job.order.cuts.rows) {
    ++row;
    book.text(row, 0, cut.piece);
    book.count(row, 1, cut.quantity);
    book.text(row, 2, cut.stock_label);
    const double sizes[] = {cut.rough_thickness, cut.rough_width, cut.rough_length};
    const double finished[] = {cut.finished_thickness, cut.finished_width, cut.finished_length};
    for (int i = 0; i < 3; ++i) {
      book.size(row, 3 + i, in_unit(sizes[i], heading));
      book.size(row, 7 + i, in_unit(finished[i], heading));
    }
    book.count(row, 6, cut.laminations);
    const double rounded = std::round(cut.board_feet * 100) / 100;
    book.fixed(row, 10, rounded);
    feet += rounded;
    if (!cut.note.empty()) book.text(row, 11, cut.note);
  }
  book.text(row + 1, 0, "together", true);
  if (row > 0) book.formula(row + 1, 10, "=SUM(K2:K" + std::to_string(row + 1) + ")", feet);
}

void boards_sheet(Book& book, const job::Job& job) {
  book.sheet("boards", {28, 9, 12, 12, 14, 60});
  const char* titles[] = {"stock", "boards", "net BF", "bought BF", "amount", "how reckoned"};
  for (int i = 0; i < 6; ++i) book.text(0, i, titles[i] + (i == 4 ? " " + job.loaded.shop.rates.currency : ""), true);
  int row = 0;
  Money sum;
  for (const stock::BoardRow& board : job.order.cuts.boards) {
    ++row;
    book.text(row, 0, board.stock_label);
    book.count(row, 1, board.boards);
    book.fixed(row, 2, std::round(board.net_board_feet * 100) / 100);
    book.fixed(row, 3, std::round(board.bought_board_feet * 100) / 100);
    book.fixed(row, 4, units(board.amount));
    book.text(row, 5, board.basis);
    sum += board.amount;
  }
  book.text(row + 1, 0, "together", true);
  if (row > 0) book.formula(row + 1, 4, "=SUM(E2:E" + std::to_string(row + 1) + ")", units(sum));
}

}  // namespace

Result<std::string> cut_list_workbook(const job::Job& job, const Heading& heading) {
  Book book("Cut list, " + heading.title, heading.date);
  pieces_sheet(book, job, heading);
  boards_sheet(book, job);
  return book.bytes();
}

Result<std::string> cost_workbook(const job::Job& job, const Heading& heading) {
  const std::vector<Variant> variants = variants_of(job, heading);
  const std::vector<CostRow> rows = cost_rows(variants);
  const quote::Quote& last = *variants.back().quote;
  Book book("Cost sheet, " + heading.title, heading.date);
  std::vector<double> widths = {12, 40, 60};
  widths.resize(3 + variants.size(), 16);
  book.sheet("cost", widths);
  const char* titles[] = {"group", "what", "reckoned from"};
  for (int i = 0; i < 3; ++i) book.text(0, i, titles[i], true);
  int row = 0;
  for (const CostRow& line : rows) {
    ++row;
    book.text(row, 0, line.group);
    book.text(row, 1, line.text);
    book.text(row, 2, line.basis);
    for (std::size_t k = 0; k < variants.size(); ++k)
      if (line.amounts[k]) book.fixed(row, 3 + static_cast<int>(k), units(*line.amounts[k]));
  }
  const std::string words[] = {"cost", last.profit_words, last.minimum_applied ? "price (the shop's minimum charge)" : "price", "tax, " + last.tax_words, "total", "deposit, " + last.deposit_words};
  for (int i = 0; i < 6; ++i) book.text(row + 1 + i, 1, words[i], true);
  for (std::size_t k = 0; k < variants.size(); ++k) {
    const int column = 3 + static_cast<int>(k);
    const std::string c = column_name(column);
    const quote::Quote& quote = *variants[k].quote;
    const bool beside = variants[k].name.starts_with("variant ");  // as many stand before the order as there are
    const std::size_t first = variants.size() - 1 - heading.beside.size();
    book.text(0, column, (beside ? heading.beside[k - first].says : variants[k].name) + " " + quote.currency, true);
    // row + 2 is the cost's number as a spreadsheet counts
    if (row > 0) book.formula(row + 1, column, "=SUM(" + c + "2:" + c + std::to_string(row + 1) + ")", units(quote.cost));
    book.fixed(row + 2, column, units(quote.profit));
    if (quote.minimum_applied) book.fixed(row + 3, column, units(quote.price), true);
    else book.formula(row + 3, column, "=" + c + std::to_string(row + 2) + "+" + c + std::to_string(row + 3), units(quote.price));
    book.fixed(row + 4, column, units(quote.tax));
    book.formula(row + 5, column, "=" + c + std::to_string(row + 4) + "+" + c + std::to_string(row + 5), units(quote.total));
    book.fixed(row + 6, column, units(quote.deposit));
  }
  return book.bytes();
}

}  // namespace pommel::paper
