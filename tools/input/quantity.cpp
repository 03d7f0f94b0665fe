#include "tools/input/quantity.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "tools/input/input_error.hpp"

namespace coldbay {
namespace {

/// SI value = scale * number + offset.
struct Unit {
  std::string_view name;  ///< as `plain` leaves it
  Quantity quantity;
  std::string_view udunits;  ///< the same as UDUNITS-2 writes it, whose grammar the CF conventions use
  double scale;
  double offset = 0.0;
};

constexpr double inch = metres_per_inch, foot = metres_per_foot, btu = joules_per_btu;
constexpr double degF = kelvin_per_degree_fahrenheit;
constexpr double day = 86400.0;                               // [s]
constexpr double u_ip = btu / (3600.0 * foot * foot * degF);  // 1 Btu/(h ft2 F) = 5.678263 W/(m2 K)

using Q = Quantity;
constexpr std::array units{
    Unit{"mm", Q::length, "mm", 1e-3},
    Unit{"cm", Q::length, "cm", 1e-2},
    Unit{"m", Q::length, "m", 1.0},
    Unit{"in", Q::length, "in", inch},
    Unit{"inch", Q::length, "in", inch},
    Unit{"inches", Q::length, "in", inch},
    Unit{"\"", Q::length, "in", inch},
    Unit{"ft", Q::length, "ft", foot},
    Unit{"foot", Q::length, "ft", foot},
    Unit{"feet", Q::length, "ft", foot},
    Unit{"'", Q::length, "ft", foot},
    Unit{"c", Q::temperature, "degC", 1.0},
    Unit{"f", Q::temperature, "degF", degF, -32.0 * degF},
    Unit{"k", Q::temperature, "K", 1.0, -273.15},
    Unit{"k", Q::temperature_difference, "K", 1.0},
    Unit{"c", Q::temperature_difference, "degC", 1.0},
    Unit{"f", Q::temperature_difference, "degF", degF},
    Unit{"w/mk", Q::conductivity, "W m-1 K-1", 1.0},
    Unit{"w/m/k", Q::conductivity, "W m-1 K-1", 1.0},
    Unit{"w/mc", Q::conductivity, "W m-1 K-1", 1.0},
    Unit{"wm1k1", Q::conductivity, "W m-1 K-1", 1.0},
    Unit{"mw/mk", Q::conductivity, "mW m-1 K-1", 1e-3},
    Unit{"btuin/hft2f", Q::conductivity, "BTU in h-1 ft-2 degF-1", u_ip* inch},
    Unit{"btuin/ft2hf", Q::conductivity, "BTU in h-1 ft-2 degF-1", u_ip* inch},
    Unit{"btu/hftf", Q::conductivity, "BTU h-1 ft-1 degF-1", u_ip* foot},
    Unit{"btu/fthf", Q::conductivity, "BTU h-1 ft-1 degF-1", u_ip* foot},
    Unit{"m2k/w", Q::resistance, "m2 K W-1", 1.0},
    Unit{"km2/w", Q::resistance, "m2 K W-1", 1.0},
    Unit{"m2c/w", Q::resistance, "m2 K W-1", 1.0},
    Unit{"hft2f/btu", Q::resistance, "h ft2 degF BTU-1", 1.0 / u_ip},
    Unit{"ft2hf/btu", Q::resistance, "h ft2 degF BTU-1", 1.0 / u_ip},
    Unit{"ft2fh/btu", Q::resistance, "h ft2 degF BTU-1", 1.0 / u_ip},
    Unit{"hfft2/btu", Q::resistance, "h ft2 degF BTU-1", 1.0 / u_ip},
    Unit{"fft2h/btu", Q::resistance, "h ft2 degF BTU-1", 1.0 / u_ip},
    Unit{"w/m2k", Q::transmittance, "W m-2 K-1", 1.0},
    Unit{"w/m2c", Q::transmittance, "W m-2 K-1", 1.0},
    Unit{"w/m2/k", Q::transmittance, "W m-2 K-1", 1.0},
    Unit{"wm2k1", Q::transmittance, "W m-2 K-1", 1.0},
    Unit{"btu/hft2f", Q::transmittance, "BTU h-1 ft-2 degF-1", u_ip},
    Unit{"btu/ft2hf", Q::transmittance, "BTU h-1 ft-2 degF-1", u_ip},
    Unit{"btu/ft2fh", Q::transmittance, "BTU h-1 ft-2 degF-1", u_ip},
    Unit{"w/m", Q::heat_per_length, "W m-1", 1.0},
    Unit{"%", Q::fraction, "percent", 1e-2},
    Unit{"kg/m3", Q::density, "kg m-3", 1.0},
    Unit{"lb/ft3", Q::density, "lb ft-3", 0.45359237 / (foot * foot * foot)},
    Unit{"pcf", Q::density, "lb ft-3", 0.45359237 / (foot * foot * foot)},
    Unit{"j/kgk", Q::specific_heat, "J kg-1 K-1", 1.0},
    Unit{"kj/kgk", Q::specific_heat, "kJ kg-1 K-1", 1e3},
    Unit{"btu/lbf", Q::specific_heat, "BTU lb-1 degF-1", btu / 0.45359237 / degF},
    Unit{"pas/m2", Q::airflow_resistivity, "Pa s m-2", 1.0},
    Unit{"kpas/m2", Q::airflow_resistivity, "kPa s m-2", 1e3},
    Unit{"ns/m4", Q::airflow_resistivity, "N s m-4", 1.0},
    Unit{"kns/m4", Q::airflow_resistivity, "kN s m-4", 1e3},
    Unit{"kd", Q::degree_time, "K day", day},
    Unit{"kday", Q::degree_time, "K day", day},
    Unit{"kdays", Q::degree_time, "K day", day},
    Unit{"cd", Q::degree_time, "K day", day},
    Unit{"cday", Q::degree_time, "K day", day},
    Unit{"cdays", Q::degree_time, "K day", day},
    Unit{"fd", Q::degree_time, "degF day", degF* day},
    Unit{"fday", Q::degree_time, "degF day", degF* day},
    Unit{"fdays", Q::degree_time, "degF day", degF* day},
    Unit{"", Q::angle, "degree", std::numbers::pi / 180.0},  // what is left of "°" and "degrees"
    Unit{"rad", Q::angle, "radian", 1.0},
    Unit{"radians", Q::angle, "radian", 1.0},
};

struct UnitWords {
  std::string_view metric, inch_pound, example;
};

UnitWords words_of(Quantity q) {
  switch (q) {
    case Q::length:
      return {"mm", "in", "a length such as 89 mm or 3-1/2 in"};
    case Q::temperature:
      return {"c", "f", "a temperature such as 20 °C or 70 °F"};
    case Q::temperature_difference:
      return {"k", "f", "a difference of temperatures such as 10 K or 18 °F"};
    case Q::conductivity:
      return {"w/mk", "btuin/hft2f", "a conductivity such as 0.035 W/mK or 0.25 Btu·in/h·ft2·°F"};
    case Q::resistance:
      return {"m2k/w", "hft2f/btu", "a resistance such as 0.13 m2K/W or 0.68 h·ft2·°F/Btu"};
    case Q::transmittance:
      return {"w/m2k", "btu/hft2f", "a U-value such as 0.35 W/m2K or 0.06 Btu/h·ft2·°F"};
    case Q::heat_per_length:
      return {"w/m", "w/m", "a heat flow such as 9.5 W/m"};
    case Q::density:
      return {"kg/m3", "lb/ft3", "a density such as 12 kg/m3 or 0.75 lb/ft3"};
    case Q::specific_heat:
      return {"j/kgk", "btu/lbf", "a specific heat such as 1000 J/kgK or 0.24 Btu/lb·°F"};
    case Q::airflow_resistivity:
      return {"pas/m2", "pas/m2", "an airflow resistivity such as 5000 Pa s/m2 or 5 kPa s/m2"};
    case Q::degree_time:
      return {"kday", "fday", "degree days such as 2800 K day or 5000 °F day"};
    case Q::angle:
      return {"", "", "an angle such as 45° or 0.8 rad"};
    case Q::number:
      return {"", "", "a number without a unit, such as 1.06e-4"};
    case Q::fraction:
      break;
  }
  return {"", "", "a share such as 35 % or 0.35"};
}

/// A unit with everything taken off that people write in different ways.
std::string plain(std::string unit) {
  for (const auto& [from, to] : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"²", "2"}, {"³", "3"}, {"·", ""}, {"⋅", ""}, {"°", ""}, {"º", ""}, {"℃", "c"}, {"℉", "f"}})
    replace_all(unit, from, to);
  std::erase_if(unit, [](char c) {
    return c == ' ' || c == '\t' || c == '.' || c == '*' || c == '^' || c == '(' || c == ')' || c == '-' ||
           c == '_';
  });
  std::transform(unit.begin(), unit.end(), unit.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  for (const auto& [from, to] : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"degrees", ""},
           {"degree", ""},
           {"deg", ""},
           {"fahrenheit", "f"},  // before hr, which is part of it
           {"celsius", "c"},
           {"hour", "h"},
           {"hr", "h"},
           {"sqft", "ft2"},
           {"kelvin", "k"},
           {"percent", "%"}})
    replace_all(unit, from, to);
  return unit;
}

/// Longest text worth reading as a number [bytes]; what is longer is something else, and would take long.
constexpr std::size_t longest_number = 100;

/// ASCII for the ways people write signs, marks, spaces and the common fractions.
std::string plain_number(std::string_view text) {
  std::string out(text);
  for (const auto& [from, to] :
       std::initializer_list<std::pair<std::string_view, std::string_view>>{{"−", "-"},
                                                                            {"⁄", "/"},
                                                                            {"″", "\""},
                                                                            {"”", "\""},
                                                                            {"′", "'"},
                                                                            {"’", "'"},
                                                                            {"–", "-"},
                                                                            {"\u2010", "-"},
                                                                            {"\u2011", "-"},
                                                                            {"½", " 1/2"},
                                                                            {"¼", " 1/4"},
                                                                            {"¾", " 3/4"},
                                                                            {"⅛", " 1/8"},
                                                                            {"⅜", " 3/8"},
                                                                            {"⅝", " 5/8"},
                                                                            {"⅞", " 7/8"},
                                                                            {"\u00a0", " "},
                                                                            {"\u2009", " "},
                                                                            {"\u202f", " "}})
    replace_all(out, from, to);
  return out;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

void skip_spaces(std::string_view& text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
}

std::optional<double> take_decimal(std::string_view& text) {
  if (text.empty() ||
      !(is_digit(text.front()) || (text.front() == '.' && text.size() > 1 && is_digit(text[1]))))
    return std::nullopt;
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc()) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

/// `3/4` at the front of the text; leaves the text alone where there is none.
std::optional<double> take_fraction(std::string_view& text) {
  std::string_view rest = text;
  const auto digits = [&rest]() -> std::optional<double> {
    std::size_t n = 0;
    while (n < rest.size() && is_digit(rest[n])) ++n;
    if (n == 0 || n > 9) return std::nullopt;
    int value = 0;
    std::from_chars(rest.data(), rest.data() + n, value);
    rest.remove_prefix(n);
    return value;
  };
  const auto top = digits();
  if (!top || rest.empty() || rest.front() != '/') return std::nullopt;
  rest.remove_prefix(1);
  const auto bottom = digits();
  if (!bottom || *bottom == 0.0) return std::nullopt;
  text = rest;
  return *top / *bottom;
}

/// `0.5`, `3-1/2`, `3 1/2`, `1/2`, with a sign.
std::optional<double> take_number(std::string_view& text) {
  skip_spaces(text);
  std::string_view rest = text;
  double sign = 1.0;
  if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) {
    sign = rest.front() == '-' ? -1.0 : 1.0;
    rest.remove_prefix(1);
    skip_spaces(rest);
  }
  std::optional<double> value = take_fraction(rest);
  if (!value) {
    value = take_decimal(rest);
    if (!value) return std::nullopt;
    std::string_view after = rest;
    if (!after.empty() && after.front() == '-') after.remove_prefix(1);
    skip_spaces(after);
    if (const auto fraction = take_fraction(after)) {
      value = *value + *fraction;
      rest = after;
    }
  }
  text = rest;
  return sign * *value;
}

/// Everything up to the next number that stands after a space or a foot mark, or the end: the unit. Digits
/// inside a unit (ft2, m2K/W) belong to it. The hyphen of 8'-1" joins feet and inches and is dropped.
std::string take_unit(std::string_view& text) {
  skip_spaces(text);
  if (text.size() > 2 && text.starts_with("'-") && is_digit(text[2])) {
    text.remove_prefix(2);
    return "'";
  }
  std::size_t n = 0;
  while (n < text.size() && !((n > 0 && (text[n - 1] == ' ' || text[n - 1] == '\'')) && is_digit(text[n])))
    ++n;
  std::string unit(text.substr(0, n));
  text.remove_prefix(n);
  while (!unit.empty() && (unit.back() == ' ' || unit.back() == '\t')) unit.pop_back();
  return unit;
}

const Unit* find_unit(std::string_view name, Quantity quantity) {
  const auto it = std::find_if(units.begin(), units.end(),
                               [&](const Unit& u) { return u.name == name && u.quantity == quantity; });
  return it == units.end() ? nullptr : &*it;
}

bool any_unit(std::string_view name) {
  return std::any_of(units.begin(), units.end(), [&](const Unit& u) { return u.name == name; });
}

}  // namespace

std::string example_of(Quantity quantity) { return std::string(words_of(quantity).example); }

std::variant<double, std::string> parse_quantity(std::string_view text, Quantity quantity,
                                                 UnitSystem system) {
  const UnitWords words = words_of(quantity);
  if (text.size() > longest_number) return fmt::format("'{}' is not {}", shortened(text), words.example);
  const std::string cleaned = plain_number(text);
  std::string_view rest = cleaned;
  if (quantity == Q::resistance && !rest.empty() && (rest.front() == 'R' || rest.front() == 'r')) {
    rest.remove_prefix(1);
    if (!rest.empty() && rest.front() == '-') rest.remove_prefix(1);
    const auto R = take_number(rest);
    skip_spaces(rest);
    if (R && *R >= 0.0 && rest.empty()) return *R / u_ip;
    return fmt::format("'{}' is not {}", text, words.example);
  }
  double sum = 0.0, last_scale = 0.0;
  bool first = true, negative = false;
  do {
    const auto number = take_number(rest);
    if (!number) return fmt::format("'{}' is not {}", text, words.example);
    const std::string written = take_unit(rest);
    std::string unit = plain(written);
    if (unit.empty() && written.empty()) {
      if (quantity == Q::fraction && *number > 1.0)
        return fmt::format("'{}' is more than 1: is '{} %' meant?", text, text);
      if (quantity == Q::fraction || quantity == Q::number) return *number;
      unit = system == UnitSystem::metric ? words.metric : words.inch_pound;
      if (!first) unit = last_scale == foot ? "in" : "?";  // 8 ft 1: as spoken; but not 2 m 5
    }
    const Unit* known = find_unit(unit, quantity);
    if (!known) {
      if (!written.empty() && written.front() == ',')
        return fmt::format("'{}': write the decimals after a point", text);
      if (any_unit(unit) || written.empty()) return fmt::format("'{}' is not {}", text, words.example);
      return fmt::format("the unit '{}' is not known: write {}", written, words.example);
    }
    if (first) negative = std::signbit(*number);
    // Only lengths have parts, each in a smaller unit than the one before: 8 ft 1 in, but not 500 mm 3 mm.
    if (!first && (quantity != Q::length || !(known->scale < last_scale)))
      return fmt::format("'{}' is not {}", text, words.example);
    last_scale = known->scale;
    const double part = known->scale * *number + known->offset;
    sum += first || !negative ? part : -part;  // -1 ft 6 in is one and a half feet below zero
    first = false;
    skip_spaces(rest);
  } while (!rest.empty());
  if (!std::isfinite(sum)) return fmt::format("'{}' is not {}", text, words.example);
  return sum;
}

std::string unit_of(std::string_view number) {
  if (number.size() > longest_number) return {};
  const std::string cleaned = plain_number(number);
  std::string_view rest = cleaned;
  if (!take_number(rest)) return {};
  skip_spaces(rest);
  return std::string(rest);
}

std::string udunits_of(std::string_view unit) {
  const std::string name = plain(std::string(unit));
  const auto it = std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.name == name; });
  if (it != units.end() && !unit.empty()) return std::string(it->udunits);
  // Of results; nothing is given in these.
  return name == "w/k"       ? "W K-1"
         : name == "btu/hft" ? "BTU h-1 ft-1"
         : name == "btu/hf"  ? "BTU h-1 degF-1"
                             : "";
}

WordsAndNumber split_number(std::string_view text) {
  for (std::size_t at = text.size() - std::min(text.size(), longest_number); at < text.size(); ++at) {
    if (at > 0 && text[at - 1] != ' ') continue;
    const std::string number(text.substr(at));
    if (std::holds_alternative<double>(parse_quantity(number, Q::length, UnitSystem::metric))) {
      std::string words(text.substr(0, at));
      while (!words.empty() && words.back() == ' ') words.pop_back();
      return {words, number};
    }
  }
  return {std::string(text), ""};
}

}  // namespace coldbay
