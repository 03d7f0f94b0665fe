#pragma once

#include <optional>
#include <string>

#include "tools/input/case.hpp"

namespace coldbay {

/// A heating season's energy and money for a steady loss.
struct Year {
  double energy =
      0.0;  ///< through the wall, or where an efficiency is given what is bought for it [energy_unit]
  std::string energy_unit;     ///< as the price has it; kWh where there is none
  bool bought = false;         ///< energy is what is bought
  std::string efficiency;      ///< "90 %"
  std::optional<double> cost;  ///< empty without a price
  std::string cost_text, price;
};

/// Loss per kelvin [W/K] times the degree days of the case; empty where the case gives none. A loss by degree
/// days is the usual estimate: the wall is in its steady state of each day, and the room is heated whenever
/// it is colder outside than the base that the degree days are counted from.
std::optional<Year> year_of(const Case& c, double W_per_K);

}  // namespace coldbay
