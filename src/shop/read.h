// Readers of the shop's files: machines, cutters, woods, boards, rates. Each reports all its problems to the sink and returns
// what could be read; use it only when the sink has no errors.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "base/files.h"
#include "shop/shop.h"

namespace pommel::shop {

void read_machines(std::string_view text, const std::string& file, Shop& into, Sink& sink);
void read_cutters(std::string_view text, const std::string& file, Shop& into, Sink& sink);
void read_woods(std::string_view text, const std::string& file, Shop& into, Sink& sink);
/// Woods must have been read before: a board of an unknown wood is an error.
void read_boards(std::string_view text, const std::string& file, Shop& into, Sink& sink);
void read_rates(std::string_view text, const std::string& file, Shop& into, Sink& sink);

/// machines.yaml, cutters.yaml, woods.yaml, boards.yaml and rates.yaml of a folder; all must be there. `seen` is called with
/// each file's path and text, for the manifest.
Shop read_shop(const FileSystem& files, const std::filesystem::path& folder, Sink& sink,
               const std::function<void(const std::filesystem::path&, const std::string&)>& seen);

}  // namespace pommel::shop
