#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/limits.hpp"
#include "solver/results/loop_flow.hpp"
#include "solver/results/moisture_risk.hpp"
#include "solver/results/surface.hpp"
#include "solver/solve.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// The heat through one stretch of the face: a bay with half of either stud.
struct PartResult {
  std::string name, label;
  Span across;
  double u_value = 0.0;       ///< heat into the face over this stretch, per area and kelvin [W/(m2 K)]
  double extreme = 0.0;       ///< of its room face, the point furthest from the room's air [degC]
  double extreme_at = 0.0;    ///< [m] across
  double mean_surface = 0.0;  ///< [degC]
};

/// What people ask for of a section.
///
/// A heat flow counts positive from the room outward. What has no meaning for a section is empty: a
/// U-value, the limits and the parts where a side is not adiabatic, where something within is held at a
/// temperature, or where inside and outside are equally warm. Where air can loop there are no limits:
/// neither what it carries nor radiation past it is in them.
struct Results {
  HeatFlows flows;  ///< into the section [W/m]
  /// Two held temperatures meet at a corner of the section: the finer the grid, the more heat flows there,
  /// without limit. Then no flow has a meaning, only temperatures have.
  bool flow_unlimited = false;
  double heat_flow = 0.0;                     ///< through the room face [W per metre of wall height]
  double heat_flow_uncertainty = 0.0;         ///< of that, and of the heat from what is held [W/m]
  std::optional<double> u_value;              ///< [W/(m2 K)]
  std::optional<double> u_value_uncertainty;  ///< [W/(m2 K)]
  std::optional<Limits> limits;
  SurfaceProfile profile;
  bool reversed = false;  ///< outside is warmer than the room
  double extreme = 0.0;   ///< the face furthest from the room's air: its coldest, reversed its warmest [degC]
  double extreme_at = 0.0;                   ///< [m] across
  double coldest = 0.0;                      ///< of the room face [degC]
  double surface_uncertainty = 0.0;          ///< of the room face anywhere, the coldest point included [K]
  double coldest_at = 0.0;                   ///< [m] across
  std::optional<double> temperature_factor;  ///< lowest (T_surface - T_outside)/(T_inside - T_outside)
  std::vector<std::string> warnings;     ///< where the model is at its limits (solver/results/warnings.hpp)
  std::optional<MoistureRisk> moisture;  ///< where the humidity of the room's air is known
  std::optional<LoopFlow> loop;          ///< where air loops
  bool loop_left_out = false;            ///< air could loop, and was taken to stand still, as asked
  std::vector<PartResult> parts;
  /// What is normal on this wall: the face over a stud between sound bays less the face in the middle
  /// of such a bay [K]; empty where there is no such stud.
  std::optional<double> stud_contrast;
};

/// How sure the reader wants to be.
struct Accuracy {
  double heat = 1e-3;     ///< of the U-value and of the heat flow, relative
  double surface = 0.01;  ///< of the room face, anywhere on it [K]
};

/// The criteria of [ISO10211]: twice as many subdivisions change the flow by less, and flows sum to less, of
/// what passes.
inline constexpr double doubling_allowed = 0.01, imbalance_allowed = 1e-4;

/// One grid on the way to the answer.
struct Refinement {
  Index cells = 0;
  double heat_flow = 0.0;  ///< through the room face [W/m]
  double coldest = 0.0;    ///< of the room face [degC]
  int rounds = 0;          ///< solves until the air spaces settled
  bool nested = false;     ///< every cell of the grid before it cut in two
};

/// One section, forecast: the grid it was solved on, its temperatures, what follows from them, and
/// the evidence.
struct Forecast {
  Surroundings air;  ///< it was solved with: air_of() the section
  ConductivityGrid grid;
  TemperatureField field;
  Results results;
  double last_change = 0.0;             ///< of the heat flow in the last round of settling, relative
  std::vector<Refinement> refinements;  ///< the last three are nested; their changes give the uncertainties
  std::optional<double> order;          ///< observed, of the heat flow; empty where its changes do not shrink
  double doubling_change =
      0.0;  ///< of the heat flow by the last halving of every cell, relative: [ISO10211] asks for 1 %
  bool reached = false;         ///< the accuracy asked for, and the criteria of [ISO10211]
  bool memory_ran_out = false;  ///< before that; else it was the cells that are allowed
  Accuracy accuracy = {};       ///< aimed at: as asked for, or less where air can loop
};

/// The whole of coldbay's physics in a row: lines, conductivities, temperatures, results.
///
/// Nobody chooses a cell size. On a small grid, strips of cells are halved where they cost most, and then
/// every cell twice; from the three nested answers follows how far the last one still is from that of
/// infinitely small cells (refinement/uncertainty.hpp). Where that is more than `asked` allows, the small
/// grid is refined further. If the cells that are allowed run out first, what was reached is returned, and
/// said.
///
/// `humidity` is the relative humidity of the room air (0 to 1), where it is known.
///
/// Throws ModelError where the section cannot be drawn, SolverError where a solve fails.
Forecast forecast(const Section& section, Surroundings air, std::optional<double> humidity,
                  const Accuracy& asked = {}, const SolverOptions& options = {});

}  // namespace coldbay
