#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace coldbay {

/// What a column of a weather file holds.
enum class WeatherKind { time, temperature, wind, sun, rain };

/// One column that is read. SI value = scale * number + offset.
struct WeatherColumn {
  WeatherKind kind = WeatherKind::time;
  std::size_t index = 0;  ///< of its field
  std::string unit;       ///< as the header writes it
  double scale = 1.0, offset = 0.0;
  double least = 0.0, most = 0.0;  ///< what weather may be [SI]
  bool known_unit = true;          ///< false: told of already, and its numbers are not judged
};

/// What a header says of a column: read, or not for us (which may be a slip of the pen), or in words what
/// is wrong with its unit.
struct UnusedColumn {
  std::string near;  ///< the word that may have been meant; empty where none is like it
};
struct FaultyUnit {
  WeatherKind kind;
  std::string what, hint;
};
std::variant<WeatherColumn, UnusedColumn, FaultyUnit> read_weather_column(std::string_view header);

/// "a temperature", for messages.
std::string_view words_of(WeatherKind kind);

/// "temperature [°C]": how a header is written.
std::string_view example_of(WeatherKind kind);

}  // namespace coldbay
