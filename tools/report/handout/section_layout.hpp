#pragma once

#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/label_places.hpp"
#include "tools/report/handout/section_svg.hpp"

namespace coldbay {

/// Where a section lies on its paper.
struct SectionLayout {
  bool upright = false;  ///< the first axis runs up
  double scale = 1.0;    ///< [mm of paper per m]
  Span shown;
  double depth = 0.0;  ///< of the section [m]
  PaperBox box;        ///< of what is shown [mm]

  PaperPoint paper(Point at) const {
    const double out = scale * (depth - at.depth);
    return upright ? PaperPoint{box.left + out, box.top + scale * (shown.to - at.across)}
                   : PaperPoint{box.left + scale * (at.across - shown.from), box.top + out};
  }
};

/// The section with its ends drawn out beyond what a break line cuts off: it goes on there.
Section drawn_on(const Section& section, double by);

/// Which ends of what is shown are cut off by a break line: a plan's both, a vertical cut's where the wall
/// goes on.
bool breaks_below(const Section& section, Span shown);
bool breaks_above(const Section& section, Span shown);

/// What is shown as a path on the paper, with the zigzag of its break lines; and those lines alone.
std::string outline_path(const SectionLayout& layout, const Section& section);
std::string break_lines(const SectionLayout& layout, const Section& section);

/// The materials that show, by name, and where on the paper a dot may stand for each.
struct Shown {
  std::string material;
  std::vector<DotPlace> places;
};
std::vector<Shown> shown_materials(const SectionLayout& layout, const Section& drawn);

}  // namespace coldbay
