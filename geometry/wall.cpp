#include "geometry/wall.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "materials/batt.hpp"

namespace coldbay {
namespace {

constexpr double cover_plate =
    0.002;  ///< thickness of the plastic over a box [m]; common practice, no source

/// A batt gives this much, either way, without a change anyone could measure [m]; common practice, no source.
constexpr double slack = 0.002;

/// Lengths that differ by less are equal: rounding of inches and millimetres [m].
constexpr double same_place = 1e-6;

/// Where the layers of a wall lie in depth.
struct Depths {
  std::vector<Span> layers;
  Span frame{};
  double total = 0.0;
};

Depths depths_of(const Wall& wall) {
  Depths d;
  for (const Layer& layer : wall.layers) {
    const double t = layer.is_frame ? wall.frame.member_depth : layer.thickness;
    d.layers.push_back({d.total, d.total + t});
    if (layer.is_frame) d.frame = d.layers.back();
    d.total += t;
  }
  return d;
}

/// Paints into a section, keeping each material once.
class Painter {
 public:
  explicit Painter(Section& section) : section_(section) {}
  void paint(const Material& material, Span across, Span depth, const std::string& path) {
    section_.shapes.push_back({Rectangle{across, depth}, index_of(material), path});
  }

 private:
  std::size_t index_of(const Material& m) {
    auto& all = section_.materials;
    const auto same = std::find(all.begin(), all.end(), m);
    if (same != all.end()) return static_cast<std::size_t>(same - all.begin());
    all.push_back(m);
    return all.size() - 1;
  }
  Section& section_;
};

bool reaches(const Box& box, double height) { return std::abs(height - box.centre) <= 0.5 * box.height; }

void paint_gaps(Painter& p, const Bay& bay, const Material& air, Span across, Span depth) {
  const Gap& g = bay.gap;
  const std::string path = bay.path + ".gap";
  if (g.left > 0.0) p.paint(air, {across.from, across.from + g.left}, depth, path);
  if (g.right > 0.0) p.paint(air, {across.to - g.right, across.to}, depth, path);
  if (g.room > 0.0) p.paint(air, across, {depth.from, depth.from + g.room}, path);
  if (g.sheathing > 0.0) p.paint(air, across, {depth.to - g.sheathing, depth.to}, path);
}

void paint_box(Painter& p, const Bay& bay, const Material& fill, const Material& air, Span across,
               Span frame) {
  const Box& box = *bay.box;
  const std::string path = bay.path + ".box";
  const bool left = box.stud == Box::Stud::left;
  const Span wide =
      left ? Span{across.from, across.from + box.width} : Span{across.to - box.width, across.to};
  const Span inner{wide.from + box.wall, wide.to - box.wall};
  // Behind the box, whatever gap there was beside it: air, or a piece of the fill.
  const bool open = box.behind == Box::Behind::open;
  const Span behind{std::max(box.depth, frame.from), open ? frame.to : frame.to - bay.gap.sheathing};
  if (behind.length() > same_place) p.paint(open ? air : fill, wide, behind, path);
  p.paint(box.material, wide, {0.0, box.depth}, path);
  p.paint(air, inner, {0.0, box.depth - box.wall}, path);
  p.paint(box.cover, wide, {0.0, cover_plate}, path);
}

/// The fill as it sits: a batt conducts by its density and temperature, and its density by the room that it
/// has.
Material fill_as_it_sits(const Bay& bay, double frame_depth) {
  Material fill = bay.fill;
  if (!bay.batt) return fill;
  const double depth = frame_depth - bay.gap.room - bay.gap.sheathing;
  double density = label_density(*bay.batt);
  if (bay.fill_fraction) {
    density *= *bay.fill_fraction;
    fill.name += fmt::format(" in scraps, {:.0f} %", 100.0 * *bay.fill_fraction);
  } else if (bay.batt->thickness - depth > slack) {
    density = squeezed_density(*bay.batt, depth);
    fill.name += fmt::format(" squeezed to {:.0f} %", 100.0 * depth / bay.batt->thickness);
  }
  fill.law = batt_law(*bay.batt, density);
  fill.conductivity = conductivity_at(fill, 10.0);
  fill.source += "; by density and temperature, the fibre model fitted to [WSEC101]";
  return fill;
}

std::string mm(double metres) { return fmt::format("{:.1f} mm", 1e3 * metres); }

void check_box(const Wall& wall, const Bay& bay, const Depths& depths, std::vector<Problem>& problems) {
  const Box& box = *bay.box;
  const std::string path = bay.path + ".box";
  if (box.width > bay.clear_width)
    problems.push_back(
        {path + ".width",
         fmt::format("a box {} wide does not fit a bay {} wide", mm(box.width), mm(bay.clear_width)),
         "make it narrower, or the bay wider"});
  if (box.depth > depths.frame.to + same_place)
    problems.push_back(
        {path + ".depth", fmt::format("a box {} deep reaches through the frame", mm(box.depth)),
         fmt::format("from the room face to the back of the frame are {}", mm(depths.frame.to))});
  if (2.0 * box.wall >= box.width || box.wall + cover_plate >= box.depth)
    problems.push_back(
        {path + ".wall", "the walls of the box leave no room inside it", "a usual wall is 1.5 mm thick"});
  const double floor = wall.frame.bottom_plates * wall.frame.member_width;
  const double ceiling = wall.height - wall.frame.top_plates * wall.frame.member_width;
  if (box.centre - 0.5 * box.height < floor || box.centre + 0.5 * box.height > ceiling)
    problems.push_back({path + ".at",
                        fmt::format("a box {} high at {} reaches into a plate or past the wall",
                                    mm(box.height), mm(box.centre)),
                        fmt::format("the bays reach from {} to {} above the floor", mm(floor), mm(ceiling))});
}

void check_bay(const Wall& wall, const Bay& bay, const Depths& depths, std::vector<Problem>& problems) {
  if (bay.clear_width <= 0.0) {
    problems.push_back(
        {bay.path, fmt::format("this bay is {} wide", mm(bay.clear_width)),
         "the spacing of the studs must be more than their width, or give the bay a clear width"});
    return;
  }
  const Gap& g = bay.gap;
  if (g.left + g.right >= bay.clear_width)
    problems.push_back(
        {bay.path + ".gap",
         fmt::format("gaps of {} leave nothing of a bay {} wide", mm(g.left + g.right), mm(bay.clear_width)),
         "for a bay without insulation write 'nothing'"});
  const double left_deep = depths.frame.length() - g.room - g.sheathing;
  if (left_deep <= 0.0)
    problems.push_back({bay.path + ".gap",
                        fmt::format("gaps of {} leave nothing of a bay {} deep", mm(g.room + g.sheathing),
                                    mm(depths.frame.length())),
                        "for a bay without insulation write 'nothing'"});
  else if (bay.batt && !bay.fill_fraction && left_deep < least_thickness_share * bay.batt->thickness)
    problems.push_back(
        {bay.path,
         fmt::format("{} is {} thick and has {} here: that is more than a batt can be squeezed",
                     bay.fill.name, mm(bay.batt->thickness), mm(left_deep)),
         "choose a batt made for this depth, or give a fill by its conductivity"});
  else if (bay.batt && !bay.fill_fraction && left_deep - bay.batt->thickness > slack)
    problems.push_back(
        {bay.path,
         fmt::format("{} is {} thick in {}: where is the rest?", bay.fill.name, mm(bay.batt->thickness),
                     mm(left_deep)),
         fmt::format("say on which side the air is: gap: {{sheathing: {}}} or gap: {{room: {}}}",
                     mm(left_deep - bay.batt->thickness), mm(left_deep - bay.batt->thickness))});
  if (bay.box) check_box(wall, bay, depths, problems);
}

}  // namespace

std::vector<Problem> check(const Wall& wall) {
  std::vector<Problem> problems;
  int frames = 0;
  for (const Layer& layer : wall.layers) frames += layer.is_frame ? 1 : 0;
  if (frames != 1)
    problems.push_back({"wall.layers", fmt::format("the wall has {} frame layers", frames),
                        "write 'frame' once among the layers"});
  // A steel stud is a thin C; a solid bar of its outside size would conduct thirty times as well.
  if (wall.frame.material.conductivity > 10.0)
    problems.push_back({"wall.frame.member",
                        "a frame of solid metal is no wall: a steel stud is a thin sheet",
                        "draw one bay by its shapes, the stud as three thin rectangles "
                        "(cases/published/steel-stud-gap.yaml)"});
  const double plates = (wall.frame.bottom_plates + wall.frame.top_plates) * wall.frame.member_width;
  if (plates >= wall.height)
    problems.push_back(
        {"wall.height",
         fmt::format("plates of {} leave nothing of a wall {} high", mm(plates), mm(wall.height)), ""});
  if (wall.bays.empty())
    problems.push_back({"wall.bays", "the wall has no bays", "give at least one, left to right"});
  if (!problems.empty()) return problems;
  const Depths depths = depths_of(wall);
  for (const Bay& bay : wall.bays) check_bay(wall, bay, depths, problems);
  return problems;
}

Section plan_section(const Wall& wall, double height, const std::string& name, const std::string& path) {
  const double floor = wall.frame.bottom_plates * wall.frame.member_width;
  const double ceiling = wall.height - wall.frame.top_plates * wall.frame.member_width;
  if (!(height > floor && height < ceiling))
    throw ModelError(path, fmt::format("a plan section at {} does not cut the bays of this wall", mm(height)),
                     fmt::format("the bays reach from {} to {} above the floor", mm(floor), mm(ceiling)));
  const Depths depths = depths_of(wall);
  const double stud = wall.frame.member_width;
  Section s;
  s.name = name;
  s.depth = depths.total;
  for (const Bay& bay : wall.bays) s.width += stud + bay.clear_width;

  // Layers first, then the frame and what stands in it, room to outside and left to right.
  Painter p(s);
  for (std::size_t i = 0; i < wall.layers.size(); ++i) {
    const Layer& layer = wall.layers[i];
    p.paint(layer.is_frame ? wall.frame.material : layer.material, {0.0, s.width}, depths.layers[i],
            fmt::format("wall.layers[{}]", i));
    s.shapes.back().slightly_ventilated = layer.slightly_ventilated;
    s.shapes.back().well_ventilated = layer.well_ventilated;
  }
  double left_stud = 0.0;  // middle of the stud left of the bay
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const Bay& bay = wall.bays[b];
    const Span across{left_stud + 0.5 * stud, left_stud + 0.5 * stud + bay.clear_width};
    p.paint(fill_as_it_sits(bay, depths.frame.length()), across, depths.frame, bay.path);
    paint_gaps(p, bay, wall.air, across, depths.frame);
    const Gap& g = bay.gap;
    FacePart part{fmt::format("bay {}", b + 1),
                  bay.label,
                  {left_stud, left_stud + stud + bay.clear_width},
                  across,
                  false};
    part.sound = !bay.fill.is_air_space && g.left + g.right + g.room + g.sheathing == 0.0;
    const Material fill = fill_as_it_sits(bay, depths.frame.length());
    if (fill.name != bay.fill.name) part.label += fill.name.substr(bay.fill.name.size());
    part.air_on_both_faces = g.room > 0.0 && g.sheathing > 0.0;
    if (bay.box && reaches(*bay.box, height)) {
      paint_box(p, bay, fill, wall.air, across, depths.frame);
      part.sound = false;
      part.label += ", " + bay.box->label;
      s.boxes.push_back({part.name, bay.box->height, wall.height});
    }
    s.parts.push_back(std::move(part));
    left_stud += stud + bay.clear_width;
  }
  return s;
}

}  // namespace coldbay
