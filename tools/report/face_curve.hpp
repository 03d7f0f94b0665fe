#pragma once

#include <optional>

#include "solver/results/surface.hpp"
#include "tools/report/canvas.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// A face and its temperatures; `profile` is borrowed and must outlive the curve.
struct FaceCurve {
  double width = 0.0;  ///< [m]
  const SurfaceProfile* profile = nullptr;
  bool upright = false;                   ///< it runs up the wall from the floor
  const SurfaceProfile* right = nullptr;  ///< the same face built right, drawn thin behind it; may be null
  const SurfaceProfile* still = nullptr;  ///< with the air standing still, dashed and named; may be null
};

/// The temperatures as a curve over the place, with axes and grid lines, the dew point where it lies
/// on the axis or near it, and the coldest place. Labels stand left of the plot and below it.
void draw_curve(Picture& picture, const Box& plot, const FaceCurve& curve, std::optional<double> dew_point,
                const PictureStyle& style);

/// What the labels below the plot take.
inline constexpr double length_axis_height = 40.0;

}  // namespace coldbay
