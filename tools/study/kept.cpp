#include "tools/study/kept.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "geometry/wall/pieces.hpp"
#include "solver/solver_error.hpp"
#include "tools/outcome.hpp"
#include "tools/report/amounts.hpp"

namespace coldbay {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

bool of_whole_wall(Kept kept) { return kept >= Kept::whole_u; }

bool of_right(Kept kept) { return kept == Kept::u_right || kept == Kept::extra_heat; }

bool of_surface(Kept kept) {
  return kept == Kept::coldest_surface || kept == Kept::surface_uncertainty ||
         kept == Kept::temperature_factor;
}

/// A result and its unit in either system: what is a number of the metric one in the other.
struct Words {
  const char* name;
  const char* metric;
  const char* inch_pound;
  double scale = 1.0, offset = 0.0;
};

constexpr double per_foot = 3.412141633 * 0.3048;     // Btu/h·ft of W/m, International Table
constexpr double per_fahrenheit = 3.412141633 / 1.8;  // Btu/h·°F of W/K
constexpr double per_area = 1.0 / ip_transmittance;   // Btu/h·ft2·°F of W/m2K
constexpr const char* surface_uncertainty = "surface uncertainty";

Words words_of(Kept kept) {
  switch (kept) {
    case Kept::u:
      return {"U", "W/m2K", "Btu/h·ft2·°F", per_area};
    case Kept::u_right:
      return {"U right", "W/m2K", "Btu/h·ft2·°F", per_area};
    case Kept::u_uncertainty:
      return {"U uncertainty", "W/m2K", "Btu/h·ft2·°F", per_area};
    case Kept::heat_flow:
      return {"heat flow", "W/m", "Btu/h·ft", per_foot};
    case Kept::coldest_surface:
      return {"coldest surface", "°C", "°F", 1.8, 32.0};
    case Kept::surface_uncertainty:
      return {surface_uncertainty, "K", "°F", 1.8};
    case Kept::temperature_factor:
      return {"temperature factor", "", ""};
    case Kept::extra_heat:
      return {"extra heat", "%", "%"};
    case Kept::whole_u:
      return {"whole-wall U", "W/m2K", "Btu/h·ft2·°F", per_area};
    case Kept::whole_u_right:
      return {"whole-wall U right", "W/m2K", "Btu/h·ft2·°F", per_area};
    case Kept::whole_extra_heat:
      break;
  }
  return {"whole-wall extra heat", "W/K", "Btu/h·°F", per_fahrenheit};
}

double of_section(Kept kept, const Outcome& o) {
  if (kept == Kept::extra_heat && o.effect)
    return 100.0 * o.effect->share;  // with something held, its own way
  return kept_of(kept, o.built.results, o.right ? &o.right->results : nullptr);
}

double of_wall(Kept kept, const std::optional<WholeWall>& wall) {
  if (!wall) return none;
  if (kept == Kept::whole_u) return wall->u_built;
  return kept == Kept::whole_u_right ? wall->u_right : wall->extra;
}

void require_reached(const Forecast& f) {
  if (!f.reached) throw SolverError("the accuracy asked for was not reached");
}

/// As solve_case(), but nothing that is not kept.
Outcomes solve_sections(const Case& c, const Accuracy& accuracy, bool with_right) {
  Outcomes all;
  all.sections.reserve(c.sections.size());
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    Outcome o{forecast(c.sections[s], c.air, {}, accuracy), {}, {}, {}};
    if (with_right && s < c.right.size() && c.right[s]) {
      o.right = forecast(*c.right[s], c.air, {}, accuracy);
      o.effect = effect(c.sections[s], c.air, o.built, *o.right);
    }
    all.sections.push_back(std::move(o));
  }
  return all;
}

Outcomes solve_whole(Case c, const Accuracy& accuracy) {
  c.accuracy = accuracy;
  c.stuffings.clear();  // a range over seeds is no result that is kept
  return solve_case(c, [](const std::string&) {});
}

}  // namespace

std::vector<StudyColumn> kept_columns(const std::vector<Kept>& keep, const std::vector<std::string>& sections,
                                      UnitSystem units) {
  std::vector<StudyColumn> columns;
  for (const Kept kept : keep) {
    const Words words = words_of(kept);
    const char* unit = units == UnitSystem::metric ? words.metric : words.inch_pound;
    if (of_whole_wall(kept) || sections.size() == 1)
      columns.push_back({words.name, unit, false, false});
    else
      for (const std::string& section : sections)
        columns.push_back({fmt::format("{}, {}", words.name, section), unit, false, false});
  }
  return columns;
}

void put_in_units(std::vector<double>& numbers, const std::vector<Kept>& keep, std::size_t sections,
                  UnitSystem units) {
  if (units == UnitSystem::metric || numbers.empty()) return;
  std::size_t next = 0;
  for (const Kept kept : keep) {
    const Words words = words_of(kept);
    for (std::size_t s = 0; s < (of_whole_wall(kept) ? 1 : sections); ++s, ++next)
      numbers.at(next) = words.scale * numbers.at(next) + words.offset;
  }
}

bool is_difference(const StudyColumn& column) { return column.name.starts_with(surface_uncertainty); }

double kept_of(Kept kept, const Results& built, const Results* right) {
  switch (kept) {
    case Kept::u:
      return built.u_value.value_or(none);
    case Kept::u_right:
      return (right ? *right : built).u_value.value_or(none);
    case Kept::u_uncertainty:
      return built.u_value_uncertainty.value_or(none);
    case Kept::heat_flow:
      return built.flow_unlimited ? none : built.heat_flow;
    case Kept::coldest_surface:
      return built.coldest;
    case Kept::surface_uncertainty:
      return built.surface_uncertainty;
    case Kept::temperature_factor:
      return built.temperature_factor.value_or(none);
    case Kept::extra_heat:
      return right ? 100.0 * (built.heat_flow / right->heat_flow - 1.0) : 0.0;
    default:
      return none;
  }
}

bool keeps_whole_wall(const std::vector<Kept>& keep) {
  return std::any_of(keep.begin(), keep.end(), of_whole_wall);
}

bool keeps_right(const std::vector<Kept>& keep) { return std::any_of(keep.begin(), keep.end(), of_right); }

Accuracy accuracy_for(const Case& c, const std::vector<Kept>& keep) {
  constexpr double unasked = 1e3;  // [K]
  return {c.accuracy.heat, std::any_of(keep.begin(), keep.end(), of_surface) ? c.accuracy.surface : unasked};
}

std::vector<double> solve_kept(const Case& c, const std::vector<Kept>& keep) {
  const Accuracy accuracy = accuracy_for(c, keep);
  const Outcomes all =
      keeps_whole_wall(keep) ? solve_whole(c, accuracy) : solve_sections(c, accuracy, keeps_right(keep));
  for (const Outcome& o : all.sections) {
    require_reached(o.built);
    if (o.right) require_reached(*o.right);
  }
  std::vector<double> numbers;
  for (const Kept kept : keep)
    if (of_whole_wall(kept))
      numbers.push_back(of_wall(kept, all.wall));
    else
      for (const Outcome& o : all.sections) numbers.push_back(of_section(kept, o));
  return numbers;
}

}  // namespace coldbay
