#pragma once

#include <string>
#include <vector>

#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

// What a page says, as plain text: who writes the page escapes it. All numbers in the units of the case.

/// The one number that matters, and what it is of: "+27 %", "of the heat of bay 2".
struct Headline {
  std::string number, of;
};
Headline headline(const HandoutWall& wall, const FaultPage& page, const Words& words);

/// "bay 2", "bays 2, 4 and 7"
std::string place_name(const FaultPage& page, const Words& words);

/// What is wrong, the first letter a capital: "A batt cut short; a gap beside the fill"
std::string fault_names(const FaultPage& page, const Words& words);

/// The pattern that is no fault, said first.
std::vector<std::string> normal_sentences(const HandoutWall& wall, const Words& words);

/// Where and how the camera shows the fault.
std::vector<std::string> sight_sentences(const HandoutWall& wall, const FaultPage& page, const Words& words);

/// Heat, per cent, and a year's energy and money where the case gives degree days and a price.
std::vector<std::string> cost_sentences(const HandoutWall& wall, const FaultPage& page, const Words& words);

/// From which difference of temperatures a survey sees it.
std::vector<std::string> weather_sentences(const HandoutWall& wall, const FaultPage& page,
                                           const Words& words);

/// What the figures leave out.
std::vector<std::string> limit_sentences(const HandoutWall& wall, const FaultPage* page, const Words& words);

/// "+0.21 Btu/h·°F, +27 %", "less than the uncertainty of the two: call them equal"; empty where it is not
/// known.
std::string heat_cell(const HandoutWall& wall, const FaultPage& page, const Words& words);
std::string surface_cell(const HandoutWall& wall, const FaultPage& page, const Words& words);
std::string year_cell(const HandoutWall& wall, const FaultPage& page);  ///< "34 kWh, $4.80"

/// A share of a sum of money or energy with two digits that mean something: "3.4", "120", "0.05".
std::string two_digits(double amount);

}  // namespace coldbay
