#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// Numbers as pictures print them: independent of the locale, with a true minus sign (U+2212), and
/// never "−0".
std::string fixed_number(double value, int decimals);

/// The same without trailing zeros: 21, 0.13, −9.4.
std::string short_number(double value, int most_decimals);

/// Degrees of the unit the picture speaks, and their symbol.
double degrees(double celsius, TemperatureUnit unit);
std::string_view symbol(TemperatureUnit unit);

/// "16.3 °C".
std::string temperature_text(double celsius, TemperatureUnit unit, int decimals);

/// Millimetres or inches, and their symbol.
double in_length_unit(double metres, LengthUnit unit);
double metres_per(LengthUnit unit);
std::string_view symbol(LengthUnit unit);

/// "412 mm", "16.2 in".
std::string length_text(double metres, LengthUnit unit);

/// "0.160 W/mK" or "1.11 Btu·in/h·ft²·°F"; of materials of one name that differ, "0.034 to 0.038 W/mK".
std::string conductivity_text(double conductivity, LengthUnit unit);
std::string conductivity_text(double lowest, double highest, LengthUnit unit);

/// Of an air space, whose conductivity follows from its size: the different values in rising order,
/// or where they are more than three the lowest and the highest: "0.071 and 0.31 W/mK", "0.03 to 0.31 W/mK".
std::string air_conductivities_text(std::vector<double> conductivities, LengthUnit unit);

/// "room 21 °C, film 0.13 m²K/W"; where the film is 0 the surface itself is held.
std::string exchange_text(std::string_view side, const Exchange& exchange, const PictureStyle& style);

}  // namespace coldbay
