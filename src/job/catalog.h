// Questions to the catalog that need a design made: what would do at a size, what follows from it, what two designs differ in. Before
// the mill: milliseconds a design.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "job/column.h"

namespace pommel::job {

/// A design tried as a catalog question asks.
struct Trial {
  std::string id;                     ///< as it was asked for
  designs::Card card;
  family::Design design;
  std::optional<sheet::Sheet> sheet;  ///< with what follows where it could be made
  std::size_t column = 0;             ///< the one that was asked for
  std::optional<Column> made;
  std::vector<Diagnostic> problems;   ///< why it cannot be made so
  std::vector<Diagnostic> warnings;   ///< beyond its proven range, checks that warn, joints
  std::string would_do;               ///< "square=46 mm", where it fails for the stock's thickness and would do with a thinner square
  bool does() const { return made.has_value() && problems.empty(); }
};

/// Tries designs of one house with the shop read once.
class CatalogTrials {
 public:
  /// Fails with the shop's problems.
  static Result<CatalogTrials> open(const FileSystem& files, const designs::House& house);

  /// `asked`: "--with" entries; those that name no measure of the design's family make it unfit ("sheet.unknown-name").
  /// `worth`, when given, is asked of a design that does, before its boards are planned, which is more than half of the time. Where it says no, and
  /// of a design that does not do, what hangs on the plan has no value.
  using Worth = std::function<bool(const Trial&)>;
  Trial run(const std::string& id, const std::vector<std::pair<std::string, sheet::Entry>>& asked, const Worth& worth = {}) const;

 private:
  CatalogTrials(const FileSystem& files, designs::House house, shop::Shop shop) : files_(&files), house_(std::move(house)), shop_(std::move(shop)) {}
  Trial once(const std::string& id, const std::vector<std::pair<std::string, sheet::Entry>>& asked, const Worth& worth) const;

  const FileSystem* files_;
  designs::House house_;
  shop::Shop shop_;
  std::shared_ptr<designs::Templates> templates_ = std::make_shared<designs::Templates>();  // of copies, too
};

/// "thinnest_diameter >= 28 mm": a measure or something that follows, a comparison (<, <=, =, >=, >), a size.
struct Condition {
  std::string name, comparison, size;
};
/// Fails with "catalog.condition".
Result<Condition> read_condition(const std::string& text);
/// Whether it holds of a trial; nothing where the design has no such measure. Fails with "catalog.condition" where the size is not of its kind.
Result<std::optional<bool>> holds(const Condition& condition, const Trial& trial);

/// What the trial has of a measure or of what follows, for reading; "-" when it has no such thing.
std::string shown(const Trial& trial, const std::string& name);
/// Names of all measures and of what follows, of both, in their order; only those that differ.
std::vector<std::string> differing(const Trial& a, const Trial& b);

/// What two trials differ in, measures first, then what follows, in three columns; then their warnings.
std::string compared(const Trial& a, const std::string& head_a, const Trial& b, const std::string& head_b);

}  // namespace pommel::job
