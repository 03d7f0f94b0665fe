#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/label_places.hpp"
#include "tools/report/handout/section_layout.hpp"
#include "tools/report/handout/section_svg.hpp"

namespace coldbay {

/// Where everything goes on the paper of a section: the section itself, and what stands round it.
struct SectionPaper {
  Section drawn;  ///< as a draughtsman draws it, and drawn on beyond its break lines
  SectionLayout layout;
  std::vector<PlacedLabel> labels;  ///< names of the materials that show
  std::vector<Lettering> texts;     ///< everything else that is written
  std::string dimension_path;
  std::vector<std::string> materials;  ///< that show
  double width = 0.0, height = 0.0;    ///< of the paper [mm]
};

SectionPaper section_paper(const SectionView& view);

}  // namespace coldbay
