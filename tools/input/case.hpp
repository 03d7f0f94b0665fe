#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/faults.hpp"
#include "geometry/wall/wall.hpp"
#include "materials/library.hpp"
#include "solver/forecast.hpp"
#include "solver/results/camera.hpp"
#include "tools/input/input_error.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

/// A number from outside coldbay that a result of this case must meet.
struct PublishedValue {
  std::string what;     ///< "probe A", "u_value", "heat_flow", "air_flow", "inside_surface_min",
                        ///< "temperature_factor", ...
  std::string key;      ///< of result.json: "u_value_W_per_m2K"; "probes_C" for a probe
  std::string probe;    ///< its name, where it is one
  double value = 0.0;   ///< in the unit of the key
  double within = 0.0;  ///< in the unit of the key
  std::string unit;
  std::string because;  ///< why this tolerance
  std::string source;
};

/// A bay with stuffed scraps, as one section shows it, by itself: with its posts and nothing beside it,
/// stuffed seed by seed, its own seed first, and built right.
struct Stuffings {
  std::size_t section = 0;  ///< index into Case::sections
  std::string bay;          ///< "bay 7"
  std::vector<Section> stuffed;
  Section right;
};

/// How much bad filling the reader allows, as shares of the insulated area.
struct FillingLimits {
  std::optional<double> nothing, incomplete, compressed;
};

/// What the reader wants to see in the pictures. Empty is: as the program finds best.
struct PictureWishes {
  struct Spot {
    std::string name;
    FacePoint at;
  };
  struct Line {
    std::string name;
    FacePoint from, to;
  };
  struct Threshold {
    std::string name;
    double celsius = 0.0;
  };
  std::optional<double> level;        ///< middle of the temperature scale [degC]
  std::optional<double> span;         ///< its whole width [K]
  std::vector<Spot> spots;            ///< to be read, on the face of the wall
  std::vector<Line> lines;            ///< to be read along
  std::vector<Threshold> thresholds;  ///< to be drawn as isotherms
};

/// What a year of heating is at the reader's place, and what he pays for heat. Never invented: where the case
/// does not say it, no energy or money is told.
struct HeatingSeason {
  /// What a joule of what he buys costs, and how it is written.
  struct Price {
    double per_joule = 0.0;
    std::string currency;           ///< "$", "EUR"
    bool currency_first = false;    ///< "$12" rather than "12 EUR"
    double energy_unit = 3.6e6;     ///< the price is for so much [J]
    std::string energy_name, text;  ///< "kWh"; the price as written
  };
  double degree_seconds = 0.0;       ///< his degree days [K s]
  std::string degree_days;           ///< as written
  std::optional<Price> price;        ///< empty: energy alone
  std::optional<double> efficiency;  ///< heat in the room over energy bought; empty: the price is of heat
};

/// One case, read and found sound: what to solve, and how to speak of it.
struct Case {
  std::string title;
  UnitSystem units = UnitSystem::metric;
  Surroundings air;
  std::optional<double> humidity;  ///< relative, of the room air (0 to 1)
  double gap_tolerance = 1e-3;  ///< what gaps may be off by, either way, in the estimate of their loops [m]
  Accuracy accuracy;
  bool direct_form = false;  ///< one section drawn by shapes, without a wall
  std::vector<Section> sections;
  std::optional<Wall> wall;  ///< that the sections are cuts through
  /// The same cuts of the wall built right; empty where they show the same.
  std::vector<std::optional<Section>> right;
  std::vector<std::vector<std::vector<Fault>>> seen;  ///< the faults of each bay that each section shows
  std::vector<double> plan_heights;  ///< of each section, above the floor [m]; NaN for verticals
  std::vector<Stuffings> stuffings;
  FillingLimits limits;
  std::optional<Camera> camera;
  PictureWishes picture;
  std::optional<HeatingSeason> heating;
  std::vector<PublishedValue> published;
  std::vector<InputError> warnings;
};

/// Reads a case and checks that it can be drawn. Materials are those of the library, and the case's own over
/// them. Throws InputErrors with everything that is wrong.
Case read_case(const SourceText& source, const Library& library);
Case read_case(const SourceText& source);  ///< with the built-in library

}  // namespace coldbay
