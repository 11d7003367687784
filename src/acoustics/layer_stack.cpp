#include "slantrule/acoustics/layer_stack.hpp"

#include <algorithm>
#include <numbers>
#include <stdexcept>

#include "small_complex.hpp"

namespace slantrule {

using namespace detail;

namespace {

/// E m E
Coefficients there_and_back(const LayerPhase& phase, const Coefficients& m) {
  const Complex mixed = times(phase[0], phase[1]);
  return {{times(times(phase[0], phase[0]), m.value[0]), times(mixed, m.value[1]),
           times(mixed, m.value[2]), times(times(phase[1], phase[1]), m.value[3])}};
}

/// (1 - a b)^-1: the sum of all rounds between two reflectors.
Coefficients rounds(const Coefficients& a, const Coefficients& b) {
  Coefficients one_less = product(a, b);
  for (Complex& value : one_less.value) value = -value;
  one_less.value[0] += 1.0;
  one_less.value[3] += 1.0;
  return inverse(one_less);
}

/// Reflection and transmission of one side of a joined pair.
struct Side {
  Coefficients reflection;
  Coefficients transmission;
};

/// For a wave that meets the near interface first.
Side join_side(const Coefficients& near_reflection, const Coefficients& near_back,
               const Coefficients& near_in, const Coefficients& near_out,
               const Coefficients& far_reflection, const Coefficients& far_in,
               const LayerPhase& between) {
  const Coefficients returned = there_and_back(between, far_reflection);
  const Coefficients within = product(rounds(near_back, returned), near_in);
  const Coefficients arriving{
      {times(between[0], within.value[0]), times(between[0], within.value[1]),
       times(between[1], within.value[2]), times(between[1], within.value[3])}};
  return {sum(near_reflection, product(near_out, product(returned, within))),
          product(far_in, arriving)};
}

WaveMedium with_least_loss(WaveMedium medium, double quality) {
  if (medium.liquid) return medium;
  for (Complex* slowness : {&medium.longitudinal_s_m, &medium.shear_s_m}) {
    slowness->imag(std::max(slowness->imag(), slowness->real() / (2 * quality)));
  }
  return medium;
}

}  // namespace

StackMedia stack_media(const SoundPath& path, double frequency_Hz, double quality) {
  if (path.layer_count == 0) {
    throw std::invalid_argument("the path has no wall between wedge and liquid");
  }
  const auto at_frequency = [&](const AcousticMedium& medium) {
    return with_least_loss(wave_medium(medium, frequency_Hz), quality);
  };
  StackMedia media;
  media.wedge = at_frequency(path.wedge);
  if (path.couplant && path.couplant->thickness_m > 0) {
    media.film = at_frequency(path.couplant->medium);
    media.film_thickness_m = path.couplant->thickness_m;
  }
  media.layer_count = path.layer_count;
  for (std::size_t i = 0; i < path.layer_count; ++i) {
    media.layers[i] = at_frequency(path.layers[i].medium);
    media.thickness_m[i] = path.layers[i].thickness_m;
  }
  media.liquid = at_frequency(path.liquid);
  return media;
}

StackInterfaces stack_interfaces(const StackMedia& media, double p) {
  StackInterfaces stack;
  stack.layer_count = media.layer_count;
  stack.has_film = media.film_thickness_m > 0;
  const PartialWaves wedge = partial_waves(media.wedge, p);
  PartialWaves upper = partial_waves(media.layers[0], p);
  stack.bare_face = free_face(upper);
  if (stack.has_film) {
    const PartialWaves film = partial_waves(media.film, p);
    stack.entry = shear_free_contact(wedge, film);
    stack.below_film = shear_free_contact(film, upper);
  } else {
    stack.entry = shear_free_contact(wedge, upper);
  }
  for (std::size_t i = 0; i < media.layer_count; ++i) {
    const bool last = i + 1 == media.layer_count;
    const PartialWaves lower = partial_waves(last ? media.liquid : media.layers[i + 1], p);
    stack.below[i] = welded_contact(upper, lower);
    upper = lower;
  }
  return stack;
}

LayerPhase layer_phase(const WaveMedium& medium, double thickness_m, double p,
                       double frequency_Hz) {
  const double scale = 2 * std::numbers::pi * frequency_Hz * thickness_m;
  LayerPhase phase{};
  phase[0] = phasor(scale * vertical_slowness_s_m(medium.longitudinal_s_m, p));
  if (!medium.liquid) phase[1] = phasor(scale * vertical_slowness_s_m(medium.shear_s_m, p));
  return phase;
}

StackPhases stack_phases(const StackMedia& media, double p, double frequency_Hz) {
  StackPhases phases;
  if (media.film_thickness_m > 0) {
    phases.film = layer_phase(media.film, media.film_thickness_m, p, frequency_Hz);
  }
  for (std::size_t i = 0; i < media.layer_count; ++i) {
    phases.layers[i] = layer_phase(media.layers[i], media.thickness_m[i], p, frequency_Hz);
  }
  return phases;
}

Interface join(const Interface& above, const LayerPhase& between, const Interface& below) {
  const Side from_above =
      join_side(above.reflection_above, above.reflection_below, above.transmission_down,
                above.transmission_up, below.reflection_above, below.transmission_down, between);
  const Side from_below =
      join_side(below.reflection_below, below.reflection_above, below.transmission_up,
                below.transmission_down, above.reflection_below, above.transmission_up, between);
  return {above.upper_channels,    below.lower_channels,    from_above.reflection,
          from_above.transmission, from_below.transmission, from_below.reflection};
}

Interface entry_contact(const StackInterfaces& stack, const LayerPhase& film) {
  return stack.has_film ? join(stack.entry, film, stack.below_film) : stack.entry;
}

Complex transmission(const StackInterfaces& stack, const StackPhases& phases,
                     OuterFace outer_face) {
  // Climb from the liquid: what lies below reflects `reflected` and sends the row `into_liquid` on.
  const Interface& last = stack.below[stack.layer_count - 1];
  Coefficients reflected = last.reflection_above;
  std::array<Complex, 2> into_liquid{last.transmission_down.value[0],
                                     last.transmission_down.value[1]};
  for (std::size_t i = stack.layer_count - 1; i > 0; --i) {
    const LayerPhase& phase = phases.layers[i];
    const Interface& face = stack.below[i - 1];
    reflected = there_and_back(phase, reflected);
    const Coefficients entering =
        product(rounds(face.reflection_below, reflected), face.transmission_down);
    const Complex first = times(into_liquid[0], phase[0]), second = times(into_liquid[1], phase[1]);
    into_liquid = {times(first, entering.value[0]) + times(second, entering.value[2]),
                   times(first, entering.value[1]) + times(second, entering.value[3])};
    reflected =
        sum(face.reflection_above, product(face.transmission_up, product(reflected, entering)));
  }
  const Interface entry = entry_contact(stack, phases.film);
  const LayerPhase& phase = phases.layers[0];
  const Coefficients all_rounds =
      rounds(outer_face == OuterFace::air ? stack.bare_face : entry.reflection_below,
             there_and_back(phase, reflected));
  const Complex in_L = entry.transmission_down.value[0], in_S = entry.transmission_down.value[2];
  const Complex running_L = times(all_rounds.value[0], in_L) + times(all_rounds.value[1], in_S);
  const Complex running_S = times(all_rounds.value[2], in_L) + times(all_rounds.value[3], in_S);
  return times(times(into_liquid[0], phase[0]), running_L) +
         times(times(into_liquid[1], phase[1]), running_S);
}

Complex bounce(const StackInterfaces& stack, const StackPhases& phases) {
  Coefficients reflected = stack.bare_face;
  for (std::size_t i = 0; i < stack.layer_count; ++i) {
    const Interface& face = stack.below[i];
    reflected = there_and_back(phases.layers[i], reflected);
    const Coefficients entering =
        product(rounds(face.reflection_above, reflected), face.transmission_up);
    reflected =
        sum(face.reflection_below, product(face.transmission_down, product(reflected, entering)));
  }
  return reflected.value[0];
}

}  // namespace slantrule
