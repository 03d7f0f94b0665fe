#include "tools/input/camera_reader.hpp"

#include <fmt/core.h>

#include <numbers>
#include <utility>

#include "geometry/wall/build.hpp"

namespace coldbay {
namespace {

/// A number between two others, or what it was; `range` says which these are.
struct Bounds {
  double least, most;
  const char* range;
};
void read_within(const Node* node, Quantity quantity, Bounds bounds, double& to, Reading& in) {
  const auto value = read_quantity(node, quantity, in);
  if (!value) return;
  if (!(*value >= bounds.least && *value <= bounds.most))
    return in.error(node->where, fmt::format("'{}' is out of range", shortened(node->text)), bounds.range);
  to = *value;
}

void read_pixels(const Node& node, Camera& camera, Reading& in) {
  if (node.kind != Node::Kind::sequence || node.items.size() != 2)
    return in.error(node.where, "pixels are two whole numbers, across and up, such as [320, 240]");
  const auto columns = read_count(node.items[0], 1, most_pixels, in),
             rows = read_count(node.items[1], 1, most_pixels, in);
  if (!columns || !rows) return;
  if (*columns > most_pixels / *rows)
    return in.error(node.where, fmt::format("{} by {} pixels are more than ten million", *columns, *rows),
                    "a usual camera for buildings has [320, 240], a large one [1024, 768]");
  camera.columns = *columns;
  camera.rows = *rows;
}

/// Named things in the order of the file: f(name, value).
template <class F>
void each_named(const Node* node, std::string_view what, const char* example, F f, Reading& in) {
  if (!node) return;
  if (node->kind != Node::Kind::map)
    return in.error(node->where, fmt::format("{} have names", what), fmt::format("write {}", example));
  for (const auto& entry : node->entries) f(harmless(entry.key), entry.value);
}

/// [across, up] on the face of the wall; an error where it is off it.
std::optional<FacePoint> read_point(const Node& node, std::string_view what, const Case& c, Reading& in) {
  const auto at = read_pair(node, what, in);
  if (!at) return std::nullopt;
  if (c.wall) {
    constexpr double rounding = 1e-6;  // [m]
    const double width = elevation_of(*c.wall).width, height = c.wall->height;
    if (!(at->first >= 0.0 && at->first <= width + rounding && at->second >= 0.0 &&
          at->second <= height + rounding)) {
      in.error(node.where, fmt::format("{} is off the wall", what),
               fmt::format("[across, up]: this wall is {:.0f} mm wide and {:.0f} mm high", 1e3 * width,
                           1e3 * height));
      return std::nullopt;
    }
  }
  return FacePoint{at->first, at->second};
}

void read_line(std::string name, const Node& node, const Case& c, PictureWishes& out, Reading& in) {
  if (node.kind != Node::Kind::sequence || node.items.size() != 2)
    return in.error(node.where, "a line has two ends, such as [[0 mm, 1.2 m], [2 m, 1.2 m]]");
  const auto from = read_point(node.items[0], "an end of a line", c, in),
             to = read_point(node.items[1], "an end of a line", c, in);
  if (!from || !to) return;
  if (from->across == to->across && from->up == to->up)
    return in.error(node.where, "both ends of this line are one point", "a spot reads a point");
  out.lines.push_back({std::move(name), *from, *to});
}

}  // namespace

Camera read_camera(const Node& node, Reading& in) {
  Camera camera;
  const Fields fields(
      node, "a camera",
      {"emissivity", "reflected", "distance", "field of view", "pixels", "noise", "blur", "band", "seed"},
      in);
  if (!fields.is_map()) return camera;
  read_within(fields.optional("emissivity"), Quantity::number,
              {1e-3, 1.0, "an emissivity lies above 0 (from 0.001) and is 1 at most; 0.9 is usual"},
              camera.emissivity, in);
  camera.reflected = read_quantity(fields.optional("reflected"), Quantity::temperature, in);
  if (const auto distance = read_size(fields.optional("distance"), in)) camera.distance = *distance;
  read_within(fields.optional("field of view"), Quantity::angle,
              {0.1 * std::numbers::pi / 180.0, 2.0 * std::numbers::pi / 3.0 * (1.0 - 1e-12),
               "a field of view lies above 0° (from 0.1°) and below 120°"},
              camera.field_of_view, in);
  if (const Node* pixels = fields.optional("pixels")) read_pixels(*pixels, camera, in);
  read_within(fields.optional("noise"), Quantity::temperature_difference,
              {0.0, 10.0, "noise lies between 0 K and 10 K; 0.05 K is usual"}, camera.noise, in);
  read_within(fields.optional("blur"), Quantity::number,
              {0.0, most_blur, "blur lies between 0 and 50 pixels; 0.7 is usual"}, camera.blur, in);
  if (const Node* band = fields.optional("band"))
    camera.band = read_choice(*band, "a band", {"long wave", "all"}, in) == std::size_t{1} ? Band::all
                                                                                           : Band::long_wave;
  if (const Node* seed = fields.optional("seed"))
    camera.seed = static_cast<std::uint64_t>(read_count(*seed, 0, 1'000'000'000, in).value_or(1));
  return camera;
}

PictureWishes read_picture(const Node& node, const Case& c, Reading& in) {
  PictureWishes out;
  const Fields fields(node, "a picture", {"level", "span", "spots", "lines", "thresholds"}, in);
  if (!fields.is_map()) return out;
  out.level = read_quantity(fields.optional("level"), Quantity::temperature, in);
  if (const Node* written = fields.optional("span")) {
    double span = unread;
    read_within(written, Quantity::temperature_difference,
                {1e-3, 1e3, "a span is the width of the scale, above 0 K (from 0.001 to 1000 K)"}, span, in);
    out.span = span;
  }
  for (const char* key : {"spots", "lines"})
    if (const Node* points = fields.optional(key); points && c.direct_form)
      in.error(points->where, fmt::format("{} lie on the face of a wall, and this case draws a section", key),
               "leave them out; probes read a section");
  if (!c.direct_form) {
    each_named(
        fields.optional("spots"), "spots", "spots: {NAME: [across, up]}",
        [&](std::string name, const Node& at) {
          if (const auto point = read_point(at, "a spot", c, in))
            out.spots.push_back({std::move(name), *point});
        },
        in);
    each_named(
        fields.optional("lines"), "lines", "lines: {NAME: [[across, up], [across, up]]}",
        [&](std::string name, const Node& ends) { read_line(std::move(name), ends, c, out, in); }, in);
  }
  each_named(
      fields.optional("thresholds"), "thresholds", "thresholds: {frost: 0 °C}",
      [&](std::string name, const Node& value) {
        if (const auto celsius = read_quantity(value, Quantity::temperature, in))
          out.thresholds.push_back({std::move(name), *celsius});
      },
      in);
  return out;
}

}  // namespace coldbay
