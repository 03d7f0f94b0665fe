#include "tools/report/handout/as_drawn.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace coldbay {
namespace {

bool same(double a, double b) { return std::abs(a - b) < touching; }

/// One step of a taper: a rectangle of air that stands on one plane in depth and ends at another.
struct Step {
  std::size_t shape = 0;  ///< index into the section's
  Span across;
  double foot = 0.0, end = 0.0;  ///< depths [m]
  bool operator<(const Step& other) const { return across.from < other.across.from; }
};

/// Steps of one path that stand on one plane, the air on the far side of it or on the near one.
std::vector<std::vector<Step>> standing_together(const Section& section) {
  std::vector<std::vector<Step>> all;
  for (std::size_t i = 0; i < section.shapes.size(); ++i) {
    const Shape& shape = section.shapes[i];
    const auto* r = std::get_if<Rectangle>(&shape.outline);
    if (!r || !section.materials[shape.material].is_air_space) continue;
    for (const Step& step :
         {Step{i, r->across, r->depth.from, r->depth.to}, Step{i, r->across, r->depth.to, r->depth.from}}) {
      const auto group = std::find_if(all.begin(), all.end(), [&](const std::vector<Step>& steps) {
        const Step& first = steps.front();
        return section.shapes[first.shape].path == shape.path && same(first.foot, step.foot) &&
               (first.end > first.foot) == (step.end > step.foot);
      });
      if (group == all.end()) {
        all.push_back({step});
      } else {
        group->push_back(step);
      }
    }
  }
  for (std::vector<Step>& steps : all) std::sort(steps.begin(), steps.end());
  return all;
}

/// True where `next` goes on as `last` did: beside it, as wide, and further the same way.
bool goes_on(const std::vector<Step>& run, const Step& next) {
  const Step& last = run.back();
  if (!same(last.across.to, next.across.from) || same(last.end, next.end) ||
      !same(last.across.length(), next.across.length()))
    return false;
  return run.size() < 2 || (next.end > last.end) == (last.end > run[run.size() - 2].end);
}

Polygon slanted(Span across, double foot, double end_left, double end_right) {
  return Polygon{{{across.from, foot}, {across.to, foot}, {across.to, end_right}, {across.from, end_left}}};
}

/// The rectangle that fills, with a step, the depth beside it: what is dented there.
std::optional<std::size_t> beside(const Section& section, const Step& step) {
  for (std::size_t i = 0; i < section.shapes.size(); ++i) {
    const auto* r = std::get_if<Rectangle>(&section.shapes[i].outline);
    if (!r || section.shapes[i].path != section.shapes[step.shape].path || i == step.shape) continue;
    if (!same(r->across.from, step.across.from) || !same(r->across.to, step.across.to)) continue;
    if (same(r->depth.from, step.end) || same(r->depth.to, step.end)) return i;
  }
  return std::nullopt;
}

/// Slants through the middles of the steps; at both ends of the run they go on for half a step.
void slant(const Section& section, const std::vector<Step>& run, std::vector<Shape>& shapes) {
  const std::size_t n = run.size();
  std::vector<double> end(n + 1);
  for (std::size_t i = 1; i < n; ++i) end[i] = 0.5 * (run[i - 1].end + run[i].end);
  end[0] = 1.5 * run[0].end - 0.5 * run[1].end;
  end[n] = 1.5 * run[n - 1].end - 0.5 * run[n - 2].end;
  const bool outward = run[0].end > run[0].foot;
  for (double& e : end) e = outward ? std::max(e, run[0].foot) : std::min(e, run[0].foot);
  for (std::size_t i = 0; i < n; ++i) {
    shapes[run[i].shape].outline = slanted(run[i].across, run[i].foot, end[i], end[i + 1]);
    const std::optional<std::size_t> dented = beside(section, run[i]);
    if (!dented) continue;
    const Span depth = std::get<Rectangle>(section.shapes[*dented].outline).depth;
    const double foot = same(depth.from, run[i].end) ? depth.to : depth.from;
    shapes[*dented].outline = slanted(run[i].across, foot, end[i], end[i + 1]);
  }
}

/// The square of a round thing that is hollow: of the wall's own services only these are made so.
const Rectangle* square_of_round(const Shape& shape) {
  constexpr std::array<std::string_view, 2> round{".pipe", ".conduit"};
  const auto* r = std::get_if<Rectangle>(&shape.outline);
  if (!r || !same(r->across.length(), r->depth.length())) return nullptr;
  const std::string_view path = shape.path;
  return std::any_of(round.begin(), round.end(), [&](std::string_view end) { return path.ends_with(end); })
             ? r
             : nullptr;
}

Point middle_of(const Rectangle& r) {
  return {0.5 * (r.across.from + r.across.to), 0.5 * (r.depth.from + r.depth.to)};
}

/// Squares become circles: the outermost of the same area, those within it as far inside as they were.
void round_off(const Section& section, std::vector<Shape>& shapes) {
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    const Rectangle* inner = square_of_round(section.shapes[i]);
    if (!inner) continue;
    const Rectangle* outer = inner;
    for (std::size_t j = 0; j < i; ++j) {
      const Rectangle* other = square_of_round(section.shapes[j]);
      if (other && same(middle_of(*other).across, middle_of(*inner).across) &&
          same(middle_of(*other).depth, middle_of(*inner).depth) &&
          other->across.length() > outer->across.length())
        outer = other;
    }
    const double wall = 0.5 * (outer->across.length() - inner->across.length());
    const double radius = outer->across.length() / std::sqrt(std::numbers::pi) - wall;
    shapes[i].outline = Circle{middle_of(*inner), radius};
  }
}

}  // namespace

std::vector<Point> corners_of(const Outline& outline) {
  if (const auto* r = std::get_if<Rectangle>(&outline))
    return {{r->across.from, r->depth.from},
            {r->across.to, r->depth.from},
            {r->across.to, r->depth.to},
            {r->across.from, r->depth.to}};
  if (const auto* polygon = std::get_if<Polygon>(&outline)) return polygon->corners;
  const auto& circle = std::get<Circle>(outline);
  constexpr std::size_t n = 48;
  constexpr double step = 2.0 * std::numbers::pi / static_cast<double>(n);
  // n/2 r^2 sin(step) is the area of a regular polygon within a circle of radius r.
  const double radius = circle.radius * std::sqrt(step / std::sin(step));
  std::vector<Point> corners;
  corners.reserve(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double angle = step * (static_cast<double>(i) + 0.5);
    corners.push_back(
        {circle.centre.across + radius * std::cos(angle), circle.centre.depth + radius * std::sin(angle)});
  }
  return corners;
}

Section as_drawn(const Section& section) {
  Section drawn = section;
  for (const std::vector<Step>& steps : standing_together(section)) {
    std::vector<Step> run;
    const auto finish = [&] {
      if (run.size() > 1) slant(section, run, drawn.shapes);
      run.clear();
    };
    for (const Step& step : steps) {
      if (!run.empty() && !goes_on(run, step)) finish();
      run.push_back(step);
    }
    finish();
  }
  round_off(section, drawn.shapes);
  return drawn;
}

}  // namespace coldbay
