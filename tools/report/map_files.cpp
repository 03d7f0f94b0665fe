#include "tools/report/map_files.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string_view>
#include <utility>

#include "tools/report/map_tiff.hpp"
#include "tools/report/map_vtr.hpp"

namespace coldbay {
namespace {

constexpr std::string_view csv_header = "across [m],up [m],temperature [°C]\r\n";

/// Of a temperature; what rounds to nothing has no sign.
void append_temperature(std::string& text, double celsius) {
  constexpr double half_a_digit = 0.00005;
  if (std::isnan(celsius)) return;
  fmt::format_to(std::back_inserter(text), "{:.4f}", std::abs(celsius) < half_a_digit ? 0.0 : celsius);
}

}  // namespace

OutputFile map_as_csv(const ThermalMap& map, std::string name) {
  std::string text(csv_header);
  text.reserve(csv_header.size() + 28 * map.celsius.size());
  for (int row = 0; row < map.rows; ++row) {
    const std::string up = fmt::format(",{:.6f},", map.up.to - (row + 0.5) * map.pixel_up());
    for (int column = 0; column < map.columns; ++column) {
      fmt::format_to(std::back_inserter(text), "{:.6f}",
                     map.across.from + (column + 0.5) * map.pixel_across());
      text += up;
      append_temperature(text, map.at(column, row));
      text += "\r\n";
    }
  }
  return {std::move(name), {text.begin(), text.end()}};
}

bool is_map_file(const std::vector<std::uint8_t>& bytes) {
  const auto starts = [&](std::string_view begin) {
    return bytes.size() >= begin.size() &&
           std::equal(begin.begin(), begin.end(), bytes.begin(),
                      [](char a, std::uint8_t b) { return static_cast<std::uint8_t>(a) == b; });
  };
  return starts(csv_header) || is_our_vtr(bytes) || is_our_tiff(bytes);
}

}  // namespace coldbay
