#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "tools/report/handout/hatching.hpp"
#include "tools/report/handout/markup.hpp"

namespace coldbay {
namespace {

constexpr double swatch_width = 7.0, swatch_height = 4.0, gap = 1.5, row_height = 5.6, widest_name = 45.0;

struct Entry {
  Hatch hatch;
  Lettering name;
};

/// Names of a row of the table, each once.
std::vector<Entry> entries(const HatchTable& table, const std::vector<std::string>& materials, double widest,
                           const Translate& word) {
  std::vector<Entry> all;
  for (std::size_t i = 0; i < table.size(); ++i) {
    const std::string& material = table[i].material;
    if (std::find(materials.begin(), materials.end(), material) == materials.end()) continue;
    const std::string full = word ? word(material) : material, text = fitted(full, widest);
    all.push_back({table[i].hatch, {{}, Anchor::start, text, text == full ? std::string{} : full}});
  }
  return all;
}

std::string swatch(std::string_view clip, const Hatch& hatch, PaperPoint at) {
  const std::string box = fmt::format("x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", mm(at.x), mm(at.y),
                                      mm(swatch_width), mm(swatch_height));
  const std::string lines = hatch_lines(hatch, {at.x, at.y, at.x + swatch_width, at.y + swatch_height});
  std::string drawn = fmt::format("<rect {} fill=\"{}\"/>", box, tint(hatch));
  if (!lines.empty())
    drawn += fmt::format("<clipPath id=\"{0}\"><rect {1}/></clipPath><g clip-path=\"url(#{0})\">{2}</g>",
                         clip, box, lines);
  return drawn + fmt::format("<rect {} fill=\"none\" stroke=\"#000\" stroke-width=\".25\"/>", box);
}

}  // namespace

SvgDrawing hatch_legend(const HatchTable& table, const std::vector<std::string>& materials,
                        std::string_view id, double width_mm, std::string_view title, const Translate& word) {
  std::vector<Entry> all =
      entries(table, materials, std::min(widest_name, width_mm - swatch_width - gap - 1.0), word);
  double widest = 0.0;
  for (const Entry& entry : all) widest = std::max(widest, lettering_width(entry.name.text));
  const double column = swatch_width + gap + widest + 3.0;
  const auto columns = static_cast<std::size_t>(std::max(1.0, std::floor((width_mm + 2.0) / column)));
  const std::size_t rows = (all.size() + columns - 1) / columns;
  SvgDrawing drawing{{}, width_mm, row_height * static_cast<double>(std::max<std::size_t>(rows, 1)), {}};
  std::string words;
  for (const Entry& entry : all) words += (words.empty() ? "" : ", ") + entry.name.text;
  drawing.svg = svg_opening(id, drawing.width_mm, drawing.height_mm, title, words);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const PaperPoint at{0.3 + column * static_cast<double>(i / rows),
                        0.8 + row_height * static_cast<double>(i % rows)};
    drawing.svg += swatch(escaped(id) + "-c" + std::to_string(i), all[i].hatch, at);
    all[i].name.at = {at.x + swatch_width + gap, at.y + 0.5 * swatch_height + 0.36 * lettering_mm};
    drawing.svg += text_element(all[i].name);
  }
  drawing.svg += "</svg>";
  return drawing;
}

}  // namespace coldbay
