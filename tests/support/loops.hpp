#pragma once

#include <cmath>

#include "materials/air_properties.hpp"
#include "materials/air_space.hpp"
#include "solver/air_loops/bay_loop.hpp"

namespace coldbay::test {

/// The wall of the tables: lining 12.5 mm of 0.25 W/(m K), a batt of R 2.3 in 0.12 m, sheathing 12.5 mm of
/// 0.13, ISO films, emissivities of 0.9, airtight, ends as open as its gaps are deep; 20 degC inside. The
/// batt keeps its resistance and is as thick as the gaps leave it: with that the printed figures come out.
inline BayLoop table_loop(double gap, double difference, double path = 0.0) {
  BayLoop bay;
  bay.height = 2.4;
  bay.strips = {{0.4, gap, gap, 2.3}};
  bay.bottom_slot = bay.top_slot = gap;
  bay.path = path > 0.0 ? path : 0.12 - 2.0 * gap;
  bay.inside_resistance = 0.13 + 0.0125 / 0.25;
  bay.outside_resistance = 0.0125 / 0.13 + 0.04;
  bay.inside = 20.0;
  bay.outside = 20.0 - difference;
  const double T = 273.15 + 0.5 * (bay.inside + bay.outside);
  bay.room_radiation = bay.sheathing_radiation =
      4.0 * stefan_boltzmann * T * T * T / (1.0 / 0.9 + 1.0 / 0.9 - 1.0);
  return bay;
}

/// Its air conducts as at the mean temperature, 0.0242 W/(m K) at 0 degC.
inline LoopModel of_the_table(double difference) {
  LoopModel model;
  model.air_conductivity = dry_air(20.0 - 0.5 * difference).conductivity;
  return model;
}

/// By how much the loop makes the heat more [%].
inline double more(const SteadyLoop& loop) { return 100.0 * (loop.u_loop / loop.u_still - 1.0); }

}  // namespace coldbay::test
