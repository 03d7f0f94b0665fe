#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "tools/report/labels.hpp"
#include "tools/report/material_colours.hpp"
#include "tools/report/material_map.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr Rgb hatch_ink{168, 176, 184};
constexpr int hatch_spacing = 11;

struct LegendEntry {
  std::string name;
  std::string conductivity;
  Rgb colour{};
  bool hatched = false;
};

/// The group of air that fills most of a cavity's rectangle; -1 where none of it shows.
int group_of_cavity(const AirCavity& cavity, const Section& section, const MaterialMap& map,
                    const MaterialGroups& groups) {
  const auto sample = [](double x, double length, int n) {
    return std::clamp(static_cast<int>(std::floor(x / length * n)), 0, n - 1);
  };
  const int left = sample(cavity.across.from, section.width, map.n_across);
  const int right = sample(cavity.across.to, section.width, map.n_across);
  const int bottom = map.n_depth - 1 - sample(cavity.depth.from, section.depth, map.n_depth);
  const int top = map.n_depth - 1 - sample(cavity.depth.to, section.depth, map.n_depth);
  std::vector<std::size_t> count(groups.group.size(), 0);
  for (int j = top; j <= bottom; ++j)
    for (int i = left; i <= right; ++i) {
      const int material = map.at(i, j);
      if (material == MaterialMap::bare) continue;
      const auto group = static_cast<std::size_t>(groups.group_of[static_cast<std::size_t>(material)]);
      if (groups.group[group].is_air_space) ++count[group];
    }
  const auto most = std::max_element(count.begin(), count.end());
  return most == count.end() || *most == 0 ? -1 : static_cast<int>(most - count.begin());
}

/// Those groups that show somewhere, in order.
std::vector<LegendEntry> legend_entries(const Section& section, const ConductivityGrid& grid,
                                        const MaterialMap& map, const MaterialGroups& groups,
                                        LengthUnit unit) {
  std::vector<bool> shows(groups.group.size(), false);
  for (const int material : map.material)
    if (material != MaterialMap::bare)
      shows[static_cast<std::size_t>(groups.group_of[static_cast<std::size_t>(material)])] = true;
  std::vector<std::vector<double>> air(groups.group.size());
  for (const AirCavity& cavity : grid.cavities) {
    const int group = group_of_cavity(cavity, section, map, groups);
    if (group >= 0) air[static_cast<std::size_t>(group)].push_back(cavity.conductivity);
  }
  std::vector<LegendEntry> entries;
  for (std::size_t g = 0; g < groups.group.size(); ++g) {
    const MaterialGroup& group = groups.group[g];
    if (!shows[g]) continue;
    std::string conductivity = group.is_air_space ? air_conductivities_text(std::move(air[g]), unit)
                                                  : conductivity_text(group.lowest, group.highest, unit);
    if (group.by_temperature) conductivity += unit == LengthUnit::inch ? " at 50 °F" : " at 10 °C";
    // A material given by its conductivity alone may carry it as its name.
    if (conductivity == group.name) conductivity.clear();
    entries.push_back({group.name, std::move(conductivity), group.colour, group.is_air_space});
  }
  return entries;
}

// The legend: columns of entries, each a swatch with two lines of text.
constexpr double swatch_width = 38.0;
constexpr double swatch_height = 28.0;
constexpr double swatch_gap = 12.0;
constexpr double column_gap = 36.0;
constexpr double widest_text = 420.0;
constexpr double entry_height = 52.0;

struct Columns {
  std::size_t count = 1;
  std::size_t rows = 1;
  double text_width = 0.0;
};

Columns columns_for(const std::vector<LegendEntry>& entries, double width) {
  Columns columns;
  for (const LegendEntry& entry : entries)
    columns.text_width = std::max({columns.text_width, text_width(entry.name, text_size::body),
                                   text_width(entry.conductivity, text_size::small)});
  const double most = width - swatch_width - swatch_gap;
  // A pixel to spare: a text exactly as wide as its space must not be shortened by rounding.
  columns.text_width = std::min({columns.text_width + 1.0, widest_text, most});
  const double column = swatch_width + swatch_gap + columns.text_width + column_gap;
  columns.count = std::max<std::size_t>(1, static_cast<std::size_t>((width + column_gap) / column));
  columns.rows = std::max<std::size_t>(1, (entries.size() + columns.count - 1) / columns.count);
  return columns;
}

void hatch_box(Picture& picture, const Box& box) {
  for (int y = static_cast<int>(box.top); y < static_cast<int>(box.bottom); ++y)
    for (int x = static_cast<int>(box.left); x < static_cast<int>(box.right); ++x)
      blend(picture, x, y, hatch_ink, hatch(x, y, hatch_spacing));
}

void draw_legend(Picture& picture, const std::vector<LegendEntry>& entries, const Columns& columns,
                 const Box& panel) {
  const double column = swatch_width + swatch_gap + columns.text_width + column_gap;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const LegendEntry& entry = entries[i];
    const std::size_t in_column = i / columns.rows, in_row = i % columns.rows;
    const double left = std::round(panel.left + column * static_cast<double>(in_column)) + 1.0;
    const double top = std::round(panel.top + entry_height * static_cast<double>(in_row)) + 5.0;
    const Box swatch{left, top, left + swatch_width, top + swatch_height};
    fill(picture, swatch, entry.colour);
    if (entry.hatched) hatch_box(picture, swatch);
    frame(picture, swatch, 1.0, ink::outline);
    const double text_left = swatch.right + swatch_gap;
    draw_text(picture, {text_left, top + 11.0}, Align::left,
              shortened(entry.name, text_size::body, columns.text_width), text_size::body);
    draw_text(picture, {text_left, top + 30.0}, Align::left,
              shortened(entry.conductivity, text_size::small, columns.text_width), text_size::small,
              ink::quiet_text);
  }
}

/// The section itself: the mean colour of a pixel's samples, hatching on air, and the outlines.
void draw_materials(Picture& picture, const Box& plot, const MaterialMap& map, const MaterialGroups& groups) {
  constexpr int per_pixel = MaterialMap::per_pixel;
  constexpr double share = 1.0 / (per_pixel * per_pixel);
  const std::vector<float> outlines = outline_coverage(map, groups.group_of);
  const int left = static_cast<int>(plot.left);
  const int top = static_cast<int>(plot.top);
  const int width = map.n_across / per_pixel;
  for (int y = 0; y < map.n_depth / per_pixel; ++y)
    for (int x = 0; x < width; ++x) {
      std::array<double, 3> mean{};
      double air = 0.0;
      for (int s = 0; s < per_pixel * per_pixel; ++s) {
        const int material = map.at(per_pixel * x + s % per_pixel, per_pixel * y + s / per_pixel);
        const MaterialGroup* group =
            material == MaterialMap::bare
                ? nullptr
                : &groups
                       .group[static_cast<std::size_t>(groups.group_of[static_cast<std::size_t>(material)])];
        const Rgb colour = group ? group->colour : ink::paper;
        for (std::size_t c = 0; c < 3; ++c) mean[c] += share * colour[c];
        if (group && group->is_air_space) air += share;
      }
      Rgb colour{};
      for (std::size_t c = 0; c < 3; ++c) colour[c] = static_cast<std::uint8_t>(std::lround(mean[c]));
      blend(picture, left + x, top + y, colour, 1.0);
      if (air > 0.0)
        blend(picture, left + x, top + y, hatch_ink, air * hatch(left + x, top + y, hatch_spacing));
      const float outline = outlines[static_cast<std::size_t>(x) +
                                     static_cast<std::size_t>(width) * static_cast<std::size_t>(y)];
      blend(picture, left + x, top + y, ink::outline, 0.85 * static_cast<double>(outline));
    }
  frame(picture, plot, 1.0, ink::outline);
}

}  // namespace

Picture materials_picture(const Section& section, const ConductivityGrid& grid, const PictureStyle& style) {
  const SheetPlan plan = plan_sheet(section);
  const MaterialMap map = material_map(section, plan.plot_width, plan.plot_height);
  const MaterialGroups groups = material_groups(section);
  const std::vector<LegendEntry> entries = legend_entries(section, grid, map, groups, style.length);
  const Columns columns = columns_for(entries, plan.panel_width);
  Sheet sheet = draw_sheet(plan, {"outside", {"room side"}, end_words(section)},
                           entry_height * static_cast<double>(columns.rows), style);
  draw_materials(sheet.picture, sheet.plot, map, groups);
  draw_legend(sheet.picture, entries, columns, sheet.panel);
  return sheet.picture;
}

}  // namespace coldbay
