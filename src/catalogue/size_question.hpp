#pragma once

/// What is asked of the tables: a designation's parts, the material, and what its size can mean.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "size_families.hpp"
#include "size_parts.hpp"

namespace slantrule {

/// Standards round one diameter differently (NPS 10: 273 and 273.1 mm); up to here it is one size.
inline constexpr double same_diameter_mm = 0.15;
/// Walls that differ only by rounding between millimetres and thousandths of an inch.
inline constexpr double same_wall_mm = 0.02;
/// No pipe is larger: the tables end near 2.1 m (judged).
inline constexpr double largest_mm = 6000;

/// A length in mm as it is shown: six digits.
std::string millimetres(double length_mm);

/// One way to take a size.
struct Meaning {
  SystemSize size;
  LengthUnit unit = LengthUnit::none;  ///< of an outside diameter, as written or supplied
};

/// An outside diameter that a size can have.
struct Diameter {
  double outside_mm = 0;
  const PipeRecord* row = nullptr;  ///< a row of the size; null for a plain diameter
  std::string text;                 ///< "NPS 4", "OD 4 in"
  LengthUnit unit = LengthUnit::none;
};

/// Copied and changed to ask what a text would mean with one thing different.
class SizeQuestion {
 public:
  /// `text` and `tables` must outlive the question.
  SizeQuestion(std::string_view text, SizeParts text_parts, std::string_view material_family,
               const PipeTables& pipe_tables);

  std::string_view written;
  SizeParts parts;
  const PipeTables& tables;
  Material given;                          ///< as the caller states it
  Material material;                       ///< that, else what the words or the standard say
  std::optional<Standard> named_standard;  ///< named in the text

  Family family() const { return material.family; }
  bool is_plastic() const;
  DiameterSeries series() const;
  bool has_ratio() const;

  std::string quoted() const;
  /// " of PVC pipe", or empty.
  std::string of_material() const;
  /// What the words say of the material; "steel" takes its kind from what was stated.
  std::string_view said_material() const;

  /// All ways to take a size, the likeliest first.
  std::vector<Meaning> meanings(const WrittenSize& size) const;
  /// The standards in which `meaning` is looked up for walls named like `label`.
  StandardList standards(LabelKind label, const Meaning& meaning) const;
  /// The outside diameters that a size can have, each once.
  std::vector<Diameter> diameters(const WrittenSize& size) const;
  PipeTables::Rows rows_for(Standard standard, const WrittenSize& size,
                            const Meaning& meaning) const;
  /// The rows of a size whose wall goes by a name, each pair of dimensions once.
  PipeTables::Rows rows_labelled(const WrittenSize& size, const WrittenLabel& label) const;

  /// Copper and polyethylene in millimetres go by their outside diameter.
  bool is_metric_outside(double mm) const;
  /// Whether the tables have a number as an outside diameter in mm, to half its last digit; small
  /// whole numbers exactly, as they are copper and plastic pipe.
  bool is_metric_table_outside(const WrittenLength& length) const;
  /// A nominal size in inches, with its standard where the material does not imply that.
  std::string nps_text(const PipeRecord& row) const;

 private:
  void use_material();
  void sort_labels();
  bool inches_are_nominal() const;
  bool is_inch_outside(double inch) const;
  std::vector<Meaning> inch_meanings(const WrittenSize& size) const;
  std::vector<Meaning> bare_meanings(const WrittenSize& size) const;
  std::vector<Diameter> unsaid_materials(double dn) const;
  std::string size_name(const PipeRecord& row, const Meaning& meaning) const;
};

/// An outside diameter as it would be written.
Diameter plain_diameter(const WrittenSize& size, const Meaning& meaning);

/// Whole inches or a fraction, as nominal sizes are written.
bool is_whole_inches(const WrittenSize& size);

/// How far a written diameter may lie off a row's: standards round one size by up to 0.07 %, and
/// people to the last digit they write, unless that is a whole inch.
double outside_tolerance_mm(const WrittenLength& length);

/// Whether two rows are the same for a reader: dimensions up to rounding, and kind of material.
bool same_dimensions(const PipeRecord& a, const PipeRecord& b);

}  // namespace slantrule
