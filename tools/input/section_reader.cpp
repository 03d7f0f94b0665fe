#include "tools/input/section_reader.hpp"

#include <fmt/core.h>

#include <algorithm>

#include <map>
#include <utility>

#include "tools/input/material_reader.hpp"

namespace coldbay {
namespace {

/// Every corner takes a grid line on both axes, so that many more would be too many cells, and whether its
/// edges cross takes the square of their number to find out.
constexpr std::size_t most_corners = 1000;

std::optional<Outline> read_rectangle(const Fields& fields, const std::string& first, Reading& in) {
  const Node* across = fields.required(first);
  const Node* depth = fields.required("depth");
  const auto a = across ? read_pair(*across, fmt::format("'{}'", first), in) : std::nullopt;
  const auto d = depth ? read_pair(*depth, "'depth'", in) : std::nullopt;
  if (!a || !d) return std::nullopt;
  const auto in_order = [&in](const Node& node, const Pair& p) {
    if (p.first < p.second) return true;
    in.error(node.where, p.first == p.second ? "this stretch has no length" : "this stretch runs backwards",
             "write the smaller number first");
    return false;
  };
  const bool across_good = in_order(*across, *a), depth_good = in_order(*depth, *d);  // look at both
  if (!across_good || !depth_good) return std::nullopt;
  return Rectangle{{a->first, a->second}, {d->first, d->second}};
}

std::optional<Outline> read_polygon(const Node& node, Reading& in) {
  Polygon polygon;
  const std::size_t errors = in.errors.size();
  const auto& corners = read_list(node, "a list of corners", in);
  if (corners.size() > most_corners)
    in.error(node.where, fmt::format("this polygon has {} corners", corners.size()),
             fmt::format("at most {} are read: leave out those that lie close together", most_corners));
  if (in.errors.size() != errors) return std::nullopt;
  for (const Node& corner : corners)
    if (const auto p = read_pair(corner, "a corner", in)) polygon.corners.push_back({p->first, p->second});
  if (in.errors.size() != errors) return std::nullopt;
  return polygon;
}

std::optional<Outline> read_circle(const Node& node, Reading& in) {
  const Fields fields(node, "a circle", {"centre", "radius"}, in);
  const Node* centre = fields.required("centre");
  const auto c = centre ? read_pair(*centre, "a centre", in) : std::nullopt;
  const auto r = read_size(fields.required("radius"), in);
  if (!c || !r) return std::nullopt;
  return Circle{{c->first, c->second}, *r};
}

}  // namespace

std::optional<Outline> read_outline(const Node& node, const Fields& fields, const std::string& first,
                                    Reading& in) {
  const Node* polygon = fields.optional("polygon");
  const Node* circle = fields.optional("circle");
  const bool rectangle = fields.optional(first) || fields.optional("depth");
  const int outlines = (polygon ? 1 : 0) + (circle ? 1 : 0) + (rectangle ? 1 : 0);
  if (outlines != 1) {
    in.error(node.where, outlines == 0 ? "this shape has no outline" : "this shape has more than one outline",
             fmt::format("give '{}' and 'depth', or a 'polygon', or a 'circle'", first));
    return std::nullopt;
  }
  if (polygon) return read_polygon(*polygon, in);
  return circle ? read_circle(*circle, in) : read_rectangle(fields, first, in);
}

namespace {

void read_shape(const Node& node, Section& section, Reading& in) {
  const Fields fields(node, "a shape",
                      {"material", "across", "depth", "polygon", "circle", "grain", "ventilated"}, in);
  if (!fields.is_map()) return;
  const Node* named = fields.required("material");
  const auto entry = named ? read_material(*named, in) : std::nullopt;
  const auto outline = read_outline(node, fields, "across", in);
  if (!entry || !outline) return;
  const auto same = std::find(section.materials.begin(), section.materials.end(), entry->material);
  const auto m = static_cast<std::size_t>(same - section.materials.begin());
  if (m == section.materials.size()) section.materials.push_back(entry->material);
  Shape shape{*outline, m, node.path};
  if (const Node* grain = fields.optional("grain")) {
    const auto way = read_choice(*grain, "a way of the grain", {"across", "up", "depth"}, in);
    shape.grain = static_cast<Direction>(way.value_or(1));
  }
  if (const Node* ventilated = fields.optional("ventilated")) {
    const auto how = read_choice(*ventilated, "how an air space is ventilated", {"slightly", "well"}, in);
    shape.slightly_ventilated = how == std::size_t{0};
    shape.well_ventilated = how == std::size_t{1};
    if (!entry->material.is_air_space)
      in.error(ventilated->where, "only an air space is ventilated", "leave it out");
  }
  section.shapes.push_back(std::move(shape));
}

}  // namespace

Section read_section(const Node& node, const Node* probes, Reading& in) {
  Section section;
  const Fields fields(node, "a section", {"width", "depth", "shapes", "cut"}, in);
  section.width = read_size(fields.required("width"), in).value_or(unread);
  section.depth = read_size(fields.required("depth"), in).value_or(unread);
  if (const Node* cut = fields.optional("cut"))
    if (read_choice(*cut, "how a section is cut", {"plan", "vertical"}, in) == std::size_t{1})
      section.cut = CutKind::vertical;
  if (const Node* shapes = fields.required("shapes"))
    for (const Node& shape : read_list(*shapes, "a list of shapes", in)) read_shape(shape, section, in);
  if (!probes) return section;
  if (probes->kind != Node::Kind::map)
    in.error(probes->where, "probes are named points", "write probes: {NAME: [across, depth]}");
  for (const auto& entry : probes->entries)
    if (const auto at = read_pair(entry.value, "a probe", in))
      section.probes.push_back({harmless(entry.key), {at->first, at->second}, entry.value.path});
  return section;
}

}  // namespace coldbay
