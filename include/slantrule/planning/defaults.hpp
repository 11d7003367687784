#pragma once

/// What stands where a job is silent, as numbers. The key table shows the same as text; a test
/// holds the two together.

namespace slantrule::defaults {

inline constexpr double zero_celsius_K = 273.15;
inline constexpr double ambient_K = 293.15;
/// +- 17 K as a limit (rectangular): 17 / sqrt(3).
inline constexpr double u_ambient_K = 9.814954576223638;
/// Temperature at which tabulated speeds of solids and wedges hold.
inline constexpr double solid_reference_K = 293.15;
/// Standard atmosphere.
inline constexpr double atmosphere_Pa = 101325;
/// Inner roughness where none is stated (from memory: commercial steel 0.045 mm, rounded up).
inline constexpr double metal_roughness_m = 0.05e-3;
/// Drawn tube and plastics (from memory: 0.0015 mm).
inline constexpr double smooth_roughness_m = 0.0015e-3;
/// Mortar and concrete (from memory: 0.3 to 3 mm).
inline constexpr double cement_roughness_m = 0.5e-3;
/// Standard uncertainty of a measured outside diameter, relative, where none is stated (judged).
inline constexpr double u_diameter = 1e-3;
/// Calibration of a thickness gauge in practised hands, relative, shared by all its readings
/// (judged).
inline constexpr double u_gauge = 0.01;
/// A pipe known by its designation or written dimensions, relative: +-1 % of the diameter (ASTM
/// A53) and -12.5 to +5 % of the wall (ASTM A530/A999; supplier summaries), taken as rectangular.
inline constexpr double u_mill_diameter = 0.0058;
inline constexpr double u_mill_wall = 0.05;
/// What thickness gauges are usually set to: carbon steel (common practice, no source).
inline constexpr double usual_gauge_setting_m_s = 5920;

}  // namespace slantrule::defaults
