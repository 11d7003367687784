#pragma once

/// The words that people write in a pipe size, and what each of them says.

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace slantrule {

/// What a pipe is made of, as far as it decides between standards.
enum class Family : std::uint8_t {
  unknown,
  steel,  ///< carbon or stainless, not said which
  carbon_steel,
  stainless,
  copper,
  copper_nickel,
  pvc,
  cpvc,
  pe,
  ductile_iron,
  other  ///< a material whose pipes are not in the tables
};

struct Material {
  Family family = Family::unknown;
  std::string_view name = {};  ///< "carbon steel", "PVC"; for `other` whatever it is called
};

/// Grey iron, as Material::name has it: its diameters and walls are in no table.
inline constexpr std::string_view grey_iron = "cast iron";

/// As pipe_family names it ("carbon steel"); empty for `unknown` and `other`.
std::string_view family_name(Family family);

/// The family of a material by any name: "PVC", "stainless steel", "pvc_u", "my own steel".
/// The name of one outside the tables is `text` itself, or what `text` begins with ("cast iron" for
/// "cast_iron_gray").
Material material_of(std::string_view text);

/// What a word does in a size.
enum class WordKind : std::uint8_t {
  inch,
  millimetre,
  centimetre,
  metre,
  foot,
  nps,               ///< an inch number beside it is nominal
  dn,                ///< a millimetre number behind it is nominal
  dn_or_outside,     ///< Cyrillic "Дн": nominal in lists, outside diameter in drawings
  nominal,           ///< "NB", "nom.": the number beside it is nominal, its unit open
  outside,           ///< the number beside it is an outside diameter
  inside,            ///< or an inside diameter
  size,              ///< "size 2" of copper tube
  wall,              ///< the number beside it is a wall
  wall_if_equals,    ///< "t = 7.1": a wall only before an equals sign
  length,            ///< the number beside it is a length
  times,             ///< "x"
  or_else,           ///< "was", "or": the next number stands instead of the last
  schedule,          ///< a schedule follows
  s_schedule,        ///< "S40"
  label,             ///< a wall by name: "STD", "type L", "K9"
  ratio,             ///< a dimension ratio follows
  pressure_class,    ///< "class": pressure class of ductile iron, or class of a flange
  thickness_class,   ///< a thickness class of ductile iron follows
  nominal_pressure,  ///< "PN"
  pounds,            ///< "150 lb": class of a flange
  taper_thread,      ///< "NPT": the inches beside it are nominal
  pipe_thread,       ///< "BSP"
  thread_letter,     ///< "G 1/2"
  iron_pipe_sizes,   ///< outside diameters of NPS
  cast_iron_sizes,   ///< outside diameters of cast and ductile iron, for plastic pipe
  copper_sizes,      ///< outside diameters of copper tube, for plastic pipe
  tube,              ///< named by its outside diameter
  pipe,              ///< named by its nominal size
  material,
  grade,      ///< says the material, and is otherwise no part of the size: "A106", "316L"
  grade_of,   ///< "Gr.": what follows is a grade
  standard,   ///< of the tables; the value is its name
  authority,  ///< "ASTM": belongs to what follows
  aside,      ///< no part of the size: "SMLS"
  gauge,      ///< "ga", "BWG": a wall gauge, behind its number or before it
  doubt,      ///< "approx"
  missing     ///< "unknown", "TBD"
};

/// How a wall is named, for WordKind::label.
enum class LabelKind : std::uint8_t {
  none,
  schedule,            ///< "40"
  stainless_schedule,  ///< "40S"
  weight,              ///< "STD", "XS", "XXS"
  threaded_weight,     ///< "medium", "heavy" of EN 10255
  copper_type,         ///< "type L"
  copper_weight,       ///< "regular", "special 1"
  ratio,               ///< "11" of SDR 11
  pressure_class,      ///< "class 350" of AWWA C151
  thickness_class,     ///< of ductile iron, not in the tables
  k_class,             ///< "K9" of ISO 2531
  c_class              ///< "C40" of EN 545
};

struct Word {
  std::string_view text = {};
  WordKind kind = WordKind::aside;
  std::string_view value = {};  ///< of labels, standards and materials
  LabelKind label = LabelKind::none;
  Family family = Family::unknown;
};

/// A word by its letters and digits in lower case, without what stands between the parts of a
/// longer name ("stdwt", "en10255", "ductileiron"); null when it is not known.
const Word* find_word(std::string_view text);

inline constexpr std::size_t longest_word = 24;

}  // namespace slantrule
