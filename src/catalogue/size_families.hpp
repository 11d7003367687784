#pragma once

/// Which pipe standards a size can mean, and their rows.

#include <array>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "size_words.hpp"
#include "slantrule/catalogue/records.hpp"

namespace slantrule {

/// The standards of the built-in tables, in the order of their names.
enum class Standard : std::uint8_t {
  asme_b36_10,
  asme_b36_19,
  astm_b42,
  astm_b466,
  astm_b88,
  astm_d1785,
  astm_d2241,
  astm_f441,
  astm_f714,
  awwa_c151,
  awwa_c900,
  awwa_c905,
  en_10220,
  en_10255,
  en_1057,
  en_545,
  iso_2531,
  iso_4427,
  jis_g3452,
  jis_g3454
};
inline constexpr std::size_t standard_count = 20;

std::string_view standard_name(Standard standard);
std::optional<Standard> find_standard(std::string_view name);
Family standard_family(Standard standard);

/// Whether pipe of this family is made to the standard: steel dimensions are used for both kinds of
/// steel and for metals outside the tables.
bool may_be_made_to(Standard standard, Family family);

/// How sizes are counted.
enum class SizeSystem : std::uint8_t {
  inch,      ///< NPS and its like
  dn,        ///< nominal, mm
  japanese,  ///< "65A"
  outside    ///< outside diameter in mm
};
SizeSystem standard_system(Standard standard);

/// A size in one of the systems.
struct SystemSize {
  SizeSystem system = SizeSystem::inch;
  double number = 0;
};

/// The NPS that goes with a DN and the other way round (ASME B36.10M); 0 where there is none.
double inch_of_dn(double dn);
int dn_of_inch(double inch);

/// A few standards, the likeliest first.
class StandardList {
 public:
  constexpr StandardList(std::initializer_list<Standard> standards) {
    for (Standard standard : standards) standards_[count_++] = standard;
  }
  const Standard* begin() const { return standards_.data(); }
  const Standard* end() const { return standards_.data() + count_; }
  bool empty() const { return count_ == 0; }
  bool contains(Standard standard) const;

 private:
  std::array<Standard, 4> standards_{};
  std::size_t count_ = 0;
};

/// Whose outside diameters a plastic pipe has, where the text says it.
enum class DiameterSeries : std::uint8_t { not_said, iron_pipe, cast_iron };

/// The standards in which a pipe of this family has walls named like this (`none`: no wall is
/// named), for sizes of this system.
StandardList standards_for(Family family, LabelKind label, SizeSystem system,
                           DiameterSeries series);

/// Rows of the built-in tables with a user's before them.
class PipeTables {
 public:
  explicit PipeTables(std::span<const PipeRecord> user_rows) : user_rows_(user_rows) {}

  using Rows = std::vector<const PipeRecord*>;

  /// The rows of one size, by wall; a size of another system is converted where that is usual.
  Rows rows_of(Standard standard, SystemSize size) const;
  /// The rows with this outside diameter.
  Rows rows_with_outside(Standard standard, double outside_mm, double tolerance_mm) const;
  /// A row with this outside diameter, of a standard for the family (any for `unknown`, `steel` and
  /// `other`); null where there is none. For plastics metric sizes count as well.
  const PipeRecord* standard_outside(Family family, double outside_mm, double tolerance_mm) const;
  /// Rows of the nearest sizes below and above, and of the same size where only its name is
  /// unusual.
  Rows neighbours(Standard standard, SystemSize size) const;

  std::span<const PipeRecord> user_rows() const { return user_rows_; }

 private:
  Rows gather(Standard standard, double from, double to, double (*key)(const PipeRecord&)) const;

  std::span<const PipeRecord> user_rows_;
};

/// Whether both are the same pipe, so that a user's row stands instead of the built-in one.
bool same_pipe(const PipeRecord& a, const PipeRecord& b);

/// The number in a designation: 1.5 for "NPS 1-1/2", 65 for "65A", 168.3 for "168.3".
double designation_number(std::string_view designation);

/// The metric outside diameter that plastic pipe of a nominal size has: the next above it of the
/// series of ISO 4427 (DN 100: 110 mm); 0 where there is none.
double metric_plastic_outside_mm(double dn);

/// Whether a row's wall goes by this name. Dimension ratios that standards round differently count
/// as one (7.3 and 7.4, 13.5 and 13.6, 32.5 and 33).
bool has_label(const PipeRecord& row, LabelKind kind, std::string_view label);

/// A size of a standard as one would write it, without its wall: "NPS 6", "EN 545 DN 200".
std::string nominal_text(const PipeRecord& row);

}  // namespace slantrule
