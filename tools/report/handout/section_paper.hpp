#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/label_places.hpp"
#include "tools/report/handout/section_layout.hpp"
#include "tools/report/handout/section_svg.hpp"

namespace coldbay {

/// Space round a section, from its box outward [mm].
struct SpaceRound {
  double left = 0.0, right = 0.0, above = 0.0, below = 0.0;
};

/// Where everything goes on the paper of a section: the section itself, and what stands round it.
struct SectionPaper {
  Section drawn;  ///< as a draughtsman draws it, and drawn on beyond its break lines
  SectionLayout layout;
  std::vector<PlacedLabel> labels;  ///< names of the materials that show
  std::vector<Lettering> texts;     ///< everything else that is written
  std::string dimension_path;
  SpaceRound taken;                  ///< by what stands round the section
  double width = 0.0, height = 0.0;  ///< of the paper [mm]
};

/// With at least that much space round the section: two drawings with the same are of one scale, and level.
SectionPaper section_paper(const SectionView& view, const SpaceRound& least = {});

}  // namespace coldbay
