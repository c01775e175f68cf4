// What another program reads in our PDF: pdftotext and pdfinfo of poppler-utils.
#pragma once

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include <unistd.h>

namespace pommel::paper {

inline std::string output_of(const std::string& command) {
  std::string out;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return out;
  std::array<char, 4096> part;
  while (const std::size_t read = fread(part.data(), 1, part.size(), pipe)) out.append(part.data(), read);
  EXPECT_EQ(pclose(pipe), 0) << command;
  return out;
}

/// The file of the bytes while this stands.
class TemporaryFile {
 public:
  TemporaryFile(const std::string& bytes, const std::string& ending)
      : path_(std::filesystem::temp_directory_path() / ("pommel-" + std::to_string(getpid()) + ending)) {
    std::ofstream(path_, std::ios::binary) << bytes;
  }
  ~TemporaryFile() { std::filesystem::remove(path_); }
  std::string name() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

/// All text, laid out as it stands.
inline std::string text_of_pdf(const std::string& bytes) {
  const TemporaryFile file(bytes, ".pdf");
  return output_of("pdftotext -layout " + file.name() + " - 2>&1");
}

inline int pages_of_pdf(const std::string& bytes) {
  const TemporaryFile file(bytes, ".pdf");
  const std::string info = output_of("pdfinfo " + file.name() + " 2>&1");
  const std::size_t at = info.find("Pages:");
  return at == std::string::npos ? -1 : std::stoi(info.substr(at + 6));
}

}  // namespace pommel::paper
