#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tools/report/lettering.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/thermal_map.hpp"

namespace coldbay {

/// A place, a rectangle and a stretch of the wall's face [m].
struct FacePlace {
  double across = 0.0, up = 0.0;
};
struct FaceRectangle {
  Span across, up;
};
struct NamedStretch {
  std::string name;
  Span across;
};

/// One picture of the wall on a sheet.
struct WallPanel {
  std::string name;   ///< "as built"
  std::string words;  ///< more about it; may be empty
  ThermalMap map;
  bool is_difference = false;  ///< its values are differences [K], coloured by plumb
};

/// Where the face is colder than this is outlined and lightly hatched on every picture of temperatures.
struct Threshold {
  std::string name;  ///< "dew point"
  double celsius = 0.0;
};
/// A numbered cross, and a row of a table with what every picture shows there.
struct SpotReading {
  std::string name;
  FacePlace at;
};
/// A numbered line, and a plot of what every picture of temperatures shows along it.
struct LineReading {
  std::string name;
  FacePlace from, to;
};

/// Which difference [K] either end of plumb stands for, and in words where it comes from.
struct DifferenceScale {
  double end = 1.0;
  std::string stamp;
};

/// Pictures of the wall seen from the room, side by side or one below the other, all of one size to the metre
/// and on one scale. A scale that is left empty is made from these pictures alone, from the least to the
/// greatest value, and every picture is stamped that it must not be compared.
struct WallSheet {
  std::vector<WallPanel> panels;
  std::optional<TemperatureScale> scale;
  std::optional<DifferenceScale> difference_scale;
  std::vector<NamedStretch> bays;
  std::vector<FaceRectangle> framing;  ///< outlined by thin lines
  std::vector<Threshold> thresholds;
  std::vector<SpotReading> spots;
  std::vector<LineReading> lines;
  int columns = 0;  ///< pictures side by side; 0: as they come out largest
};

/// The sheet as drawn: `plots` are where the maps of the panels lie.
struct WallDrawing {
  Drawing drawing;
  std::vector<Box> plots;
};

/// Draws a sheet of at least one panel, the words of `style` above. 5 mm of wall take one to two pixels,
/// those of a camera a whole number of pixels, except where that would be wider or higher than 4000.
WallDrawing wall_drawing(const WallSheet& sheet, const PictureStyle& style);
Picture wall_picture(const WallSheet& sheet, const PictureStyle& style);

/// What an ideal camera would show of the wall and what the camera records, side by side on one scale.
Picture camera_picture(const ThermalMap& ideal, const ThermalMap& recorded, const TemperatureScale& scale,
                       const PictureStyle& style);

/// The least and the greatest temperature of all pictures of temperatures, each rounded outward to a whole or
/// a half degree of the picture's unit: a scale for them all.
TemperatureScale shared_scale(std::span<const WallPanel> panels, TemperatureUnit unit, std::string stamp);

/// The same for differences: the greatest, rounded up to 1, 2, 3, 4, 5, 6 or 8 times a power of ten of the
/// unit, and at least 0.5 K, so that rounding does not look like weather.
DifferenceScale shared_difference_scale(std::span<const WallPanel> panels, TemperatureUnit unit,
                                        std::string stamp);

}  // namespace coldbay
