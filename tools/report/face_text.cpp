#include "tools/report/face_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/wall/fill.hpp"
#include "solver/results/dew_point.hpp"
#include "solver/results/surface_humidity.hpp"
#include "tools/case_camera.hpp"
#include "tools/report/amounts.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/loop_text.hpp"
#include "tools/report/outlook_text.hpp"

namespace coldbay {
namespace {

/// "812 mm across, 120 mm above the floor"
std::string place_text(double across, double up, UnitSystem u) {
  return fmt::format("{} across, {} above the floor", length_text(across, u), length_text(up, u));
}

std::string area_text(double m2, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.3f} m2", m2) : fmt::format("{:.2f} ft2", m2 / 0.09290304);
}

/// What is less than a tenth, too.
std::string fine_difference(double kelvin, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.2g} K", kelvin) : fmt::format("{:.2g} °F", 1.8 * kelvin);
}

std::string heat_rows(const WallFaces& faces, UnitSystem u) {
  const WallFace& f = faces.built;
  const double factor = u == UnitSystem::metric ? 1.0 : 3.412142;  // 1 W in Btu/h, International Table
  const char* unit = u == UnitSystem::metric ? "W" : "Btu/h";
  // Heat has a way it goes, and no sign.
  const auto goes = [&](double watts, std::string_view forth, std::string_view back) {
    return fmt::format("{:.1f} {} {}", std::abs(watts) * factor, unit, watts < 0.0 ? back : forth);
  };
  std::string out =
      row("heat", goes(f.heat_flow, "from the room into the wall", "from the wall into the room"));
  if (f.heat_from_held != 0.0)
    out += row("", fmt::format("{}, {}",
                               goes(f.heat_from_held, "from what runs in pipes", "into what runs in pipes"),
                               goes(f.heat_to_outside, "to the outside", "from the outside")));
  if (!f.u_value) return out;
  if (!faces.right || !faces.right->u_value) return out + row("U-value", u_value_text(*f.u_value, u));
  const double U = *f.u_value, right = *faces.right->u_value;
  return out + row("U-value", fmt::format("{} as built, {} built right: {}", u_value_text(U, u),
                                          u_value_text(right, u), signed_percent(U / right - 1.0)));
}

std::string damp_row(std::string_view name, std::string_view what, const FaceMap& face, double threshold,
                     UnitSystem u) {
  const AreaBelow below = area_below(face, threshold);
  std::string words = "all of the wall is warmer";
  if (below.area > 0.0) {
    const std::string share =
        below.share < 0.001 ? std::string("less than 0.1 %") : fmt::format("{:.1f} %", 100.0 * below.share);
    words = fmt::format("{} of the wall is colder, {}", share, area_text(below.area, u));
  }
  return row(name, fmt::format("{} {}: {}", what, temperature_text(threshold, u), words));
}

std::string damp_rows(const Case& c, const WallFace& f) {
  if (!c.humidity) return {};
  const double room = c.air.inside.temperature, dew = dew_point(room, *c.humidity);
  std::string out = damp_row("dew point", "of the room's air,", f.room, dew, c.units);
  out +=
      damp_row("mould", "80 % humidity at", f.room, critical_surface_temperature(room, *c.humidity), c.units);
  if (!f.sheathing) return out;
  const ColdestPoint coldest = coldest_point(*f.sheathing);
  out += row("behind the frame",
             fmt::format("{} at its coldest, at {}", temperature_text(coldest.celsius, c.units),
                         place_text(coldest.across, coldest.up, c.units)));
  return out + damp_row("", "room air that gets there leaves water below", *f.sheathing, dew, c.units);
}

std::string coldest_rows(const Case& c, const WallFaces& faces) {
  const UnitSystem u = c.units;
  const ColdestPoint coldest = coldest_point(faces.built.room);
  std::string out = row("coldest", fmt::format("{} at {}", temperature_text(coldest.celsius, u),
                                               place_text(coldest.across, coldest.up, u)));
  const double inside = c.air.inside.temperature, outside = c.air.outside.temperature;
  if (inside <= outside) return out;
  std::string factor = fmt::format("{:.3f} there", temperature_factor(coldest.celsius, inside, outside));
  if (c.humidity)
    factor += fmt::format("; {:.3f} keeps a surface below 80 % humidity",
                          required_temperature_factor(inside, *c.humidity, outside));
  out += row("temperature factor", factor);
  return out;
}

/// What sections make of a bay; less than all where they do not show it at all its heights.
std::string section_text(const WholeWall& sections, const BayCost& bay, UnitSystem u) {
  if (!bay.in_some_section) return "in no section";
  const bool part = std::any_of(sections.unseen.begin(), sections.unseen.end(),
                                [&](const WholeWall::Unseen& unseen) { return unseen.bay == bay.bay; });
  return fmt::format("{}{}", part ? "at least " : "", per_kelvin_text(sections.bays[bay.index], u));
}

/// "0.043 ± 0.004 W/K"
std::string cost_text(const BayCost& bay, UnitSystem u) {
  const std::string with_unit = per_kelvin_text(bay.extra, u);
  const std::size_t space = with_unit.find(' ');
  const std::string within = per_kelvin_text(bay.uncertainty, u);
  return fmt::format("{} ± {}{}", with_unit.substr(0, space), within.substr(0, within.find(' ')),
                     with_unit.substr(space));
}

std::string cost_rows(const WallFaces& faces, const std::optional<WholeWall>& sections, UnitSystem u) {
  if (faces.costs.empty()) return {};
  std::string out = "\nWhat each bay costs\n";
  out += fmt::format("  {:<10} {:<34} {:<28} {}\n", "", "heat, in three dimensions", "summed from sections",
                     "the face is furthest from built right");
  double sum = 0.0;
  for (const BayCost& bay : faces.costs) {
    sum += bay.extra;
    out += fmt::format("  {:<10} {:<34} {:<28} {} {} at {}\n", bay.bay,
                       fmt::format("{}, {}", cost_text(bay, u), signed_percent(bay.share)),
                       sections ? section_text(*sections, bay, u) : "-",
                       difference_text(std::abs(bay.furthest), u), bay.furthest < 0.0 ? "colder" : "warmer",
                       place_text(bay.furthest_across, bay.furthest_up, u));
    out += fmt::format("  {:<10} {}\n", "", names_of(bay.faults));
  }
  out += fmt::format("  {:<10} {:<34} {}\n", "together", per_kelvin_text(sum, u),
                     sections ? fmt::format("{}{}", sections->unseen.empty() ? "" : "at least ",
                                            per_kelvin_text(sections->extra, u))
                              : "-");
  for (const std::string_view note : notes_of(faces.faults)) out += row("note", note);
  if (sections)
    out +=
        "  Sections are two-dimensional: what is short across the cut, a box or an end, reaches further "
        "there than it "
        "does.\n";
  return out;
}

/// Where air loops, and what it adds to what still air passes.
std::string loop_rows(const Case& c, const WallFaces& faces) {
  if (!faces.still) return {};
  std::string bays;
  for (std::size_t b = 0; b < faces.wall.bays.size(); ++b) {
    const BayPlace& bay = faces.wall.bays[b];
    const double middle = 0.5 * (bay.across.from + bay.across.to);
    const auto part =
        std::find_if(faces.built.parts.begin(), faces.built.parts.end(),
                     [&](const KnownPart& p) { return p.own.from <= middle && middle <= p.own.to; });
    if (part != faces.built.parts.end() && part->loops && !c.wall->bays[b].opening &&
        air_on_both_faces(c.wall->bays[b], {bay.clear, bay.up, faces.wall.frame}))
      bays += (bays.empty() ? "" : ", ") + bay.name;
  }
  const WallFace &with = faces.built, &still = *faces.still;
  std::string out = row(
      "air loops",
      fmt::format(
          "round the batt{}: {} heat through the wall{}", bays.empty() ? "" : " of " + bays,
          signed_percent(with.heat_flow / still.heat_flow - 1.0),
          still.u_value ? fmt::format("; with still air U {}", u_value_text(*still.u_value, c.units)) : ""));
  return out + row("", "checked against a flow solution, not yet against a measured wall");
}

/// What the case's camera makes of it: what it has before it, and how slanted.
std::string camera_rows(const Case& c, const FaceMap& face) {
  const Camera camera = camera_of(c, face);
  const auto whole = [](const Axis& axis) { return Span{axis.edges().front(), axis.edges().back()}; };
  const View view = view_of(camera, whole(face.across), whole(face.up));
  std::string out = row("camera", camera_words(camera, c.units));
  if (!view.whole_wall)
    out += row("", fmt::format("it sees a part of the wall; all of it from {}",
                               distance_text(view.whole_wall_from, c.units)));
  if (view.largest_angle > oblique)
    out += row("beware",
               "it looks at the ends of its picture from more than 60 degrees aside, where linings "
               "mirror more than is reckoned here");
  return out;
}

/// Where the accuracy asked for was not reached, and what was.
std::string unreached_rows(std::string_view which, const WallFace& f, UnitSystem u) {
  if (f.reached) return {};
  std::string out =
      row("beware", fmt::format("the accuracy asked for was NOT REACHED everywhere, {}", which));
  for (const KnownPart& part : f.parts)
    if (!part.reached)
      out +=
          row("", fmt::format("from {} to {} across, within {}; least at {}", length_text(part.own.from, u),
                              length_text(part.own.to, u), fine_difference(part.uncertainty, u),
                              place_text(part.worst_across, part.worst_up, u)));
  return out;
}

std::string evidence_rows(const WallFaces& faces, UnitSystem u) {
  const WallFace& f = faces.built;
  // Where pipes heat the wall next to nothing may come from the room, and a share of that tells nothing.
  const double share = f.heat_flow_uncertainty / std::abs(f.heat_flow);
  const std::string heat = share < 0.99 ? fmt::format("{:.2g} %", 100.0 * share)
                           : u == UnitSystem::metric
                               ? fmt::format("{:.2f} W", f.heat_flow_uncertainty)
                               : fmt::format("{:.2f} Btu/h", f.heat_flow_uncertainty * 3.412142);
  std::string out = row("known within", fmt::format("{} anywhere on the face, heat {}",
                                                    fine_difference(f.uncertainty, u), heat));
  out += row("", fmt::format("{} cells, heat in and out differ by {:.0e}", f.cells, f.report.heat_imbalance));
  out += unreached_rows("as built", f, u);
  if (faces.right) out += unreached_rows("built right", *faces.right, u);
  for (const std::string& bay : faces.not_compared)
    out += row("beware",
               fmt::format("what would be right in {} is not known: nothing is compared with it", bay));
  for (const std::string& warning : f.warnings) out += row("beware", warning);
  return out;
}

}  // namespace

std::string face_text(const Case& c, const WallFaces& faces, const std::optional<WholeWall>& sections) {
  const UnitSystem u = c.units;
  std::string out = "The face of the wall\n";
  out += heat_rows(faces, u);
  out += loop_rows(c, faces);
  const double kelvin = c.air.inside.temperature - c.air.outside.temperature;
  if (std::abs(kelvin) >= 1.0) {
    const std::string normal = normal_text(normal_pattern(face_pair(c, faces), faces.wall), kelvin, u);
    if (!normal.empty()) out += row("normal here", normal);
    if (!c.air.by_height.empty())
      out += row(
          "", fmt::format("and it is {} warmer at the top than at the floor, as the room's air is",
                          difference_text(
                              room_temperature(c.air, faces.wall.height) - room_temperature(c.air, 0.0), u)));
  }
  out += coldest_rows(c, faces);
  out += damp_rows(c, faces.built);
  out += camera_rows(c, faces.built.room);
  out += loop_rows(faces.loops, u);
  out += evidence_rows(faces, u);
  out +=
      row("not modelled", fmt::format("air leakage, {}moisture, sun, corners and what lies beside the wall",
                                      faces.still ? "" : "air moving inside the wall, "));
  return out + cost_rows(faces, sections, u);
}

}  // namespace coldbay
