#pragma once

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The two simple answers that enclose the two-dimensional one, and their mean.
///
/// parallel path       no heat flows sideways: columns side by side, each in series; upper limit of R
/// isothermal planes   every plane along the wall is at one temperature: rows in series; lower limit
/// mean                of the two resistances: the combined method of [ISO6946]
///
/// All as U [W/(m2 K)] of a section with adiabatic sides, films included, from the grid's own cells.
struct Limits {
  double parallel_path = 0.0;
  double isothermal_planes = 0.0;
  double mean = 0.0;
  /// The combined method is not for walls where the two resistances differ more than 1.5 times, nor
  /// where metal bridges the insulation ([ISO6946], from memory); this says the first.
  bool combined_method_holds = true;
};

Limits limits(const ConductivityGrid& grid, const Surroundings& air);

}  // namespace coldbay
