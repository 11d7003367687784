#pragma once

/// Absorption of ultrasound in liquids: the classical part from viscosity, and water's measured
/// one.
///
/// Sound of amplitude A loses alpha = -dA/(A dx) in Np/m, 8.686 times that in dB/m. In simple
/// liquids alpha grows with f^2; gas bubbles, solids and droplets, which often dominate real
/// losses, are not in these figures.
///
/// Functions throw std::invalid_argument for NaN and for arguments outside the stated range.

#include "slantrule/liquids/liquid_model.hpp"

namespace slantrule {

/// Shear part of the absorption (Stokes), in dB/m; all arguments above 0.
///
///     alpha_S = 2 pi^2 f^2 / (rho c^3) * (4/3) mu      Np/m
///
/// Exact for a liquid without bulk viscosity and heat conduction, which no liquid is.
double shear_absorption_dB_m(double density_kg_m3, double sound_speed_m_s, double viscosity_Pa_s,
                             double frequency_Hz);

/// K, by which the whole absorption exceeds the shear part.
inline constexpr double water_absorption_factor = 3.1;  ///< +-0.15 in water, 0 to 90 degC
inline constexpr double default_absorption_factor = 3;  ///< where nothing is known of a liquid
/// Standard uncertainty (relative) of the default: a factor of 2 either way, ln 2.
inline constexpr double default_absorption_relative_u = 0.7;

/// K times the shear part at 1 MHz, growing with f^2. `factor` above 0, `relative_u` >= 0.
Absorption stokes_absorption(double density_kg_m3, double sound_speed_m_s, double viscosity_Pa_s,
                             double factor, double relative_u);

/// Pinkerton's 1949 measurements of water, polynomial of degree 7, alpha/f^2 in Np s^2/m.
/// 0 to 60 degC; answered from -20 to 60.
double pinkerton_absorption_Np_s2_m(double temperature_degC);

/// Pure-water term of Francois and Garrison, J. Acoust. Soc. Am. 72, 1879 (1982), at 1 atm,
/// alpha/f^2 in Np s^2/m. 0 to 90 degC; 0.05 % of a step at 20 degC, where two cubics meet.
double francois_garrison_absorption_Np_s2_m(double temperature_degC);

/// Water's absorption in dB/m as planning uses it: Pinkerton's fit up to 40 degC, blended smoothly
/// by 60 degC into 3.1 times the shear part (at 0.1 MPa or saturation). 253.15 to 623.15 K.
/// Standard uncertainty, judged from Francois and Garrison: 3 % from 0 to 60 degC, 10 % to 100
/// degC, 30 % elsewhere.
double water_absorption_dB_m(double temperature_K, double frequency_Hz);

}  // namespace slantrule
