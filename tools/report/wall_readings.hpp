#pragma once

#include <string>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/lettering.hpp"
#include "tools/report/wall_picture.hpp"

namespace coldbay {

/// The scales of a sheet; `own` where they are made from its pictures alone.
struct SheetScales {
  ColourScale temperatures, differences;
  bool own_temperatures = false, own_differences = false;
  const ColourScale& of(const WallPanel& panel) const {
    return panel.is_difference ? differences : temperatures;
  }
  bool own(const WallPanel& panel) const { return panel.is_difference ? own_differences : own_temperatures; }
};

/// What stands under the pictures of a sheet, from top to bottom. Each part knows its height before the
/// picture is made, and takes none where there is nothing to say.
struct Legend {
  struct Row {
    int threshold = -1;  ///< which, or none
    int sign = -1;       ///< a Sign, where it is no threshold
    std::vector<std::string> lines;
  };
  std::vector<Row> rows;
};
Legend legend_of(const WallSheet& sheet, const SheetScales& scales, double width);
double legend_height(const Legend& legend);
void draw_legend(Drawing& drawing, Spot at, const Legend& legend);

/// A row for every spot, a column for every picture.
double spots_height(const WallSheet& sheet);
void draw_spots(Drawing& drawing, const Box& box, const WallSheet& sheet, const SheetScales& scales);

/// A plot for every line: temperature over the distance from its beginning.
double lines_height(const WallSheet& sheet, double width);
void draw_lines(Drawing& drawing, const Box& box, const WallSheet& sheet, const PictureStyle& style);

}  // namespace coldbay
