#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/section.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/limits.hpp"
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
/// U-value and the limits where a side is not adiabatic or inside and outside are equally warm.
struct Results {
  HeatFlows flows;                            ///< into the section [W/m]
  double heat_flow = 0.0;                     ///< through the room face [W per metre of wall height]
  double heat_flow_uncertainty = 0.0;         ///< [W/m]
  std::optional<double> u_value;              ///< [W/(m2 K)]
  std::optional<double> u_value_uncertainty;  ///< [W/(m2 K)]
  std::optional<Limits> limits;
  SurfaceProfile profile;
  bool reversed = false;  ///< outside is warmer than the room
  double extreme = 0.0;   ///< the face furthest from the room's air: its coldest, reversed its warmest [degC]
  double extreme_at = 0.0;                   ///< [m] across
  double coldest = 0.0;                      ///< of the room face [degC]
  double coldest_uncertainty = 0.0;          ///< [K]
  double coldest_at = 0.0;                   ///< [m] across
  std::optional<double> temperature_factor;  ///< lowest (T_surface - T_outside)/(T_inside - T_outside)
  std::vector<std::string> warnings;  ///< where the model is at its limits (solver/results/warnings.hpp)
  std::optional<double> dew_point;    ///< of the room air, where its humidity is known [degC]
  std::vector<PartResult> parts;
  /// What is normal on this wall: the face over a stud between sound bays less the face in the middle
  /// of such a bay [K]; empty where there is no such stud.
  std::optional<double> stud_contrast;
};

/// One section, forecast: the grid it was solved on, its temperatures, what follows from them, and
/// the answer on the grid with cells twice as large that the uncertainties come from.
struct Forecast {
  ConductivityGrid grid;
  TemperatureField field;
  Results results;
  int rounds = 0;            ///< solves until the air spaces settled
  double last_change = 0.0;  ///< of the heat flow in the last of them, relative
  std::optional<double> u_value_half_as_fine;
  Index cells_half_as_fine = 0;
};

/// The whole of coldbay's physics in a row: lines, conductivities, temperatures, results.
///
/// The section is solved twice, on the graded grid and on the same grid with every cell cut in two.
/// The finer answer is given; its uncertainty is the difference between the two: what the
/// grid-convergence index of [Roache1994] gives for two grids and a safety factor of 3,
/// 3 |fine - coarse| / (2^2 - 1), and what is left of an error that only halves.
///
/// `humidity` is the relative humidity of the room air (0 to 1), where it is known.
///
/// Throws ModelError where the section cannot be drawn, SolverError where a solve fails.
Forecast forecast(const Section& section, const Surroundings& air, std::optional<double> humidity,
                  GridDensity density, const SolverOptions& options = {});

}  // namespace coldbay
