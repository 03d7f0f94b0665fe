#pragma once

#include <string_view>
#include <variant>

#include "tools/input/case.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// `{degree days: 5000 °F day, price: 0.14 $/kWh, efficiency: 90 %}`. A price goes for heat in the room, or
/// with an efficiency for what is bought to make it.
HeatingSeason read_heating(const Node& node, Reading& in);

/// "$0.14/kWh", "0.14 EUR per kWh", "1.30 $/therm": an amount, a currency before or behind it, and the unit
/// of energy. Returns in words what is wrong with any other text.
std::variant<HeatingSeason::Price, std::string> parse_price(std::string_view text);

}  // namespace coldbay
