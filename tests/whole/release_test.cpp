// No proof, no program: a text that is not the proved one never leaves, and then nothing else does either.
#include <gtest/gtest.h>

#include <algorithm>

#include "whole/house.h"

namespace pommel::whole {
namespace {

using job::files_of, job::may_write, job::write_folder;

void the_proved_text_leaves(const job::Job& job) {
  MemoryFiles files;
  ASSERT_TRUE(write_folder(job, nullptr, files, "out/job", false).ok());
  EXPECT_EQ(files.files().at("out/job/programs/leg-turning.nc"), job.programs.front().front().text);
  // a second time it is refused, or replaced
  const auto before = files.files();
  const auto again = write_folder(job, nullptr, files, "out/job", false);
  ASSERT_FALSE(again.ok());
  EXPECT_EQ(again.reasons().front().id, "files.exists");
  EXPECT_TRUE(write_folder(job, nullptr, files, "out/job", true).ok());
  EXPECT_EQ(files.files(), before);
}

// Every digit matters: one in the head, one in the middle, one at the end.
void one_digit_changed_and_no_folder_appears(const job::Job& job) {
  for (double share : {0.0, 0.5, 0.97}) {
    job::Job changed = job;
    std::string& text = changed.programs.front().front().text;
    const std::size_t at = text.find_first_of("0123456789", static_cast<std::size_t>(share * static_cast<double>(text.size())));
    ASSERT_NE(at, text.npos);
    text[at] = text[at] == '9' ? '8' : static_cast<char>(text[at] + 1);
    const auto files = files_of(changed, nullptr);
    ASSERT_FALSE(files.ok());
    EXPECT_EQ(files.reasons().front().id, "proof.other-text");
    MemoryFiles disk;
    const auto written = write_folder(changed, nullptr, disk, "out/job", false);
    ASSERT_FALSE(written.ok());
    EXPECT_EQ(written.reasons().front().id, "proof.other-text");
    EXPECT_TRUE(disk.files().empty());
    EXPECT_FALSE(disk.exists("out/job"));
  }
}

// What cuts the joints is held to the same.
void nor_does_another_joints_program_leave(const job::Job& job) {
  ASSERT_FALSE(job.joint_programs.empty());
  ASSERT_FALSE(job.joint_programs.front().empty());
  job::Job changed = job;
  std::string& text = changed.joint_programs.front().front().text;
  const std::size_t at = text.find_first_of("123456789", text.size() / 2);
  text[at] = '0';
  const auto files = files_of(changed, nullptr);
  ASSERT_FALSE(files.ok());
  EXPECT_EQ(files.reasons().front().id, "proof.other-text");
}

void a_proof_that_found_a_fault_releases_nothing(const job::Job& job) {
  job::Job changed = job;
  proof::Finding fault;
  fault.id = "proof.gouge";
  changed.programs.front().front().proof.findings.push_back(fault);
  const auto files = files_of(changed, nullptr);
  ASSERT_FALSE(files.ok());
  EXPECT_EQ(files.reasons().front().id, "proof.not-passed");
}

// Copied to a disk where letters have no case, or where they are taken apart, one file would overwrite the other.
void names_that_are_one_file_somewhere_release_nothing(const job::Job& job) {
  struct Pair {
    std::string a, b;
  };
  for (const Pair& one : {Pair{"solids/LEG-turned.step", "solids/leg-turned.step"}, Pair{"solids/pi\u00E8ce.stl", "solids/pie\u0300ce.stl"}}) {
    job::Job more = job;
    for (const std::string& name : {one.a, one.b})
      if (std::none_of(more.solids.begin(), more.solids.end(), [&](const job::File& file) { return file.name == name; })) more.solids.push_back({name, "x"});
    MemoryFiles disk;
    const auto written = write_folder(more, nullptr, disk, "out/job", false);
    ASSERT_FALSE(written.ok());
    const auto [first, second] = std::minmax(one.a, one.b);
    EXPECT_EQ(written.reasons().front().message, "'" + first + "' and '" + second + "' are one file on some systems");
    EXPECT_EQ(written.reasons().front().id, "files.twice");
    EXPECT_TRUE(disk.files().empty());
  }
}

// A disk that fails at any write leaves no folder and no half of one.
void a_full_disk_leaves_nothing(const job::Job& job) {
  for (int writes = 0; writes < 50; ++writes) {
    MemoryFiles disk;
    disk.fail_writes_after(writes);
    const auto written = write_folder(job, nullptr, disk, "out/job", false);
    if (written.ok()) {
      EXPECT_GT(writes, 12);
      return;
    }
    EXPECT_EQ(written.reasons().front().id, "files.cannot-write") << writes;
    EXPECT_TRUE(disk.files().empty()) << writes;
  }
  FAIL() << "fifty writes are not enough";
}

// What is ours is replaced; what somebody put beside it is not.
void a_folder_with_other_files_is_not_replaced(const job::Job& job) {
  MemoryFiles disk;
  ASSERT_TRUE(write_folder(job, nullptr, disk, "out/job", false).ok());
  ASSERT_TRUE(disk.write("out/job/notes.txt", "mine").ok());
  const auto written = write_folder(job, nullptr, disk, "out/job", true);
  ASSERT_FALSE(written.ok());
  EXPECT_EQ(render(written.reasons()),
            "error: 'out/job' is not replaced: it holds 'notes.txt', which this tool did not write [job.not-ours]\n   do: move them out of it first\n");
  EXPECT_EQ(*disk.read("out/job/notes.txt"), "mine");

  MemoryFiles other;
  ASSERT_TRUE(other.make_folder("out/job").ok());
  for (const char* manifest : {"", "{}", "[1]", "{\"format\": \"pommel job folder\"}", "{\"format\": 7, \"files\": []}", "{\"files\": [{\"name\": \"a\"}]}"}) {
    ASSERT_TRUE(other.write("out/job/manifest.json", manifest).ok());
    const auto refused = may_write(other, "out/job", true);
    ASSERT_FALSE(refused.ok()) << manifest;
    EXPECT_EQ(refused.reasons().front().id, "job.not-ours") << manifest;
  }
}

// A run over many orders leaves a folder be only where making it again would write the same.
void made_before_is_by_this_version_from_these_files(const job::Job& job) {
  MemoryFiles disk;
  ASSERT_TRUE(write_folder(job, nullptr, disk, "out/job", false).ok());
  EXPECT_TRUE(made_before(disk, "out/job", job.loaded));
  job::Loaded edited = job.loaded;
  edited.inputs.front().sha256[0] ^= 1;
  EXPECT_FALSE(made_before(disk, "out/job", edited));
  const std::string manifest = *disk.read("out/job/manifest.json");
  const auto said = [&](const std::string& part, const std::string& instead) {
    std::string text = manifest;
    const std::size_t at = text.find(part);
    if (at == std::string::npos) return ADD_FAILURE() << part, false;
    EXPECT_TRUE(disk.write("out/job/manifest.json", text.replace(at, part.size(), instead)).ok());
    return made_before(disk, "out/job", job.loaded);
  };
  EXPECT_TRUE(said("\"version\"", "\"version\""));
  EXPECT_FALSE(said("\"version\": \"", "\"version\": \"9"));
  EXPECT_FALSE(said("\"version\"", "\"vision\""));
  EXPECT_FALSE(said("\"files\": [", "\"files\": [1, {\"name\": 1}, "));
  EXPECT_FALSE(said("cut-list.csv", "cut-list.txt"));
  EXPECT_TRUE(said("\"version\"", "\"version\""));
  // the same files with a size said beside them make another folder
  EXPECT_FALSE(said("\"entries\": {", "\"entries\": {\n    \"glide_height\": \"3 mm\","));
  EXPECT_FALSE(said("\"entries\"", "\"enters\""));
  EXPECT_FALSE(said("\"other_sizes_beside\": false", "\"other_sizes_beside\": true"));
  EXPECT_TRUE(said("\"version\"", "\"version\""));
  ASSERT_TRUE(disk.write("out/job/quote.txt", "less").ok());
  EXPECT_FALSE(made_before(disk, "out/job", job.loaded));
}

// One job for all of it: test runners start a process for each test.
TEST(Release, NoProofNoProgram) {
  const House house;
  const auto made = job::run(house.load("catalog/orders/low-table.yaml"), {}, {});
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  the_proved_text_leaves(*made);
  one_digit_changed_and_no_folder_appears(*made);
  nor_does_another_joints_program_leave(*made);
  a_proof_that_found_a_fault_releases_nothing(*made);
  names_that_are_one_file_somewhere_release_nothing(*made);
  a_full_disk_leaves_nothing(*made);
  made_before_is_by_this_version_from_these_files(*made);
  a_folder_with_other_files_is_not_replaced(*made);
}

}  // namespace
}  // namespace pommel::whole
