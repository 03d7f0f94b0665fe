#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/svg_drawing.hpp"

namespace coldbay {

/// How what is cut is filled, in the manner of ISO 128 (general hatching at 45 degrees, neighbours by another
/// slope or spacing) and of building drawings (a loose curve for fibre); which line stands for what is our
/// own. All of it black and grey, so that a copier keeps it.
enum class HatchKind {
  air,       ///< left white
  fibre,     ///< waves
  squeezed,  ///< the same fibre, denser: closer waves
  scraps,    ///< the same, askew
  foam,      ///< a net of flat rhombs
  wood,      ///< 45 degrees, wide, on pale grey
  board,     ///< of wood: 45 degrees the other way, close
  plaster,   ///< dots
  cladding,  ///< 45 degrees, close pairs
  masonry,   ///< 45 degrees, wide pairs
  plastic,   ///< 45 degrees both ways
  metal,     ///< nearly black
  fluid,     ///< level dashes
  other      ///< 45 degrees
};

HatchKind hatch_kind(const Material& material);

/// One kind of hatching. Materials that share one differ in slope and spacing, by their number in it.
struct Hatch {
  HatchKind kind = HatchKind::other;
  int number = 0;
};

/// Which hatch a material has, by its name. One table for a whole page: a material looks the same in all of
/// its drawings.
struct HatchRow {
  std::string material;
  Hatch hatch;
};
using HatchTable = std::vector<HatchRow>;

/// The materials of the shapes of some sections, each name once, in the order in which they come.
HatchTable hatch_table(const std::vector<const Section*>& sections);

/// The row of a material; the table's size where it has none.
std::size_t row_of(const HatchTable& table, std::string_view material);

/// Grey below the hatch, as an SVG colour.
std::string_view tint(Hatch hatch);

/// The lines of a hatch over a box of the paper and somewhat beyond, to be clipped; empty for what has none.
/// They hang on the paper's origin, so that they go on from shape to shape. Lines, not an SVG pattern:
/// browsers print that as pixels.
std::string hatch_lines(Hatch hatch, const PaperBox& box);

}  // namespace coldbay
