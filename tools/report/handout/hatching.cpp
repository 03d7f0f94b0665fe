#include "tools/report/handout/hatching.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

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

/// The box in a frame turned about the paper's origin, so much that its x axis leans as the lines do: what
/// has to be filled there.
PaperBox turned_box(const PaperBox& box, double slope) {
  const double angle = slope * std::numbers::pi / 180.0, c = std::cos(angle), s = std::sin(angle);
  PaperBox all{HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
  for (const double x : {box.left, box.right})
    for (const double y : {box.top, box.bottom}) {
      const double along = c * x - s * y, off = s * x + c * y;
      all = {std::min(all.left, along), std::min(all.top, off), std::max(all.right, along),
             std::max(all.bottom, off)};
    }
  return all;
}

std::string stroked(const std::string& path, double slope, std::string_view ink, std::string_view width,
                    std::string_view more = "") {
  const std::string turn = slope == 0.0 ? "" : fmt::format(" transform=\"rotate({})\"", mm(-slope));
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}{}/>", path, ink, width,
                     turn, more);
}

/// The n-th rows from `low` to `high`, counted from the paper's origin: hatches of one material go on from
/// shape to shape.
template <class Row>
void for_each_row(double low, double high, double pitch, const Row& row) {
  for (double n = std::floor(low / pitch); n * pitch <= high; n += 1.0) row(n, n * pitch);
}

/// True for every other row.
bool odd(double n) { return std::fmod(std::abs(n), 2.0) > 0.5; }

std::string straight(const PaperBox& box, const Lines& lines) {
  std::string svg;
  for (const double slope : {lines.slope, lines.slope - 90.0}) {
    const PaperBox frame = turned_box(box, slope);
    std::string path;
    for_each_row(frame.top - lines.pair, frame.bottom, lines.spacing, [&](double, double y) {
      path += fmt::format("M{} {}H{}", mm(frame.left), mm(y), mm(frame.right));
      if (lines.pair > 0.0)
        path += fmt::format("M{} {}H{}", mm(frame.left), mm(y + lines.pair), mm(frame.right));
    });
    svg += stroked(path, slope, line_ink, ".18");
    if (!lines.both_ways) break;
  }
  return svg;
}

/// Rows of waves, every other one shifted by half a wave.
std::string waves(const PaperBox& box, double size, double slope) {
  const double half = 1.9 * size, high = 1.3 * size, pitch = 1.6 * size;
  const PaperBox frame = turned_box(box, slope);
  std::string path;
  for_each_row(frame.top - high, frame.bottom + high, pitch, [&](double n, double y) {
    double x = 2.0 * half * std::floor(frame.left / (2.0 * half)) - (odd(n) ? half : 0.0);
    path += fmt::format("M{} {}q{} {} {} 0", mm(x), mm(y), mm(0.5 * half), mm(-high), mm(half));
    for (x += half; x < frame.right; x += half) path += fmt::format("t{} 0", mm(half));
  });
  return stroked(path, slope, "#555", ".16");
}

/// Rows of dots or dashes, as long as `dash`.
std::string dashes(const PaperBox& box, double pitch, double dash, std::string_view width) {
  const double period = 2.0 * pitch;
  std::string path;
  for_each_row(box.top, box.bottom, pitch, [&](double n, double y) {
    const double from = period * std::floor(box.left / period) - (odd(n) ? pitch : 0.0);
    path += fmt::format("M{} {}H{}", mm(from), mm(y + 0.5 * pitch), mm(box.right));
  });
  return stroked(
      path, 0.0, line_ink, width,
      fmt::format(" stroke-linecap=\"round\" stroke-dasharray=\"{} {}\"", mm(dash), mm(period - dash)));
}

/// Flat rhombs, side by side.
std::string net(const PaperBox& box, double size) {
  constexpr double slope = 30.0;
  return straight(box, {0.85 * size, slope, 0.0, false}) + straight(box, {0.85 * size, -slope, 0.0, false});
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

std::string hatch_lines(Hatch hatch, const PaperBox& box) {
  const int n = hatch.number;
  const double size = size_of(n), across = n % 2 == 0 ? 0.0 : 90.0;
  switch (hatch.kind) {
    case HatchKind::air:
    case HatchKind::metal:
      return {};
    case HatchKind::fibre:
      return waves(box, size, across);
    case HatchKind::squeezed:
      return waves(box, 0.6 * size, across);
    case HatchKind::scraps:
      return waves(box, 0.85 * size, 35.0 + 50.0 * n);
    case HatchKind::plaster:
      return dashes(box, 0.55 * size, 0.0, ".26");
    case HatchKind::foam:
      return net(box, size);
    case HatchKind::fluid:
      return dashes(box, 0.5 * size, 0.45 * size, ".16");
    default:
      return straight(box, varied(lines_of(hatch.kind), n));
  }
}

}  // namespace coldbay
