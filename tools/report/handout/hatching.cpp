#include "tools/report/handout/hatching.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "tools/report/handout/markup.hpp"

namespace coldbay {
namespace {

struct Word {
  std::string_view part;
  HatchKind kind;
};

/// Words of the library's names, the first that a name holds counts. What a reader has named otherwise goes
/// by its numbers.
constexpr std::array<Word, 32> words{{{", squeezed", HatchKind::squeezed},
                                      {", scraps", HatchKind::scraps},
                                      {"gypsum", HatchKind::plaster},
                                      {"plaster", HatchKind::plaster},
                                      {"stucco", HatchKind::plaster},
                                      {"screed", HatchKind::plaster},
                                      {"mortar", HatchKind::plaster},
                                      {"siding", HatchKind::cladding},
                                      {"fibre-cement", HatchKind::cladding},
                                      {"sheathing", HatchKind::board},
                                      {"osb", HatchKind::board},
                                      {"plywood", HatchKind::board},
                                      {"particleboard", HatchKind::board},
                                      {"brick", HatchKind::masonry},
                                      {"stone veneer", HatchKind::masonry},
                                      {"concrete", HatchKind::masonry},
                                      {"block", HatchKind::masonry},
                                      {"foam", HatchKind::foam},
                                      {"polystyrene", HatchKind::foam},
                                      {"polyiso", HatchKind::foam},
                                      {"plastic", HatchKind::plastic},
                                      {"polyethylene", HatchKind::plastic},
                                      {"pex", HatchKind::plastic},
                                      {"cable", HatchKind::plastic},
                                      {"gasket", HatchKind::plastic},
                                      {"water", HatchKind::fluid},
                                      {"batt", HatchKind::fibre},
                                      {"wool", HatchKind::fibre},
                                      {"fibre", HatchKind::fibre},
                                      {"cellulose", HatchKind::fibre},
                                      {"vermiculite", HatchKind::fibre},
                                      {"hemp", HatchKind::fibre}}};

/// Lines: how far apart, how they lean (45 is up to the right), and how far a second one lies beside each.
struct Lines {
  double spacing = 1.0, slope = 45.0, pair = 0.0;
  bool both_ways = false;
};

constexpr std::string_view line_ink = "#222";

/// A drawing of its own for each further material of a kind: the other way, and then wider and closer.
Lines varied(Lines lines, int number) {
  constexpr std::array<double, 3> wider{1.0, 1.6, 0.65};
  if (number % 2 == 1) lines.slope = lines.both_ways ? lines.slope + 20.0 : -lines.slope;
  const double factor = wider[static_cast<std::size_t>(number / 2) % wider.size()];
  lines.spacing *= factor;
  lines.pair *= factor;
  return lines;
}

std::string opening(std::string_view id, double width, double height, double turned) {
  return fmt::format(
      "<pattern id=\"{}\" patternUnits=\"userSpaceOnUse\" width=\"{}\" height=\"{}\""
      " patternTransform=\"rotate({})\">",
      id, mm(width), mm(height), mm(turned));
}

/// Lines that fill their tile from side to side, level before it is turned.
std::string line_pattern(std::string_view id, const Lines& lines) {
  const double s = lines.spacing;
  std::string d = fmt::format("M-1 {0}H{1}", mm(0.5 * s), mm(s + 1.0));
  if (lines.pair > 0.0) d += fmt::format("M-1 {0}H{1}", mm(0.5 * s + lines.pair), mm(s + 1.0));
  if (lines.both_ways) d += fmt::format("M{0}-1V{1}", mm(0.5 * s), mm(s + 1.0));
  return opening(id, s, s, -lines.slope) +
         fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\".18\"/></pattern>", d,
                     line_ink);
}

/// Two rows of waves, one shifted by half a wave.
std::string wave_pattern(std::string_view id, double size, double turned) {
  const double w = 3.8 * size, h = 3.2 * size, quarter = 0.25 * w, high = 1.3 * size;
  const auto wave = [&](double x, double y) {
    return fmt::format("M{} {}q{} {} {} 0t{} 0t{} 0t{} 0", mm(x), mm(y), mm(quarter), mm(-high),
                       mm(2.0 * quarter), mm(2.0 * quarter), mm(2.0 * quarter), mm(2.0 * quarter));
  };
  // Each begins left of the tile and ends right of it.
  const std::string d = wave(-0.5 * w, 0.25 * h) + wave(-0.75 * w, 0.75 * h);
  return opening(id, w, h, turned) +
         fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#555\" stroke-width=\".18\"/></pattern>", d);
}

std::string dot_pattern(std::string_view id, double size) {
  const double s = 1.1 * size;
  const auto dot = [&](double x, double y) {
    return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\".14\"/>", mm(x * s), mm(y * s));
  };
  return opening(id, s, s, 0.0) + fmt::format("<g fill=\"{}\">", line_ink) + dot(0.25, 0.25) +
         dot(0.75, 0.75) + "</g></pattern>";
}

/// Flat rhombs, side by side.
std::string net_pattern(std::string_view id, double size) {
  const double w = 1.8 * size, h = 1.0 * size;
  const std::string d = fmt::format("M0 0L{0} {1}M0 {1}L{0} 0", mm(w), mm(h));
  return opening(id, w, h, 0.0) +
         fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\".16\"/></pattern>", d,
                     line_ink);
}

std::string dash_pattern(std::string_view id, double size) {
  const double w = 1.6 * size, h = 1.0 * size;
  const std::string d = fmt::format("M{} {}h{}M{} {}h{}", mm(0.1 * w), mm(0.25 * h), mm(0.5 * w), mm(0.5 * w),
                                    mm(0.75 * h), mm(0.45 * w));
  return opening(id, w, h, 0.0) +
         fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\".18\"/></pattern>", d,
                     line_ink);
}

double size_of(int number) {
  constexpr std::array<double, 4> sizes{1.0, 0.7, 1.4, 0.5};
  return sizes[static_cast<std::size_t>(number) % sizes.size()];
}

Lines lines_of(HatchKind kind) {
  switch (kind) {
    case HatchKind::wood:
      return {1.5, 45.0, 0.0, false};
    case HatchKind::board:
      return {0.75, -45.0, 0.0, false};
    case HatchKind::cladding:
      return {1.5, 45.0, 0.42, false};
    case HatchKind::masonry:
      return {2.6, 45.0, 0.7, false};
    case HatchKind::plastic:
      return {0.8, 45.0, 0.0, true};
    default:
      return {1.1, 45.0, 0.0, false};
  }
}

}  // namespace

HatchKind hatch_kind(const Material& material) {
  if (material.is_air_space) return HatchKind::air;
  for (const Word& word : words)
    if (material.name.find(word.part) != std::string::npos) return word.kind;
  // Numbers that tell kinds apart, common practice, no source: metals conduct from 10 W/mK on, insulation
  // below 0.07; air can be driven through fibre alone; what has a grain is wood.
  if (material.along_grain) return HatchKind::wood;
  if (material.conductivity >= 10.0) return HatchKind::metal;
  if (material.conductivity < 0.07) return material.airflow_resistivity ? HatchKind::fibre : HatchKind::foam;
  if (material.conductivity >= 0.5) return HatchKind::masonry;
  return HatchKind::other;
}

HatchTable hatch_table(const std::vector<const Section*>& sections) {
  HatchTable table;
  for (const Section* section : sections)
    for (const Shape& shape : section->shapes) {
      const Material& material = section->materials[shape.material];
      if (row_of(table, material.name) < table.size()) continue;
      const HatchKind kind = hatch_kind(material);
      const auto before = std::count_if(table.begin(), table.end(),
                                        [&](const HatchRow& row) { return row.hatch.kind == kind; });
      table.push_back({material.name, {kind, static_cast<int>(before)}});
    }
  return table;
}

std::size_t row_of(const HatchTable& table, std::string_view material) {
  const auto row =
      std::find_if(table.begin(), table.end(), [&](const HatchRow& r) { return r.material == material; });
  return static_cast<std::size_t>(row - table.begin());
}

std::string_view tint(Hatch hatch) {
  constexpr std::array<std::string_view, 2> metals{"#333", "#777"};
  switch (hatch.kind) {
    case HatchKind::metal:
      return metals[static_cast<std::size_t>(hatch.number) % metals.size()];
    case HatchKind::wood:
      return "#ececec";
    default:
      return "#fff";
  }
}

std::string pattern(std::string_view id, Hatch hatch) {
  const int n = hatch.number;
  switch (hatch.kind) {
    case HatchKind::air:
    case HatchKind::metal:
      return {};
    case HatchKind::fibre:
      return wave_pattern(id, size_of(n), n % 2 == 0 ? 0.0 : 90.0);
    case HatchKind::squeezed:
      return wave_pattern(id, 0.55 * size_of(n), n % 2 == 0 ? 0.0 : 90.0);
    case HatchKind::scraps:
      return wave_pattern(id, 0.85 * size_of(n), 35.0 + 50.0 * n);
    case HatchKind::plaster:
      return dot_pattern(id, size_of(n));
    case HatchKind::foam:
      return net_pattern(id, size_of(n));
    case HatchKind::fluid:
      return dash_pattern(id, size_of(n));
    default:
      return line_pattern(id, varied(lines_of(hatch.kind), n));
  }
}

}  // namespace coldbay
