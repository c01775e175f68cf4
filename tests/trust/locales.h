// Locales of the system that are made where a test can write, for a machine that has none but its own.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <string>

#include <gtest/gtest.h>

namespace pommel::trust {

/// Makes `language` ("tr_TR") below `folder`, where LOCPATH finds it as "tr_TR.UTF-8". Without it a test must fail: a process that asks for a
/// locale that is not there goes on in its own without a word. The package `locales` has the sources.
inline ::testing::AssertionResult make_locale(const std::filesystem::path& folder, const std::string& language) {
  const std::string command = "localedef -i " + language + " -f UTF-8 '" + (folder / (language + ".UTF-8")).string() + "' >/dev/null 2>&1";
  if (std::system(command.c_str()) == 0) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << "the locale " << language << " cannot be made: localedef and the package `locales` are needed";
}

}  // namespace pommel::trust
