// pommel make ORDER --into DIR
#include <cstdio>

#include "base/number.h"
#include "base/text.h"
#include "cli/cli.h"
#include "job/variants.h"
#ifdef POMMEL_WITH_PAPER
#include "paper/papers.h"
#endif

namespace pommel::cli {
namespace {

struct Arguments {
  std::filesystem::path order, into;
  std::vector<std::string> with, beside;
  bool replace = false, unless_made = false, times = false;
};

std::string times_text(const std::vector<job::StageTime>& times) {
  std::string out = "seconds by stage (solids are built while the programs are checked)\n";
  for (const job::StageTime& time : times) out += "  " + time.of + ", " + time.stage + ": " + format_fixed(time.seconds, 3) + "\n";
  return out;
}

constexpr std::size_t kMostBeside = 5;  // columns of a cost sheet that can be read

// "table_height=790 mm; square=70 mm": the order with these over its own.
Result<std::vector<job::PricedVariant>> priced_beside(const Arguments& arguments, const job::Loaded& loaded, const Shared& shared) {
  std::vector<job::PricedVariant> out;
  if (arguments.beside.size() > kMostBeside)
    return fail("cli.beside", std::to_string(arguments.beside.size()) + " variants do not stand side by side on a sheet", "ask for at most " + std::to_string(kMostBeside));
  for (const std::string& says : arguments.beside) {
    std::vector<std::string> texts = arguments.with;
    for (std::size_t from = 0; from <= says.size();) {
      const std::size_t to = std::min(says.find(';', from), says.size());
      texts.emplace_back(trimmed(std::string_view(says).substr(from, to - from)));
      from = to + 1;
    }
    Sink sink;
    const auto entries = with_entries(texts, sink);
    if (sink.has_errors()) return Failure(sink.all());
    auto priced = job::priced_variant(loaded, says, entries, options_of(shared));
    if (!priced.ok()) return priced.failure();
    out.push_back(std::move(priced).value());
  }
  return out;
}

// As JSON the results that stand there, which are what making it again would print.
int tell_made_before(const std::filesystem::path& folder, const Shared& shared) {
  const auto results = shared.files->read(folder / "job.json");
  if (shared.json && !results.ok()) return show(results.reasons(), shared);
  return print(shared.json ? *results : "The job folder: " + folder.generic_string() + ", made before from these very files\n") ? kDone : kCannotWrite;
}

int make(const Arguments& arguments, const Shared& shared) {
  int exit = kDone;
  auto loaded = load(arguments.order, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  const auto extra = with_entries(arguments.with, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  if (arguments.unless_made && job::made_before(*shared.files, arguments.into, *loaded)) return tell_made_before(arguments.into, shared);
  // before minutes of work, not after
  const auto folder = job::claim_folder(*shared.files, arguments.into, arguments.replace);
  if (!folder.ok()) return show(folder.reasons(), shared);

  auto beside = priced_beside(arguments, *loaded, shared);
  if (!beside.ok()) return show(beside.reasons(), shared);
  std::vector<job::StageTime> times;
  job::Options options = options_of(shared);
  options.times = &times;
  const auto job = job::run(std::move(*loaded), extra, options);
  end_progress(shared);
  if (!job.ok()) return show(job.reasons(), shared);
#ifdef POMMEL_WITH_PAPER
  const auto papers = paper::papers(std::move(beside).value());
#else
  const std::unique_ptr<job::Papers> papers;
#endif
  const auto written = job::write_folder(*job, papers.get(), *shared.files, **folder, arguments.replace);
  if (!written.ok()) return show(written.reasons(), shared);
  const std::string said = shared.json ? job::job_json(*job) : job::summary(*job) + "\nThe job folder: " + arguments.into.generic_string() + "\n";
  if (arguments.times) std::fputs(times_text(times).c_str(), stderr);
  return print(said) ? kDone : kCannotWrite;
}

}  // namespace

void add_make(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("make", "make an order's job folder: solids, checked programs, cut list, quote");
  verb->add_option("ORDER", arguments->order, "an order's file")->required();
  verb->add_option("--into", arguments->into, "the folder to make; it appears whole or not at all")->required();
  CLI::Option* with = verb->add_option("--with", arguments->with, "another size for this run: name=value")->allow_extra_args(false);
#ifdef POMMEL_WITH_PAPER
  CLI::Option* beside = verb->add_option("--beside", arguments->beside, "also price the order at another size, for the cost sheet: 'table_height=790 mm; square=70 mm'")->allow_extra_args(false);
#endif
  verb->add_flag("--replace", arguments->replace, "replace the job folder if it is there");
  CLI::Option* unless_made = verb->add_flag("--unless-made", arguments->unless_made, "leave a job folder be that this version made from these very files, so that a run over many orders goes on where it was cut off");
  unless_made->excludes(with);
#ifdef POMMEL_WITH_PAPER
  unless_made->excludes(beside);
#endif
  verb->add_flag("--times", arguments->times, "say how long each stage took, on stderr");
  verb->add_flag("--json", shared.json, "print the results as JSON");
  verb->callback([&, arguments] { run = [&, arguments] { return make(*arguments, shared); }; });
}

}  // namespace pommel::cli
