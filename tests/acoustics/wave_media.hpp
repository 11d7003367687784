#pragma once

// Media of the independent computations that the wave tests compare with. Typical handbook numbers,
// from memory; lossless.

#include "slantrule/acoustics/sound_path.hpp"

namespace slantrule::wave_media {

inline constexpr AcousticMedium acrylic{
    .density_kg_m3 = 1180, .longitudinal_m_s = 2730, .shear_m_s = 1430};
inline constexpr AcousticMedium peek{
    .density_kg_m3 = 1300, .longitudinal_m_s = 2550, .shear_m_s = 1130};
inline constexpr AcousticMedium steel{
    .density_kg_m3 = 7850, .longitudinal_m_s = 5900, .shear_m_s = 3230};
inline constexpr AcousticMedium stainless{
    .density_kg_m3 = 8000, .longitudinal_m_s = 5740, .shear_m_s = 3090};
inline constexpr AcousticMedium copper{
    .density_kg_m3 = 8930, .longitudinal_m_s = 4700, .shear_m_s = 2260};
inline constexpr AcousticMedium pvc{
    .density_kg_m3 = 1400, .longitudinal_m_s = 2380, .shear_m_s = 1060};
inline constexpr AcousticMedium hdpe{
    .density_kg_m3 = 955, .longitudinal_m_s = 2430, .shear_m_s = 950};
inline constexpr AcousticMedium mortar{
    .density_kg_m3 = 2200, .longitudinal_m_s = 3700, .shear_m_s = 2200};
inline constexpr AcousticMedium water{.density_kg_m3 = 998.2, .longitudinal_m_s = 1482.3};
inline constexpr AcousticMedium couplant{.density_kg_m3 = 1100, .longitudinal_m_s = 1800};

}  // namespace slantrule::wave_media
