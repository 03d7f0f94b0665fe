#include "tools/case_camera.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "tools/report/amounts.hpp"

namespace coldbay {

Camera camera_of(const Case& c, const FaceMap& face) {
  if (c.camera) return *c.camera;
  Camera camera;
  const auto whole = [](const Axis& axis) { return Span{axis.edges().front(), axis.edges().back()}; };
  const View view = view_of(camera, whole(face.across), whole(face.up));
  camera.distance = std::max(camera.distance, view.whole_wall_from);
  return camera;
}

Sight sight_of(const Case& c, const FaceMap& face) {
  const Camera camera = camera_of(c, face);
  const double pixel = view_of(camera, {0.0, 1.0}, {0.0, 1.0}).pixel;
  return {camera.distance,     pixel,
          camera.blur * pixel, camera.noise,
          camera.emissivity,   camera.reflected.value_or(c.air.inside.temperature)};
}

std::string camera_words(const Camera& camera, UnitSystem units) {
  const View view = view_of(camera, {0.0, 1.0}, {0.0, 1.0});
  const bool metric = units == UnitSystem::metric;
  return fmt::format(
      "{} away, a pixel {}, noise {}, emissivity {:.2f}", distance_text(camera.distance, units),
      metric ? fmt::format("{:.1f} mm", 1e3 * view.pixel) : fmt::format("{:.2f} in", view.pixel / 0.0254),
      metric ? fmt::format("{:.2g} K", camera.noise) : fmt::format("{:.2g} °F", 1.8 * camera.noise),
      camera.emissivity);
}

}  // namespace coldbay
