#include "cli/cli.h"

#include <cstdio>

#include <unistd.h>

#include "base/text.h"

namespace pommel::cli {
namespace {

bool shows_progress(const Shared& shared) { return !shared.json && isatty(STDERR_FILENO) == 1; }

int code_for(const std::vector<Diagnostic>& found) {
  for (const Diagnostic& what : found) {
    if (what.id == "cancelled") return kStopped;
    if (what.id == "job.not-proved" || what.id == "proof.not-passed" || what.id == "proof.other-text") return kNotProved;
    if (what.id == "job.not-ours") return kCannotWrite;
    if (what.id.starts_with("files.") && what.id != "files.cannot-read" && what.id != "files.too-large") return kCannotWrite;
  }
  return kProblems;
}

}  // namespace

bool print(const std::string& text) {
  return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
}

int show(const std::vector<Diagnostic>& found, const Shared& shared) {
  if (shared.json) print(job::diagnostics_json(found));
  else {
    const std::string text = render(found);
    std::fwrite(text.data(), 1, text.size(), stderr);
  }
  return code_for(found);
}

Result<designs::House> house_of(const std::filesystem::path& file, const Shared& shared) {
  if (file.is_absolute() || shared.catalog) return job::find_house(*shared.files, file, shared.catalog, shared.installed);
  std::error_code error;
  const auto here = std::filesystem::current_path(error);
  auto house = job::find_house(*shared.files, (here / file).lexically_normal(), std::nullopt, shared.installed);
  if (!house.ok() || house->catalog == shared.installed / "catalog") return house;
  return designs::House{house->catalog.lexically_relative(here), house->templates.lexically_relative(here)};
}

std::optional<job::Loaded> load(const std::filesystem::path& file, const Shared& shared, int& exit) {
  const auto house = house_of(file, shared);
  if (!house.ok()) {
    exit = show(house.reasons(), shared);
    return std::nullopt;
  }
  Sink sink;
  auto loaded = job::load(*shared.files, *house, file, sink);
  if (sink.has_errors() || !loaded) {
    exit = show(sink.all(), shared);
    return std::nullopt;
  }
  if (!shared.json && !loaded->notes.empty()) show(loaded->notes, shared);
  return loaded;
}

std::vector<std::pair<std::string, sheet::Entry>> with_entries(const std::vector<std::string>& texts, Sink& sink) {
  std::vector<std::pair<std::string, sheet::Entry>> out;
  for (const std::string& text : texts) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0) {
      sink.add(fail("cli.with", "'" + text + "' does not say a measure and its size", "write --with table_height='30 1/4 in'").reasons);
      continue;
    }
    out.emplace_back(text.substr(0, equals), sheet::Entry{text.substr(equals + 1), Place{"--with", 1, character_count(text.substr(0, equals + 1)) + 1}, text});
  }
  return out;
}

job::Options options_of(const Shared& shared) {
  job::Options options;
  options.stop = shared.stop;
  if (shows_progress(shared))
    options.progress = [](const std::string& stage, const std::string& of) {
      std::fprintf(stderr, "\r\033[K%s: %s ...", of.c_str(), stage.c_str());
      std::fflush(stderr);
    };
  return options;
}

void end_progress(const Shared& shared) {
  if (shows_progress(shared)) std::fprintf(stderr, "\r\033[K");
}

}  // namespace pommel::cli
