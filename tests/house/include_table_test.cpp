// Holds every #include of src/ and ui/ against the table of rooms in CMakeLists.txt, and that table against the design:
// the compiler would let a room include any other through the one include path, and a library through whoever links it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/text.h"

namespace pommel {
namespace {

namespace fs = std::filesystem;
using Names = std::set<std::string>;

struct Room {
  Names uses, libraries;
};

/// The rooms of the table, and their order in it.
struct Table {
  std::map<std::string, Room> rooms;
  std::vector<std::string> order;
};

// --- the table ------------------------------------------------------------------------------------------------------

/// What a name in a room's PRIVATE list lets it include; empty for what has no headers of its own here (threads).
std::string library_of_target(const std::string& target) {
  if (target.starts_with("TK")) return "OpenCASCADE";
  if (target.starts_with("Qt6::")) return "Qt";
  if (target == "yaml-cpp") return "yaml-cpp";
  if (target == "muparser::muparser") return "muParser";
  if (target == "nlohmann_json::nlohmann_json") return "nlohmann_json";
  if (target == "CLI11::CLI11") return "CLI11";
  if (target == "OpenSSL::Crypto") return "OpenSSL";
  if (target == "PkgConfig::Cbc") return "COIN-OR";
  if (target == "PkgConfig::Utf8proc") return "utf8proc";
  if (target == "xlsxwriter") return "libxlsxwriter";
  return {};
}

Table table_of(const std::string& cmake) {
  static const std::regex call(R"((?:^|\n)[ ]*pommel_room\(([^)]*)\))");
  static const std::regex word(R"(\S+)");
  Table table;
  for (std::sregex_iterator at(cmake.begin(), cmake.end(), call), end; at != end; ++at) {
    const std::string arguments = (*at)[1];
    std::string name, list;
    for (std::sregex_iterator w(arguments.begin(), arguments.end(), word); w != std::sregex_iterator(); ++w) {
      const std::string text = w->str();
      if (name.empty()) {
        name = text;
      } else if (text == "USES" || text == "PRIVATE" || text == "PRIVATE_INCLUDES" || text == "PRECOMPILE") {
        list = text;
      } else if (list == "USES") {
        table.rooms[name].uses.insert(text);
      } else if (list == "PRIVATE" && !library_of_target(text).empty()) {
        table.rooms[name].libraries.insert(library_of_target(text));
      }
    }
    table.rooms[name];
    table.order.push_back(name);
  }
  // the executables are no rooms; what they may use is said here
  table.rooms["cli"] = {{"job", "base", "designs", "shop", "match"}, {"nlohmann_json", "CLI11"}};
  table.rooms["ui"] = {{"job", "base", "paper", "viewer", "sheet", "family", "shape", "match"}, {"Qt"}};
  return table;
}

// --- the rules ------------------------------------------------------------------------------------------------------

/// The library that a header in angle brackets belongs to; "standard" for C++ and POSIX, "unknown" for any other.
std::string library_of_header(const std::string& header) {
  static const std::regex qt(R"(Q[A-Z]\w*|Qt\w*/.*|Qt\w+|q[a-z]+\.h)"), standard(R"((experimental/)?[a-z0-9_]+)");
  static const std::regex coin(R"((Cbc|Clp|Coin|Osi)\w*\.hpp)");
  static const Names posix = {"fcntl.h",    "signal.h",    "sys/ioctl.h", "sys/resource.h",
                              "sys/file.h",  "sys/stat.h", "sys/types.h", "sys/wait.h",  "unistd.h"};
  if (header.ends_with(".hxx") || header.ends_with(".lxx") || header.ends_with(".gxx")) return "OpenCASCADE";
  if (std::regex_match(header, qt)) return "Qt";
  if (header.starts_with("yaml-cpp/")) return "yaml-cpp";
  if (header.starts_with("muParser")) return "muParser";
  if (header.starts_with("nlohmann/")) return "nlohmann_json";
  if (header.starts_with("CLI/")) return "CLI11";
  if (header.starts_with("openssl/")) return "OpenSSL";
  if (std::regex_match(header, coin)) return "COIN-OR";
  if (header == "xlsxwriter.h") return "libxlsxwriter";
  if (header == "utf8proc.h") return "utf8proc";
  if (std::regex_match(header, standard) || posix.contains(header)) return "standard";
  return "unknown";
}

/// Rooms that may know a library, whatever the table says.
const std::map<std::string, Names> kLibraryRooms = {
    {"OpenCASCADE", {"solid", "viewer"}},        {"Qt", {"paper", "ui"}}, {"yaml-cpp", {"yaml"}}, {"muParser", {"sheet"}},
    {"nlohmann_json", {"job", "cli"}}, {"CLI11", {"cli"}},      {"OpenSSL", {"base"}}, {"utf8proc", {"base"}},        {"COIN-OR", {"stock"}}, {"libxlsxwriter", {"paper"}},
};

/// What the design says that a room must never know, whatever the table says.
const std::map<std::string, Names> kNever = {
    {"base", {"yaml", "sheet", "shape", "job"}},
    {"sheet", {"yaml", "shape", "solid", "family"}},
    {"shape", {"sheet", "yaml", "solid"}},
    {"frame", {"sheet", "yaml", "solid"}},
    {"shop", {"shape", "frame", "family"}},
    {"family", {"solid"}},
    {"designs", {"solid"}},
    {"rules", {"yaml"}},
    {"solid", {"sheet", "yaml"}},
    {"stock", {"solid"}},
    {"mill", {"program", "proof"}},
    {"program", {"shape", "frame", "mill", "proof"}},
    {"proof", {"mill"}},
    {"quote", {"shape", "solid", "mill"}},
    {"exchange", {"shape", "solid", "mill"}},
};

/// A header for its own room only may say so in its opening comment.
bool says_private(const std::string& text) {
  return text.substr(0, 1000).find("For this room only") != std::string::npos;
}

struct File {
  std::string path;  // from the top of the repository: "src/sheet/sheet.cpp"
  std::string text;

  std::string room() const {
    const auto parts = split(path, '/');
    return std::string(parts[0] == "ui" ? parts[0] : parts[1]);
  }
  bool is_header() const { return path.ends_with(".h"); }
};

/// The headers, as they are included, that only their own room may include: those that say so, and those that show a
/// library's types, themselves or through another of them.
Names private_headers_of(const std::vector<File>& files) {
  static const std::regex include(R"(^\s*#\s*include\s*[<"]([^>"]+)[>"].*)");
  Names found;
  const auto is_private = [&](const File& file) {
    if (says_private(file.text)) return true;
    for (const std::string_view line : split(file.text, '\n')) {
      std::match_results<std::string_view::const_iterator> parts;
      if (!std::regex_match(line.begin(), line.end(), parts, include)) continue;
      const std::string header = parts[1].str(), library = library_of_header(header);
      if (found.contains(header)) return true;
      if (header.find(file.room() + "/") != 0 && kLibraryRooms.contains(library)) return true;
    }
    return false;
  };
  for (std::size_t before = found.size() + 1; before != found.size();) {
    before = found.size();
    for (const File& file : files) {
      if (file.is_header() && file.path.starts_with("src/") && is_private(file)) found.insert(file.path.substr(4));
    }
  }
  return found;
}

class Scanner {
 public:
  Scanner(Table table, Names private_headers)
      : table_(std::move(table)), private_headers_(std::move(private_headers)) {}

  /// One text for each fault: "src/shape/part.cpp:3: why".
  std::vector<std::string> faults(const File& file);
  int includes() const { return includes_; }

 private:
  std::string fault_of_quoted(const File& file, const std::string& header, bool with_paper) const;
  std::string fault_of_angled(const File& file, const std::string& header) const;

  Table table_;
  Names private_headers_;
  int includes_ = 0;
};

std::string Scanner::fault_of_quoted(const File& file, const std::string& header, bool with_paper) const {
  const std::string room = file.room();
  if (library_of_header(header) == "OpenCASCADE") return fault_of_angled(file, header);
  const std::size_t slash = header.find('/');
  if (slash == std::string::npos) return "'" + header + "' is not qualified by its folder";
  const std::string other = header.substr(0, slash);
  if (room == "ui" && (other == "ui" || other == "models" || other == "views")) return {};
  // its files are all named reader...; of its own room it may know no others
  if (file.path.starts_with("src/program/reader") && other != "base" && !header.starts_with("program/reader")) {
    return "the reader of programs is a judge: it may include base/ and its own headers, not '" + header + "'";
  }
  if (room == other) return {};
  if (!table_.rooms.contains(other)) return "'" + other + "' is no room of the table";
  const bool guarded_paper = room == "cli" && other == "paper" && with_paper;
  const auto mine = table_.rooms.find(room);
  if (mine == table_.rooms.end()) return "'" + room + "' is no room of the table";
  if (!mine->second.uses.contains(other) && !guarded_paper) return "'" + room + "' may not include '" + other + "'";
  // the window draws with what paper/ paints with
  const bool windows_own = room == "ui" && other == "paper";
  // and the viewer shows what the kernel made
  const bool viewers_own = room == "viewer" && header == "solid/occt_shape.h";
  if (private_headers_.contains(header) && !windows_own && !viewers_own)
    return "'" + header + "' is for its own room only";
  return {};
}

std::string Scanner::fault_of_angled(const File& file, const std::string& header) const {
  const std::string room = file.room(), library = library_of_header(header);
  if (library == "standard") return {};
  if (library == "unknown") return "<" + header + "> is of no library that the table knows";
  if (library == "OpenCASCADE" && file.path.starts_with("ui/views/")) return {};  // a view of the solid draws by it
  const auto mine = table_.rooms.find(room);
  const bool linked = mine != table_.rooms.end() && mine->second.libraries.contains(library);
  if (!linked || !kLibraryRooms.at(library).contains(room)) return "'" + room + "' may not know " + library;
  if (header.starts_with("QtWidgets") && room != "ui") return "'" + room + "' may not know Qt's widgets";
  // solid/ and paper/ exist to wrap their libraries: there such a header is private to the room, see private_headers_of
  const bool shown_to_others =
      file.is_header() && !says_private(file.text) && !Names{"solid", "paper", "cli", "ui"}.contains(room);
  if (shown_to_others) return "a header that other rooms see may not include " + library;
  return {};
}

std::vector<std::string> Scanner::faults(const File& file) {
  static const std::regex include(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"].*)");
  std::vector<std::string> found;
  std::vector<bool> conditions;  // of the open #if lines: whether it asks for paper
  int number = 0;
  for (const std::string_view view : split(file.text, '\n')) {
    ++number;
    const std::string line(view);
    const std::string directive(trimmed(view));
    if (directive.starts_with("#if"))
      conditions.push_back(directive.find("POMMEL_WITH_PAPER") != std::string::npos &&
                           !directive.starts_with("#ifndef"));
    if (directive.starts_with("#else") && !conditions.empty()) conditions.back() = false;
    if (directive.starts_with("#endif") && !conditions.empty()) conditions.pop_back();
    std::smatch parts;
    if (!std::regex_match(line, parts, include)) continue;
    ++includes_;
    const bool with_paper = std::find(conditions.begin(), conditions.end(), true) != conditions.end();
    const std::string fault =
        parts[1] == "<" ? fault_of_angled(file, parts[2]) : fault_of_quoted(file, parts[2], with_paper);
    if (!fault.empty()) found.push_back(file.path + ":" + std::to_string(number) + ": " + fault);
  }
  return found;
}

/// What is wrong with the table itself.
std::vector<std::string> faults_of_table(const Table& table) {
  std::vector<std::string> found;
  Names above;
  for (const std::string& name : table.order) {
    const Room& room = table.rooms.at(name);
    for (const std::string& used : room.uses) {
      if (!above.contains(used)) found.push_back("'" + name + "' uses '" + used + "', which does not stand above it");
      if (kNever.contains(name) && kNever.at(name).contains(used))
        found.push_back("'" + name + "' must never know '" + used + "'");
    }
    for (const std::string& library : room.libraries) {
      if (!kLibraryRooms.at(library).contains(name)) found.push_back("'" + name + "' must never know " + library);
    }
    above.insert(name);
  }
  return found;
}

// --- the repository -------------------------------------------------------------------------------------------------

const fs::path kTop = POMMEL_SOURCE_DIR;

std::string text_of(const fs::path& path) {
  const auto text = real_files()->read(path);
  EXPECT_TRUE(text) << path;
  return text ? *text : std::string();
}

std::vector<File> all_files() {
  std::vector<File> files;
  for (const char* folder : {"src", "ui"}) {
    if (!fs::exists(kTop / folder)) continue;
    for (const auto& entry : fs::recursive_directory_iterator(kTop / folder)) {
      const std::string extension = entry.path().extension();
      if (!entry.is_regular_file() || (extension != ".h" && extension != ".cpp")) continue;
      files.push_back({entry.path().lexically_relative(kTop).generic_string(), text_of(entry.path())});
    }
  }
  return files;
}

TEST(IncludeTable, EveryIncludeOfTheHouseStandsInIt) {
  const std::vector<File> files = all_files();
  const Table table = table_of(text_of(kTop / "CMakeLists.txt"));
  const Names private_headers = private_headers_of(files);
  EXPECT_THAT(private_headers, testing::IsSupersetOf({"yaml/tree.h", "solid/occt.h"}));
  Scanner scanner(table, private_headers);
  std::vector<std::string> found;
  Names rooms;
  for (const File& file : files) {
    const auto some = scanner.faults(file);
    found.insert(found.end(), some.begin(), some.end());
    rooms.insert(file.room());
  }
  EXPECT_EQ(joined(found, "\n"), "");
  // that it looked at all
  EXPECT_GT(files.size(), 20u);
  EXPECT_GT(scanner.includes(), 150);
  for (const std::string& room : rooms)
    EXPECT_TRUE(table.rooms.contains(room)) << room << " has files and no line in the table";
}

TEST(IncludeTable, KeepsToTheDesign) {
  const Table table = table_of(text_of(kTop / "CMakeLists.txt"));
  EXPECT_THAT(faults_of_table(table), testing::IsEmpty());
  EXPECT_GE(table.order.size(), 16u);
  EXPECT_EQ(table.rooms.at("base").uses, Names{});
  EXPECT_EQ(table.rooms.at("base").libraries, (Names{"OpenSSL", "utf8proc"}));
  EXPECT_EQ(table.rooms.at("solid").libraries, Names{"OpenCASCADE"});
  EXPECT_EQ(table.rooms.at("rules").uses, (Names{"base", "shape", "shop"}));
}

// --- that the scanner can find each fault
// -----------------------------------------------------------------------------

const char* const kSample = R"(
function(pommel_room name)
  cmake_parse_arguments(ROOM "" "" "USES;PRIVATE" ${ARGN})
endfunction()
pommel_room(base PRIVATE OpenSSL::Crypto)
pommel_room(yaml USES base PRIVATE yaml-cpp)
pommel_room(sheet USES base PRIVATE muparser::muparser)
pommel_room(shape USES base)
pommel_room(solid USES base shape
  PRIVATE TKernel TKMath
  PRIVATE_INCLUDES ${OpenCASCADE_INCLUDE_DIR}
  PRECOMPILE ${PROJECT_SOURCE_DIR}/src/solid/occt.h)
pommel_room(mill USES base shape PRIVATE Threads::Threads)
pommel_room(program USES base shape)
pommel_room(job USES base sheet shape solid PRIVATE nlohmann_json::nlohmann_json)
if(POMMEL_QT)
  pommel_room(paper USES base shape job PRIVATE Qt6::Core Qt6::Gui)
endif()
)";

TEST(IncludeTable, FindsEachMadeUpFault) {
  struct Row {
    const char* path;
    const char* text;
    const char* fault;
  };
  for (const Row& row : {
           Row{"src/shape/a.cpp", "#include <vector>\n\n#include \"sheet/sheet.h\"\n",
               "src/shape/a.cpp:3: 'shape' may not include 'sheet'"},
           {"src/shape/a.cpp", "#include \"part.h\"", "src/shape/a.cpp:1: 'part.h' is not qualified by its folder"},
           {"src/shape/a.cpp", "  #  include   \"mill/a.h\"  // why",
            "src/shape/a.cpp:1: 'shape' may not include 'mill'"},
           {"src/shape/a.cpp", "#include \"../mill/a.h\"", "src/shape/a.cpp:1: '..' is no room of the table"},
           {"src/shape/a.cpp", "#include \"cave/a.h\"", "src/shape/a.cpp:1: 'cave' is no room of the table"},
           {"src/cave/a.cpp", "#include \"base/text.h\"", "src/cave/a.cpp:1: 'cave' is no room of the table"},
           {"src/job/a.cpp", "#include \"solid/occt.h\"", "src/job/a.cpp:1: 'solid/occt.h' is for its own room only"},
           {"src/job/a.cpp", "#include <gp_Pnt.hxx>", "src/job/a.cpp:1: 'job' may not know OpenCASCADE"},
           {"src/mill/a.cpp", "#include <BRepAlgoAPI_Cut.hxx>", "src/mill/a.cpp:1: 'mill' may not know OpenCASCADE"},
           {"src/mill/a.cpp", "#include \"TopoDS_Shape.hxx\"", "src/mill/a.cpp:1: 'mill' may not know OpenCASCADE"},
           {"src/mill/a.cpp", "#include <Standard_Handle.hxx>", "src/mill/a.cpp:1: 'mill' may not know OpenCASCADE"},
           {"ui/models/a.cpp", "#include <gp_Pnt.hxx>", "ui/models/a.cpp:1: 'ui' may not know OpenCASCADE"},
           {"src/job/a.cpp", "#include <QString>", "src/job/a.cpp:1: 'job' may not know Qt"},
           {"src/job/a.cpp", "#include <QtCore/QString>", "src/job/a.cpp:1: 'job' may not know Qt"},
           {"src/paper/a.cpp", "#include <QtWidgets/QWidget>", "src/paper/a.cpp:1: 'paper' may not know Qt's widgets"},
           {"src/job/a.cpp", "#include <yaml-cpp/yaml.h>", "src/job/a.cpp:1: 'job' may not know yaml-cpp"},
           {"src/mill/a.cpp", "#include <muParser.h>", "src/mill/a.cpp:1: 'mill' may not know muParser"},
           {"src/paper/a.cpp", "#include <nlohmann/json.hpp>", "src/paper/a.cpp:1: 'paper' may not know nlohmann_json"},
           {"src/job/job.h", "#include <nlohmann/json.hpp>",
            "src/job/job.h:1: a header that other rooms see may not include nlohmann_json"},
           {"src/job/a.cpp", "#include <CLI/CLI.hpp>", "src/job/a.cpp:1: 'job' may not know CLI11"},
           {"src/job/a.cpp", "#include <openssl/evp.h>", "src/job/a.cpp:1: 'job' may not know OpenSSL"},
           {"src/job/a.cpp", "#include <boost/any.hpp>",
            "src/job/a.cpp:1: <boost/any.hpp> is of no library that the table knows"},
           {"src/cli/a.cpp", "#include \"sheet/sheet.h\"", "src/cli/a.cpp:1: 'cli' may not include 'sheet'"},
           {"src/cli/a.cpp", "#include \"paper/paper.h\"", "src/cli/a.cpp:1: 'cli' may not include 'paper'"},
           {"src/cli/a.cpp", "#ifndef POMMEL_WITH_PAPER\n#include \"paper/paper.h\"\n#endif",
            "src/cli/a.cpp:2: 'cli' may not include 'paper'"},
           {"src/cli/a.cpp", "#ifdef POMMEL_WITH_PAPER\n#else\n#include \"paper/paper.h\"\n#endif",
            "src/cli/a.cpp:3: 'cli' may not include 'paper'"},
           {"src/cli/a.cpp", "#ifdef POMMEL_WITH_PAPER\n#endif\n#include \"paper/paper.h\"",
            "src/cli/a.cpp:3: 'cli' may not include 'paper'"},
           {"src/program/reader.cpp", "#include \"program/writer.h\"",
            "src/program/reader.cpp:1: the reader of programs is a judge: it may include base/ and its own headers, "
            "not "
            "'program/writer.h'"},
           {"src/program/reader_words.h", "#include \"shape/part.h\"",
            "src/program/reader_words.h:1: the reader of programs is a judge: it may include base/ and its own "
            "headers, not "
            "'shape/part.h'"},
           {"ui/main.cpp", "#include \"mill/mill.h\"", "ui/main.cpp:1: 'ui' may not include 'mill'"},
       }) {
    Scanner scanner(table_of(kSample), {"solid/occt.h"});
    EXPECT_THAT(scanner.faults({row.path, row.text}), testing::ElementsAre(row.fault)) << row.text;
  }
}

TEST(IncludeTable, LetsPassWhatIsAllowed) {
  struct Row {
    const char* path;
    const char* text;
  };
  for (const Row& row : {
           Row{"src/shape/a.cpp",
               "#include \"shape/part.h\"\n#include \"base/text.h\"\n#include <vector>\n#include <cmath>\n#include "
               "<unistd.h>\n"},
           {"src/shape/a.cpp", "// #include \"sheet/sheet.h\"\n"},
           {"src/solid/a.cpp", "#include \"solid/occt.h\"\n#include <gp_Pnt.hxx>\n"},
           {"src/solid/occt.h", "#include <gp_Pnt.hxx>\n"},
           {"src/paper/a.cpp", "#include <QPainter>\n#include <QtGui/QPdfWriter>\n"},
           {"src/job/a.cpp", "#include <nlohmann/json.hpp>\n"},
           {"src/cli/main.cpp",
            "#include <CLI/CLI.hpp>\n#include \"job/job.h\"\n#ifdef POMMEL_WITH_PAPER\n#include "
            "\"paper/paper.h\"\n#endif\n"},
           {"src/program/reader.cpp",
            "#include \"program/reader.h\"\n#include \"program/reader_words.h\"\n#include \"base/number.h\"\n#include "
            "<charconv>\n"},
           {"ui/views/a.cpp",
            "#include <AIS_Shape.hxx>\n#include \"models/sheet_model.h\"\n#include <QWidget>\n#include "
            "\"job/job.h\"\n"},
       }) {
    Scanner scanner(table_of(kSample), {"solid/occt.h"});
    EXPECT_THAT(scanner.faults({row.path, row.text}), testing::IsEmpty()) << row.text;
    EXPECT_EQ(scanner.includes() > 0, std::string(row.text).starts_with("#"));
  }
}

TEST(IncludeTable, AHeaderThatShowsALibraryIsPrivate) {
  EXPECT_THAT(private_headers_of({{"src/solid/b.h", "#include \"solid/a.h\"\n"},
                                  {"src/solid/a.h", "#include <gp_Pnt.hxx>\n"},
                                  {"src/solid/c.h", "#include <vector>\n#include \"base/text.h\"\n"},
                                  {"src/yaml/d.h", "// The tree. For this room only.\n"},
                                  {"src/solid/e.cpp", "#include <gp_Pnt.hxx>\n"}}),
              testing::ElementsAre("solid/a.h", "solid/b.h", "yaml/d.h"));
}

TEST(IncludeTable, FindsFaultsOfTheTable) {
  EXPECT_THAT(faults_of_table(table_of(kSample)), testing::ElementsAre("'program' must never know 'shape'"));
  EXPECT_THAT(
      faults_of_table(table_of(
          "pommel_room(base)\npommel_room(sheet USES base yaml PRIVATE Qt6::Core)\npommel_room(yaml USES base)\n")),
      testing::ElementsAre("'sheet' uses 'yaml', which does not stand above it", "'sheet' must never know 'yaml'",
                           "'sheet' must never know Qt"));
  EXPECT_THAT(table_of("# pommel_room(no)\nfunction(pommel_room name)\n").order, testing::IsEmpty());
}

}  // namespace
}  // namespace pommel
