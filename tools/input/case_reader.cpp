#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section_checks.hpp"
#include "solver/solve.hpp"
#include "tools/input/camera_reader.hpp"
#include "tools/input/case.hpp"
#include "tools/input/case_document.hpp"
#include "tools/input/heating_reader.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/input/reading.hpp"
#include "tools/input/section_reader.hpp"
#include "tools/input/wall_sections.hpp"

namespace coldbay {
namespace {

/// `[[0.1 m, 18.5 °C], [2.3 m, 21.5 °C]]`: how warm the room's air is at heights above the floor.
std::vector<AirLevel> read_by_height(const Node& node, double temperature, Reading& in) {
  std::vector<AirLevel> levels;
  for (const Node& item : read_list(node, "a list of heights and temperatures", in)) {
    if (item.kind != Node::Kind::sequence || item.items.size() != 2) {
      in.error(item.where, "a height and a temperature are wanted here", "write [0.1 m, 18.5 °C]");
      continue;
    }
    const AirLevel level{read_quantity(item.items[0], Quantity::length, in).value_or(unread),
                         read_quantity(item.items[1], Quantity::temperature, in).value_or(unread)};
    if (!levels.empty() && level.up <= levels.back().up)
      in.error(item.where, "this height does not lie above the one before it",
               "begin at the floor and go up");
    levels.push_back(level);
  }
  const auto [coldest, warmest] =
      std::minmax_element(levels.begin(), levels.end(),
                          [](const AirLevel& a, const AirLevel& b) { return a.celsius < b.celsius; });
  if (!levels.empty() && (temperature < coldest->celsius || temperature > warmest->celsius))
    in.error(node.where, "the room's temperature is none of those it has by height",
             "give the one at mid-height: plan sections and the U-value go by it");
  return levels;
}

Exchange read_exchange(const Node* node, std::string_view what, Exchange usual, Reading& in) {
  if (!node) return usual;
  const bool inside = what == "the air inside";
  const Fields fields = inside ? Fields(*node, what, {"temperature", "film", "humidity", "by height"}, in)
                               : Fields(*node, what, {"temperature", "film"}, in);
  Exchange e = usual;
  e.temperature = read_quantity(fields.required("temperature"), Quantity::temperature, in).value_or(unread);
  if (const Node* film = fields.optional("film"))
    e.film = read_quantity(film, Quantity::resistance, in).value_or(unread);
  return e;
}

/// A gap off by more than this is another gap [m]; no source.
constexpr double widest_gap_tolerance = 5e-3;

/// What gaps may be off by, either way [m].
double read_tolerance(const Node& node, Reading& in) {
  const auto off = read_quantity(node, Quantity::length, in);
  if (off && !(*off >= 0.0 && *off <= widest_gap_tolerance))
    in.error(node.where,
             fmt::format("gaps can be off by 0 mm to {:.0f} mm either way", 1e3 * widest_gap_tolerance),
             "the default is 1 mm: give the gap that it is most likely to be, and how well it is known");
  return off.value_or(unread);
}

void read_air(const Node& node, Case& out, Reading& in) {
  const Fields fields(node, "the air", {"inside", "outside", "gaps", "gap tolerance"}, in);
  const Node* inside = fields.required("inside");
  // [ISO6946], heat flowing level: 0.13 and 0.04 m2K/W, the usual ones of Exchange.
  out.air.inside = read_exchange(inside, "the air inside", out.air.inside, in);
  out.air.outside = read_exchange(fields.required("outside"), "the air outside", out.air.outside, in);
  if (const Node* gaps = fields.optional("gaps"))
    if (read_choice(*gaps, "what the air in gaps does", {"loops", "still"}, in) == std::size_t{1})
      out.air.gaps = AirInGaps::still;
  if (const Node* tolerance = fields.optional("gap tolerance"))
    out.gap_tolerance = read_tolerance(*tolerance, in);
  if (!inside) return;
  if (const Node* levels = inside->find("by height"))
    out.air.by_height = read_by_height(*levels, out.air.inside.temperature, in);
  if (const Node* humidity = inside->find("humidity")) {
    out.humidity = read_quantity(*humidity, Quantity::fraction, in);
    if (out.humidity && *out.humidity < 0.001)
      in.error(humidity->where, "air this dry has no dew point",
               "leave the humidity out, or give 1 % or more");
  }
}

/// How sure the answer must be: `{U: 0.1 %, surface: 0.01 K}`, or that of U alone. Beyond 1 % the doubling
/// criterion of [ISO10211] decides anyway; below what is settled to (solver/settle.hpp), nothing could be
/// promised.
void read_accuracy(const Node& node, Case& out, Reading& in) {
  const auto read = [&](const Node* value, Quantity quantity, double least, double most, const char* range,
                        double& to) {
    if (!value) return;
    const auto number = read_quantity(*value, quantity, in);
    if (number && !(*number >= least && *number <= most))
      in.error(value->where, fmt::format("{}", range), "the default is {U: 0.1 %, surface: 0.01 K}");
    to = number.value_or(to);
  };
  constexpr auto U_range = "U can be had within 0.001 % to 1 %";
  if (node.kind == Node::Kind::scalar)
    return read(&node, Quantity::fraction, 1e-5, 0.01, U_range, out.accuracy.heat);
  const Fields fields(node, "an accuracy", {"U", "surface"}, in);
  read(fields.optional("U"), Quantity::fraction, 1e-5, 0.01, U_range, out.accuracy.heat);
  read(fields.optional("surface"), Quantity::temperature_difference, 1e-4, 1.0,
       "the room face can be had within 0.0001 K to 1 K", out.accuracy.surface);
}

std::optional<Exchange> read_side(const Node* node, std::string_view what, Reading& in) {
  if (!node) return std::nullopt;
  if (node->kind != Node::Kind::map) {
    read_choice(*node, fmt::format("{} (or {{temperature: 0 °C, film: 0}})", what), {"adiabatic"}, in);
    return std::nullopt;
  }
  const Fields fields(*node, what, {"temperature", "film"}, in);
  return Exchange{read_quantity(fields.required("temperature"), Quantity::temperature, in).value_or(unread),
                  read_quantity(fields.required("film"), Quantity::resistance, in).value_or(unread)};
}

/// What a published number may be about.
struct Measure {
  std::string_view what, key, unit;
  Quantity value, tolerance;
};
constexpr std::array measures{
    Measure{"u_value", "u_value_W_per_m2K", "W/m2K", Quantity::transmittance, Quantity::transmittance},
    Measure{"r_value", "r_value_m2K_per_W", "m2K/W", Quantity::resistance, Quantity::resistance},
    Measure{"heat_flow", "heat_flow_W_per_m", "W/m", Quantity::heat_per_length, Quantity::heat_per_length},
    Measure{"air_flow", "air_flow_m2_per_s", "m2/s", Quantity::number, Quantity::number},
    Measure{"inside_surface_min", "inside_surface_min_C", "°C", Quantity::temperature,
            Quantity::temperature_difference},
    Measure{"temperature_factor", "temperature_factor", "", Quantity::fraction, Quantity::fraction},
    Measure{"probe", "probes_C", "°C", Quantity::temperature, Quantity::temperature_difference},
};

void read_published(const Node& node, Case& out, Reading& in) {
  for (const Node& item : read_list(node, "a list of published numbers", in)) {
    const Fields fields(item, "a published number", {"what", "value", "within", "because", "source"}, in);
    if (!fields.is_map()) continue;
    const auto text = [&](const char* key) {
      const Node* n = fields.required(key);
      return n ? read_text(*n, key, in).value_or("") : std::string();
    };
    PublishedValue p;
    p.what = text("what");
    p.because = text("because");
    p.source = text("source");
    const std::string word = p.what.substr(0, p.what.find(' '));
    if (word == "probe") p.probe = p.what.substr(std::min(p.what.size(), word.size() + 1));
    const auto measure =
        std::find_if(measures.begin(), measures.end(), [&](const Measure& m) { return m.what == word; });
    const bool known_probe =
        p.probe.empty() ||
        (out.sections.size() == 1 && std::any_of(out.sections[0].probes.begin(), out.sections[0].probes.end(),
                                                 [&](const Probe& q) { return q.name == p.probe; }));
    if (p.what.empty()) continue;  // said already
    if (measure == measures.end() || !known_probe || (word == "probe" && p.probe.empty())) {
      in.error(item.where, fmt::format("'{}' is not a result", shortened(p.what)),
               "write u_value, heat_flow, air_flow, temperature_factor or probe NAME");
      continue;
    }
    p.key = measure->key;
    p.unit = measure->unit;
    p.value = read_quantity(fields.required("value"), measure->value, in).value_or(unread);
    const Node* within = fields.required("within");
    if (within && within->text.ends_with('%') && measure->value != Quantity::fraction)
      p.within = std::abs(p.value) * read_quantity(*within, Quantity::fraction, in).value_or(unread);
    else
      p.within = read_quantity(within, measure->tolerance, in).value_or(unread);
    out.published.push_back(std::move(p));
  }
}

/// Draws a section on a plain grid, the cheap way to find what only drawing shows.
void try_drawing(const Section& section, Case& out, const Node& root, Reading& in) {
  constexpr double plain = 2.0;
  const GridLines lines = grid_lines(section, plain, SolverOptions{}.max_cells);
  const Painting painting = paint(section, lines.across, lines.depth);
  const AirSpaces air = find_air_spaces(section, painting);
  add_problems(open_air_spaces(section, out.air, painting, air), root, in);
  (void)conductivity_grid(section, painting, air);
  if (!out.direct_form) return;  // in a wall, layers lie under the frame by intention
  for (const std::size_t s : hidden_shapes(section, painting)) {
    if (out.warnings.size() == most_errors) break;
    out.warnings.push_back({node_at(root, section.shapes[s].path).where,
                            "this shape is never seen: later shapes cover it", "",
                            "shapes are painted in order, later over earlier"});
  }
}

/// Every section that a case is solved by: as built, built right, and with other scraps.
std::vector<Section*> all_sections(Case& out) {
  std::vector<Section*> all;
  for (Section& s : out.sections) all.push_back(&s);
  for (std::optional<Section>& s : out.right)
    if (s) all.push_back(&*s);
  for (Stuffings& s : out.stuffings) {
    for (Section& stuffed : s.stuffed) all.push_back(&stuffed);
    all.push_back(&s.right);
  }
  return all;
}

/// A well-ventilated air space is outside air: the section ends at its inner face, which has the film of
/// still air there ([ISO6946]: the inside film; from memory). What lies beyond it is left out.
void end_at_ventilated_layers(Case& out, const Node& root, Reading& in) {
  for (Section* one : all_sections(out)) {
    Section& section = *one;
    for (const Shape& shape : section.shapes) {
      if (!shape.well_ventilated) continue;
      const Rectangle box = bounding_box(shape.outline);
      if (!std::holds_alternative<Rectangle>(shape.outline) || box.across.from > 0.0 ||
          box.across.to < section.width || !(box.depth.from > 0.0)) {
        in.error(node_at(root, shape.path).where, "a well-ventilated air space reaches over the whole width",
                 "make it a layer from one side of the section to the other, or ventilated: slightly");
        return;
      }
      section.depth = box.depth.from;
      if (section.sheathing && *section.sheathing >= section.depth) section.sheathing.reset();
      out.air.outside.film = 0.13;
      std::erase_if(section.shapes,
                    [&](const Shape& s) { return bounding_box(s.outline).depth.from >= section.depth; });
      break;
    }
  }
}

void read_body(const Node& root, const Fields& fields, const CaseParts& wanted, Case& out, Reading& in) {
  const Node* section = fields.optional("section");
  const Node* wall = fields.optional("wall");
  if ((section != nullptr) == (wall != nullptr))
    return in.error(
        root.where,
        section ? "this case has both a section and a wall" : "this case has neither a section nor a wall",
        "describe a wall, or draw one section by its shapes");
  const Node* probes = fields.optional("probes");
  if (section) {
    out.direct_form = true;
    out.sections.push_back(read_section(*section, probes, in));
    if (!out.air.by_height.empty() && out.sections[0].cut != CutKind::vertical)
      in.error(node_at(root, "air.inside.by height").where,
               "a section drawn by shapes lies at no height, so its room is equally warm",
               "leave 'by height' out, or draw it standing: cut: vertical, or describe a wall");
    std::vector<Problem> problems = check(out.sections[0]);
    if (!node_at(root, "section.shapes").items.empty())  // then shapes are there, but none without an error
      std::erase_if(problems, [](const Problem& p) { return p.path == "section.shapes"; });
    add_problems(problems, root, in);
    if (const Node* cuts = fields.optional("sections"))
      in.error(cuts->where, "'sections' are cuts through a wall, and this case has none", "leave it out");
  } else {
    if (probes) in.error(probes->where, "probes go with a section drawn by shapes", "leave them out");
    read_wall_sections(*wall, fields.optional("sections"), wanted, out, root, in);
    if (const Node* limits = fields.optional("limits")) read_limits(*limits, out.limits, in);
  }
}

void check_air(const Node* air, const Case& c, Reading& in) {
  const bool one_temperature = c.air.inside.temperature == c.air.outside.temperature;
  const auto differs = [&](const std::optional<Exchange>& side) {
    return side && side->temperature != c.air.inside.temperature;
  };
  if (air && one_temperature && !differs(c.air.left) && !differs(c.air.right))
    in.error(air->where, "inside and outside are equally warm: no face of this section is heated",
             "give them different temperatures");
}

}  // namespace

Case read_case(const SourceText& source) { return read_case(source, built_in_library()); }

Case read_case(const SourceText& source, const Library& library) {
  return read_case(read_document(source), library);
}

Case read_case(const Node& root, const Library& library, const CaseParts& wanted) {
  Library known = library;  // and the case's own over it
  Reading in{UnitSystem::metric, known, {}, {}};
  Case out;
  const Fields fields(root, "a case",
                      {"title", "units", "air", "wall", "sections", "section", "sides", "probes", "accuracy",
                       "limits", "camera", "picture", "heating", "materials", "air spaces", "published"},
                      in);
  if (const Node* units = fields.optional("units"))
    if (read_choice(*units, "a system of units", {"metric", "inch-pound"}, in) == std::size_t{1})
      in.system = out.units = UnitSystem::inch_pound;
  if (const Node* title = fields.optional("title")) out.title = read_text(*title, "a title", in).value_or("");
  if (const Node* accuracy = fields.optional("accuracy")) read_accuracy(*accuracy, out, in);
  if (const Node* own = fields.optional("materials")) read_materials(*own, known, "given in the case", in);
  const Node* air = fields.required("air");
  if (air) read_air(*air, out, in);
  if (const Node* sides = fields.optional("sides")) {
    const Fields both(*sides, "the sides", {"left", "right"}, in);
    out.air.left = read_side(both.optional("left"), "the left side", in);
    out.air.right = read_side(both.optional("right"), "the right side", in);
  }
  check_air(air, out, in);
  if (fields.is_map()) read_body(root, fields, wanted, out, in);
  if (const Node* camera = fields.optional("camera")) out.camera = read_camera(*camera, in);
  if (const Node* picture = fields.optional("picture")) out.picture = read_picture(*picture, out, in);
  if (const Node* heating = fields.optional("heating")) out.heating = read_heating(*heating, in);
  if (const Node* published = fields.optional("published")) read_published(*published, out, in);

  if (const Node* rule = fields.optional("air spaces"))
    if (read_choice(*rule, "a rule for air spaces", {"layers", "frame cavities"}, in) == std::size_t{1})
      for (Section* section : all_sections(out)) section->air_rule = AirRule::cavity;
  end_at_ventilated_layers(out, root, in);

  if (in.errors.empty() && wanted.drawn) try {
      for (const Section& section : out.sections) try_drawing(section, out, root, in);
    } catch (const ModelError& e) {
      add_problems(e.problems(), root, in);
    }
  if (!in.errors.empty()) throw InputErrors(std::move(in.errors));
  return out;
}

}  // namespace coldbay
