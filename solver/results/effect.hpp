#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "solver/forecast.hpp"

namespace coldbay {

/// What one part of the face, a bay with half of either post, loses more than the same part built right.
struct PartEffect {
  std::string name;    ///< "bay 2"
  double extra = 0.0;  ///< through the room face [W per metre of height]
  double share = 0.0;  ///< of what it loses built right
};

/// What workmanship costs in one section: as built, less the same section built right.
struct Effect {
  /// Heat through the room face [W per metre]; where a pipe gives or takes some too, heat to the outside.
  double extra = 0.0;
  double uncertainty = 0.0;       ///< of that, from the grids of both [W/m]
  double share = 0.0;             ///< of the heat of the one built right
  std::optional<double> of_u;     ///< change of U [W/(m2 K)]; empty where U has no meaning
  double per_kelvin = 0.0;        ///< extra heat over the difference of the airs [W/(m K)]
  double stands_for = 0.0;        ///< height, or width, that the section stands for; 0 where not known [m]
  double surface = 0.0;           ///< of the room face, as built less built right, where it is furthest [K]
  double surface_at = 0.0;        ///< where that is, across [m]
  std::vector<PartEffect> parts;  ///< none where a pipe gives or takes heat
};

Effect effect(const Section& section, const Surroundings& air, const Forecast& built, const Forecast& right);

/// U of a whole wall from that of a plan section between its studs [W/(m2 K)]: plates, headers and blocking,
/// the framing of the elevation that the plan does not show, lose heat as framing alone does, beside the rest
/// (parallel path). `framing` and `framing_of_plan` are shares of the area and of the width.
double whole_wall_u(double plan_u, double framing_of_plan, double framing, double framing_u);

}  // namespace coldbay
