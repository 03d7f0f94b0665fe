#pragma once

#include <optional>
#include <string>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/results/loop_flow.hpp"
#include "solver/results/surface.hpp"
#include "solver/temperature_field.hpp"
#include "tools/report/palette.hpp"
#include "tools/report/picture.hpp"

namespace coldbay {

enum class TemperatureUnit { celsius, fahrenheit };
enum class LengthUnit { millimetre, inch };

/// What a picture says around the data.
struct PictureStyle {
  Palette palette = Palette::hearth;
  TemperatureUnit temperature = TemperatureUnit::celsius;
  LengthUnit length = LengthUnit::millimetre;
  std::string title;          ///< of the case
  std::string cut;            ///< name of the section; may be empty
  bool mark_warmest = false;  ///< on the face: the season is warm, and the warmest point is the one to see
};

/// Which temperatures the ends of the palette stand for [degC], and in words where they come from
/// ("scale shared by 3 sections"); the words are stamped on the picture.
struct TemperatureScale {
  double coldest = 0.0;
  double warmest = 0.0;
  std::string stamp;
};

/// The section as drawn: each material in its colour, named beside it with its conductivity.
Picture materials_picture(const Section& section, const ConductivityGrid& grid, const PictureStyle& style);

/// The section's temperatures, with isotherms at the labelled steps of its scale and the outlines
/// of the materials in thin lines; of air that loops, arrows where it goes. `loop` may be null.
Picture temperature_picture(const Section& section, const ConductivityGrid& grid, const Surroundings& air,
                            const TemperatureField& field, const TemperatureScale& scale,
                            const PictureStyle& style, const LoopFlow* loop = nullptr);

/// A face and what is drawn beside it. All borrowed.
struct FaceShown {
  const SurfaceProfile* profile = nullptr;
  std::optional<double> dew_point = {};   ///< [degC]
  const SurfaceProfile* right = nullptr;  ///< the same face built right, a thin line; may be null
  const SurfaceProfile* still = nullptr;  ///< with the air in the wall standing still, dashed; may be null
  bool outer = false;                     ///< it is the outside face
};

/// A face: the profile drawn out upwards as a strip, and below it as a curve over its width. The dew point,
/// where known, is drawn where it lies within the curve's temperatures or at most 3 K beyond them.
Picture face_picture(const Section& section, const FaceShown& face, const TemperatureScale& scale,
                     const PictureStyle& style);

}  // namespace coldbay
