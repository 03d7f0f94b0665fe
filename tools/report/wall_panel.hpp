#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/lettering.hpp"
#include "tools/report/wall_picture.hpp"

namespace coldbay {

/// For lines over the data: light on dark colours and dark on light ones.
Rgb contrasting(const ColourScale& scale, double value);

/// How many pixels of a map are known, and how many of them lie beyond its scale.
struct Clipped {
  std::size_t known = 0, colder = 0, warmer = 0;
  bool any() const { return colder + warmer > 0; }
};
Clipped clipped(const ThermalMap& map, const ColourScale& scale);

/// "9.8 to 17.1 °C", and how much of the map is beyond the scale, in words for under it.
std::string panel_note(const ThermalMap& map, const ColourScale& scale);

/// "12.3 %"; a little is never "0.0 %".
std::string share_text(double share);

/// Draws the map into its box and what lies over it: beyond the scale hatched, where no wall is seen crossed,
/// the framing as thin lines, thresholds, signs of a difference.
void draw_map(Drawing& drawing, const Box& plot, const WallPanel& panel, const WallSheet& sheet,
              const ColourScale& scale);

/// Crosses, lines and their numbers; the stamp where the scale is of these pictures alone.
void draw_marks(Drawing& drawing, const Box& plot, const WallPanel& panel, const WallSheet& sheet,
                bool own_scale);

/// Both axes, left and below. Takes axis_left pixels on the left and axis_below under the plot, and up to
/// axis_beyond to the right.
inline constexpr double axis_left = 84.0, axis_below = 30.0, axis_beyond = 44.0;
void draw_axes(Drawing& drawing, const Box& plot, const ThermalMap& map, LengthUnit unit);

/// The names of the bays under the axis, where they fit: whole, by their last word, or not at all.
inline constexpr double bays_below = 26.0;
void draw_bays(Drawing& drawing, const Box& plot, const ThermalMap& map,
               const std::vector<NamedStretch>& bays);

/// The little picture of a legend that shows how something is drawn on the maps.
enum class Sign { beyond, no_wall, framing, colder };
void draw_sign(Picture& picture, const Box& box, Sign sign);
/// The same of the n-th threshold.
void draw_threshold_sign(Picture& picture, const Box& box, std::size_t n);

/// Signs of a difference on its colour bar, too.
void draw_bar_signs(Picture& picture, const Box& bar, const ColourScale& scale);

}  // namespace coldbay
