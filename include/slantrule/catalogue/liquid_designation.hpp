#pragma once

/// Liquids as people write them.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/catalogue/catalogue.hpp"

namespace slantrule {

/// What a strength is a share of.
enum class StrengthBasis : std::uint8_t { none, mass, volume };

/// What a text says of the liquid in the pipe.
struct LiquidReading {
  enum class Kind : std::uint8_t {
    understood,    ///< `record` is the liquid; a solution may still lack its strength
    ambiguous,     ///< several things are called so: `readings` says which
    out_of_scope,  ///< a gas, a slurry, a two-phase flow: nothing to be planned
    not_understood
  };
  Kind kind = Kind::not_understood;

  /// The liquid; also for `ambiguous` where the liquid is clear and only the basis of its strength,
  /// or whether it is kept liquid, has to be asked. Else null. Valid until a row is added.
  const LiquidRecord* record = nullptr;
  /// The API gravity of a `crude_oil`, the ISO viscosity grade of a `hydraulic_oil`, as written;
  /// absent: not stated, and to be asked for.
  std::optional<double> parameter;
  /// Strengths as fractions above 0 and below 1: none stated, one, or the ends of a range, lower
  /// first, which are both to be planned. Practical salinity S counts as S g/kg.
  std::vector<double> strengths;
  StrengthBasis basis = StrengthBasis::none;  ///< none as long as it has to be asked for

  /// For all but `understood`: what the text could mean, each as one would write it. May be empty.
  std::vector<std::string> readings;
  /// For all but `understood`: one line that says what is wrong and how to write it.
  std::string message;
};

/// Reads a liquid: a key or common name of the catalogue, with a strength ("35 % mass MEG", "40/60
/// MEG/water", "sea water 35 g/kg"), an API gravity ("crude oil 32 API") or a viscosity grade
/// ("hydraulic oil VG 46") where it takes one. Case, accents, blanks, hyphens and brackets do not
/// matter; decimal commas are read.
///
/// Nothing is guessed. `ambiguous` are: a name with several meanings ("glycol"), a per cent that
/// says neither mass nor volume, a glycol that may be pure or mixed with water, a gas that may be
/// kept liquid ("CO2"); but a key in its own spelling is its row ("ethylene_glycol" is pure,
/// "propane" liquid). The text of a user's key is that row, whatever else it may say. Words
/// that are not known make the text `not_understood`, as do shares that do not add up to 100 %,
/// mixtures of two liquids, and more than 200 bytes. Takes any bytes, in time linear in their
/// number.
LiquidReading read_liquid(std::string_view text, const Catalogue& catalogue);

/// The row of what `liquid` makes with water (ethanol: ethanol and water), or null.
const LiquidRecord* in_water(const LiquidRecord& liquid, const Catalogue& catalogue);

}  // namespace slantrule
