#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/results/mornings.hpp"
#include "solver/results/normal_pattern.hpp"
#include "solver/results/survey_rules.hpp"
#include "solver/results/visibility.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

/// One place of the wall where something is wrong, and how it shows.
struct OutlookFault {
  std::string what;  ///< "a gap beside the fill", as fault_words has it
  Visibility seen;   ///< its name is the bay's: "bay 3"
};

/// The mornings of a weather file.
struct WeatherOutlook {
  std::string file;  ///< as given on the command line
  Weather weather;
  std::vector<Morning> mornings;  ///< under survey_rules()
};

/// All that `coldbay outlook` has to tell.
struct Outlook {
  UnitSystem units = UnitSystem::metric;
  std::string title;
  double difference = 20.0;  ///< from inside to outside, as the case gives them [K]
  Sight sight;
  NormalPattern normal;
  std::vector<OutlookFault> faults;
  std::vector<std::string> not_compared;  ///< bays of which nobody knows what would be right: "bay 3"
  SurveyWall wall;
  std::vector<std::string> notes;             ///< why a figure may be small though the work is bad
  std::vector<std::string> warnings;          ///< where the solve of the face is at its limits
  std::vector<std::string> without_capacity;  ///< materials whose density or specific heat is not known
  std::optional<WeatherOutlook> weather;
};

}  // namespace coldbay
