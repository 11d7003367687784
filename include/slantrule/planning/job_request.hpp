#pragma once

/// A job as its writer put it: every entry with its candidates, origin and place in the text.
/// Nothing is looked up or assumed here; that is `resolve`.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slantrule/units/quantity.hpp"

namespace slantrule {

/// Where an entry stands.
struct Place {
  int line = 0;           ///< 1 is the first; 0: not from a file
  bool from_set = false;  ///< given by `--set` on the command line
};

/// How a value was come by.
enum class Origin : std::uint8_t {
  unstated,
  gauge,
  tape,
  calliper,
  drawing,
  plate,
  table,
  inventory,
  guess
};
std::string_view origin_name(Origin origin);
std::optional<Origin> origin_from_name(std::string_view name);

template <class T>
struct Option {
  T value;
  Origin from = Origin::unstated;
  std::string text;  ///< as written, for messages and candidate labels
};

/// A value; or several candidates (`one_of`), a range (`between`: two options), or `unknown`.
template <class T>
struct Entry {
  std::vector<Option<T>> options;
  bool between = false;
  bool unknown = false;
  Place place;

  bool given() const { return unknown || !options.empty(); }
  bool open() const { return unknown || options.size() > 1; }
};

using QuantityEntry = Entry<Reading>;
using NameEntry = Entry<std::string>;

struct TextEntry {
  std::optional<std::string> value;
  Place place;
};

/// One word of a fixed list; which words is said by the key's row.
struct ChoiceEntry {
  std::optional<std::string> value;
  Place place;
};

/// One or several words of a fixed list.
struct WordsEntry {
  std::vector<std::string> values;
  Place place;
  bool given() const { return !values.empty(); }
};

struct FlagEntry {
  std::optional<bool> value;
  Place place;
};

/// A count, or the word "best".
struct CountEntry {
  std::optional<int> value;
  bool best = false;
  Place place;
};

/// A bare number, for the few keys that have no unit.
struct NumberEntry {
  std::optional<double> value;
  Place place;
};

/// A list of objects; `given` tells an empty list from an absent one.
template <class T>
struct ListEntry {
  std::vector<T> items;
  bool given = false;
  Place place;
};

/// An object that may be left out.
template <class T>
struct ObjectEntry {
  std::optional<T> value;
  Place place;
};

struct AbsorptionRequest {
  QuantityEntry longitudinal, shear, at;
  NumberEntry power;
};

/// A catalogue or common name alone, or an inline material.
struct MaterialRequest {
  bool is_inline = false;
  TextEntry name;
  QuantityEntry longitudinal, shear, density, longitudinal_slope, shear_slope, at;
  ObjectEntry<AbsorptionRequest> absorption;
};

/// Liner or coating. `none`: stated to be absent.
struct LayerRequest {
  bool none = false;
  Entry<MaterialRequest> material;
  QuantityEntry thickness;
  ChoiceEntry under_sensors;  ///< coating only
};

/// One length, or readings of a thickness gauge.
struct WallRequest {
  std::vector<Reading> readings;
  QuantityEntry gauge_set_to;
  QuantityEntry through_paint;
};

struct PipeRequest {
  NameEntry size;
  QuantityEntry outside_diameter, girth, tape_thickness, across;
  Entry<WallRequest> wall;
  Entry<MaterialRequest> material;
  Entry<LayerRequest> liner, coating;
  FlagEntry over_coating;
  QuantityEntry roughness, deposit, wall_temperature;
  ChoiceEntry orientation;
  TextEntry seam;
};

struct FluidRequest {
  NameEntry name;
  QuantityEntry temperature, pressure, concentration;
  QuantityEntry sound_speed, density, viscosity;
  ObjectEntry<AbsorptionRequest> absorption;
  QuantityEntry gas, solids;
};

struct FlowRequest {
  QuantityEntry rate, velocity, least, most;
  ChoiceEntry direction;
  FlagEntry pulsating, can_stop;
};

struct WedgeRequest {
  QuantityEntry sound_speed, at, slope, angle, path, shear, density;
  ObjectEntry<AbsorptionRequest> absorption;
};

struct RangeRequest {
  std::optional<Reading> low, high;
  Place place;
};

struct SensorPairRequest {
  TextEntry key, about;
  FlagEntry invented;
  QuantityEntry frequency, element, element_width;
  ObjectEntry<WedgeRequest> wedge;
  QuantityEntry setback, nose, length;
  RangeRequest temperature, pipe_range;
  TextEntry mark;
  QuantityEntry delay;
  CountEntry cycles;
  QuantityEntry least_face_gap, time_resolution, zero_stability;
  TextEntry certified_for;
};

/// A catalogue key, or the pair itself.
struct SensorsEntry {
  std::optional<std::string> key;
  std::optional<SensorPairRequest> pair;
  Place place;
  bool given() const { return key.has_value() || pair.has_value(); }
};

struct MeterRequest {
  ChoiceEntry fluid_time;
};

struct PathRequest {
  CountEntry traverses;
  ChoiceEntry wall_mode, liner_mode, coating_mode;
};

struct FittingRequest {
  TextEntry fitting;
  QuantityEntry distance;
};

struct LocationRequest {
  TextEntry name;
  ChoiceEntry orientation;
  ListEntry<FittingRequest> upstream, downstream;
  QuantityEntry straight;
  TextEntry clock;
  WordsEntry surface, place;
  ChoiceEntry access, insulation;
  QuantityEntry clear_length;
  TextEntry hazardous_area;
  QuantityEntry height, ambient, wedge_temperature;
};

struct RailRequest {
  TextEntry name;
  QuantityEntry least, greatest;
  ChoiceEntry sides;
  QuantityEntry step;
};

struct StrapRequest {
  TextEntry name;
  QuantityEntry greatest_girth;
};

struct KitRequest {
  WordsEntry sensors;
  ListEntry<RailRequest> rails;
  ListEntry<StrapRequest> straps;
  WordsEntry couplants, gauges;
  QuantityEntry rail_length, rail_step;
};

struct PurposeRequest {
  QuantityEntry difference, reference;
};

struct AcceptRequest {
  TextEntry finding, because, by;
  QuantityEntry down_to;
};

struct JobRequest {
  TextEntry tag, title, site, prepared_by, note;
  PipeRequest pipe;
  FluidRequest fluid;
  FlowRequest flow;
  SensorsEntry sensors;
  MeterRequest meter;
  PathRequest path;
  LocationRequest location;
  TextEntry couplant;
  ObjectEntry<KitRequest> kit;
  ListEntry<LocationRequest> places;
  ObjectEntry<PurposeRequest> purpose;
  ListEntry<AcceptRequest> accept;
};

}  // namespace slantrule
