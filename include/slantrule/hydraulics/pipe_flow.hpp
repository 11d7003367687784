#pragma once

/// Flow in a full round pipe: Reynolds number, friction, and the profile factor that turns the
/// velocity along a diametral path into the mean velocity over the bore.
///
/// Holds for a single-phase Newtonian liquid in a full pipe, profile fully developed, no swirl.
/// All functions throw std::invalid_argument for NaN, infinity and arguments out of range.

#include <cstdint>

namespace slantrule {

/// Laminar below 2000, transition to 4000 inclusive, turbulent above (metrology practice; see
/// profile_factor for what each means).
enum class FlowRegime : std::uint8_t { laminar, transition, turbulent };

/// Re = |v| D / nu. All arguments finite; bore and viscosity > 0.
struct ReynoldsInputs {
  double velocity_m_s;  ///< its sign does not matter
  double bore_m;
  double kinematic_viscosity_m2_s;
};
double reynolds_number(const ReynoldsInputs& in);

/// reynolds >= 0.
FlowRegime flow_regime(double reynolds);

/// Darcy friction factor: 64/Re when laminar (Re < 2000), the root of the Colebrook equation above.
///
///     1/sqrt(f) = -2 log10( (e/D)/3.7 + 2.51/(Re sqrt f) )
///
/// reynolds > 0; relative_roughness e/D in [0, 0.1]. Solved to rounding. In transition the flow is
/// unsettled, and so is its friction: there the turbulent value is given, the higher one.
double darcy_friction_factor(double reynolds, double relative_roughness);

/// Mean velocity over the bore divided by the mean velocity along a full diameter.
struct ProfileFactor {
  double value;      ///< laminar 3/4; turbulent 1/(1 + 1.25 sqrt(f/8)); in transition the middle
  double low, high;  ///< honest band (about +- 2 u) within which it lies
  double u;          ///< standard uncertainty
};

/// reynolds >= 0; relative_roughness e/D in [0, 0.1].
///
/// Laminar: 3/4 is exact for the parabola. That needs laminar_development_length_D behind the last
/// disturbance and one temperature across the bore; u = 0.5 % is judged for such flow only.
///
/// Transition: from 3/4 to the turbulent value at Re 4000, and it may switch with time. The middle
/// stands for the band, u = half-width/sqrt(3) (rectangular, JCGM 100:2008 4.3.7); no flow should
/// be stated without the band.
///
/// Turbulent: with a logarithmic profile u/u* = ln(y)/kappa + ..., kappa = 0.4, the mean over the
/// area is 3.75 u* and the mean over a diameter 2.5 u* below the centre, and u* = V sqrt(f/8): so
/// v/V = 1 + 1.25 sqrt(f/8) (derived). The velocity-defect law holds for rough and smooth walls
/// alike (Mechanical Engineers' Handbook vol. 4, viscous flow in ducts).
/// u = 0.5 % from Re 10 000 up: published kappa from 0.384 to 0.42 (arXiv 1702.03661) move the
/// factor by 0.25 %, and the log10 formula and the power law with n = 1/sqrt(f) lie up to 0.95 %
/// away. u = 1 % below, where the three spread over 1.9 %.
ProfileFactor profile_factor(double reynolds, double relative_roughness);

/// The smooth-pipe formula K = 1/(1.119 - 0.011 log10 Re), kept as a cross-check (constants from
/// memory, attributed to Kritz 1955 and Lynnworth 1989; never used for a plan). Turbulent flow:
/// reynolds >= 4000; within 0.53 % of profile_factor from 1e4 to 1e7. The logarithm is to base 10:
/// with the natural one, seen in print, K passes 1.
double profile_factor_log10(double reynolds);

/// Length of straight pipe, in bores, after which a laminar profile is developed: 0.06 Re
/// (from memory). reynolds in [0, 2000].
double laminar_development_length_D(double reynolds);

}  // namespace slantrule
