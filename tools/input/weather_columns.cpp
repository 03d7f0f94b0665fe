#include "tools/input/weather_columns.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "tools/input/input_error.hpp"
#include "tools/input/nearest_word.hpp"

#include "tools/input/quantity.hpp"

namespace coldbay {
namespace {

using K = WeatherKind;

struct Kind {
  std::string_view words, example;
  double least, most;  ///< [SI]
};

/// In the order of WeatherKind. The limits are wider than any weather on record (from memory: -89 to 57 degC,
/// gusts of 113 m/s, 305 mm of rain in an hour), but for the coldest place, where nobody frames walls. A sun
/// gauge reads a little below nothing at night.
constexpr std::array<Kind, 5> kinds{{{"a time", "time", 0.0, 0.0},
                                     {"a temperature", "temperature [°C]", -80.0, 60.0},
                                     {"a wind", "wind [m/s]", 0.0, 120.0},
                                     {"a sun", "sun [W/m2]", -20.0, 1500.0},
                                     {"a rain", "rain [mm]", 0.0, 400.0}}};

struct Name {
  std::string_view name;
  K kind;
};
constexpr std::array names{Name{"time", K::time},
                           Name{"local time", K::time},
                           Name{"date", K::time},
                           Name{"date time", K::time},
                           Name{"date and time", K::time},
                           Name{"temperature", K::temperature},
                           Name{"air temperature", K::temperature},
                           Name{"outside temperature", K::temperature},
                           Name{"wind", K::wind},
                           Name{"wind speed", K::wind},
                           Name{"sun", K::sun},
                           Name{"global", K::sun},
                           Name{"global radiation", K::sun},
                           Name{"solar radiation", K::sun},
                           Name{"rain", K::rain},
                           Name{"precipitation", K::rain}};

struct WeatherUnit {
  std::string_view name;  ///< as `plain_unit` leaves it
  K kind;
  double scale, offset = 0.0;
};
constexpr std::array weather_units{
    WeatherUnit{"c", K::temperature, 1.0},
    WeatherUnit{"celsius", K::temperature, 1.0},
    WeatherUnit{"f", K::temperature, kelvin_per_degree_fahrenheit, -32.0 * kelvin_per_degree_fahrenheit},
    WeatherUnit{"fahrenheit", K::temperature, kelvin_per_degree_fahrenheit,
                -32.0 * kelvin_per_degree_fahrenheit},
    WeatherUnit{"m/s", K::wind, 1.0},
    WeatherUnit{"km/h", K::wind, 1.0 / 3.6},
    WeatherUnit{"kph", K::wind, 1.0 / 3.6},
    WeatherUnit{"mph", K::wind, 0.44704},
    WeatherUnit{"mi/h", K::wind, 0.44704},
    WeatherUnit{"kn", K::wind, 1852.0 / 3600.0},
    WeatherUnit{"knots", K::wind, 1852.0 / 3600.0},
    WeatherUnit{"w/m2", K::sun, 1.0},
    WeatherUnit{"mm", K::rain, 1.0},
    WeatherUnit{"mm/h", K::rain, 1.0},
    WeatherUnit{"in", K::rain, 25.4}};

std::string_view units_of(K kind) {
  constexpr std::array<std::string_view, 5> words{"", "°C or °F", "m/s, km/h or mph", "W/m2", "mm or in"};
  return words[static_cast<std::size_t>(kind)];
}

/// Small letters, one blank between words, no blank at either end.
std::string plain_words(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const char low = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (low != ' ' && low != '_' && low != '-' && low != '\t')
      out += low;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::string plain_unit(std::string_view text) {
  std::string unit = plain_words(text);
  for (const auto& [from, to] :
       std::initializer_list<std::pair<std::string_view, std::string_view>>{{"°", ""},
                                                                            {"º", ""},
                                                                            {"℃", "c"},
                                                                            {"℉", "f"},
                                                                            {"²", "2"},
                                                                            {"^", ""},
                                                                            {"degrees", ""},
                                                                            {"deg", ""},
                                                                            {" ", ""}})
    replace_all(unit, from, to);
  return unit;
}

const Name* find_name(std::string_view name) {
  const auto it = std::find_if(names.begin(), names.end(), [&](const Name& n) { return n.name == name; });
  return it == names.end() ? nullptr : &*it;
}

const WeatherUnit* find_unit(std::string_view unit, K kind) {
  const std::string plain = plain_unit(unit);
  const auto it = std::find_if(weather_units.begin(), weather_units.end(),
                               [&](const WeatherUnit& u) { return u.name == plain && u.kind == kind; });
  return it == weather_units.end() ? nullptr : &*it;
}

/// "temperature [°C]", "Temperature (°C)", "temperature °C", "temperature_C".
struct Parts {
  std::string name;
  std::string_view unit;
};
Parts parts_of(std::string_view header) {
  const std::size_t open = header.find_first_of("[(");
  if (open != std::string_view::npos) {
    const std::size_t close = std::min(header.find(header[open] == '[' ? ']' : ')', open), header.size());
    // Text behind the unit makes it another thing than its name says: a second column, by a wrong separator.
    if (close + 1 < header.size()) return {plain_words(header), {}};
    return {plain_words(header.substr(0, open)), header.substr(open + 1, close - open - 1)};
  }
  const std::size_t last = header.find_last_of(" _");
  if (last != std::string_view::npos)
    if (const Name* name = find_name(plain_words(header.substr(0, last))))
      if (find_unit(header.substr(last + 1), name->kind))
        return {std::string(name->name), header.substr(last + 1)};
  return {plain_words(header), {}};
}

}  // namespace

std::string_view words_of(WeatherKind kind) { return kinds[static_cast<std::size_t>(kind)].words; }
std::string_view example_of(WeatherKind kind) { return kinds[static_cast<std::size_t>(kind)].example; }

std::variant<WeatherColumn, UnusedColumn, FaultyUnit> read_weather_column(std::string_view header) {
  const Parts parts = parts_of(header);
  const Name* name = find_name(parts.name);
  if (!name) {
    std::vector<std::string> words;
    words.reserve(names.size());
    for (const Name& n : names) words.emplace_back(n.name);
    return UnusedColumn{nearest_word(parts.name, words)};
  }
  const Kind& kind = kinds[static_cast<std::size_t>(name->kind)];
  WeatherColumn column{name->kind, 0, std::string(parts.unit), 1.0, 0.0, kind.least, kind.most, true};
  if (name->kind == K::time) return column;
  const std::string hint = fmt::format("write {}; it may be in {}", kind.example, units_of(name->kind));
  if (parts.unit.empty())
    return FaultyUnit{name->kind, fmt::format("'{}' does not say its unit", shortened(header)), hint};
  const WeatherUnit* unit = find_unit(parts.unit, name->kind);
  if (!unit)
    return FaultyUnit{name->kind, fmt::format("'{}' is not a unit of {}", shortened(parts.unit), parts.name),
                      hint};
  column.scale = unit->scale;
  column.offset = unit->offset;
  return column;
}

}  // namespace coldbay
