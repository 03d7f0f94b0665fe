#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/canvas.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// The sizes of a picture of a section. The section is true to scale, room at the bottom; its
/// explanation (legend or colour bar) stands in a panel beside it, or below where the section is
/// too wide for that.
struct SheetPlan {
  int plot_width = 1;
  int plot_height = 1;
  double pixels_per_metre = 1.0;
  bool panel_beside = false;
  double panel_width = 0.0;
};

SheetPlan plan_sheet(const Section& section);

/// What stands close around the section.
struct SheetWords {
  std::string above;
  std::vector<std::string> below;
  EndWords ends = {};  ///< a line of its own right below the section
};

/// The picture with everything but the section and the panel drawn, and where those two go.
struct Sheet {
  Picture picture;
  Box plot;
  Box panel;
};

Sheet draw_sheet(const SheetPlan& plan, const SheetWords& words, double panel_height,
                 const PictureStyle& style);

/// The two ends of a box and the way between them, on one line with its baseline at `y`.
void draw_ends(Picture& picture, const Box& box, double y, const EndWords& ends, double size);

/// Title and name of the cut, as every picture begins. Returns the bottom of what was drawn.
double draw_heading(Picture& picture, double left, double right, const PictureStyle& style);
double heading_height(const PictureStyle& style);

/// White space on every side of a picture.
inline constexpr double sheet_margin = 44.0;

}  // namespace coldbay
