#include "tools/study/variant_solver.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "tools/input/quantity.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/study_reader.hpp"
#include "tools/study/varied_airs.hpp"

namespace coldbay {
namespace {

constexpr std::size_t most_known = 16;  ///< cases held by a thread

/// All that is varied but the climate.
std::string key_of(const Variant& variant) {
  std::string key;
  for (const Variant::Setting& s : variant.settings)
    if (!is_of_airs(*s.path)) key += in_one_line(s.value) + '\n';
  return key;
}

bool follows_its_airs(const Section& s) {
  return std::none_of(s.materials.begin(), s.materials.end(), [](const Material& m) { return m.law; }) &&
         std::none_of(s.shapes.begin(), s.shapes.end(), [&](const Shape& shape) {
           return shape.held || s.materials[shape.material].is_air_space;
         });
}

/// What was kept at a difference of `reference` above 0 °C, at another: `ratio` of it above `cold`.
std::vector<double> scaled(std::vector<double> numbers, const std::vector<Kept>& keep, std::size_t n_sections,
                           double ratio, double cold) {
  for (std::size_t k = 0; k < keep.size(); ++k)
    for (std::size_t s = 0; s < n_sections; ++s) {
      double& number = numbers[k * n_sections + s];
      if (keep[k] == Kept::heat_flow || keep[k] == Kept::surface_uncertainty) number *= ratio;
      if (keep[k] == Kept::coldest_surface) number = cold + ratio * number;
    }
  return numbers;
}

}  // namespace

bool follows_its_airs(const Case& c) {
  const auto section = [](const Section& s) { return follows_its_airs(s); };
  return !c.air.left && !c.air.right && c.air.by_height.empty() &&
         std::all_of(c.sections.begin(), c.sections.end(), section) &&
         std::all_of(c.right.begin(), c.right.end(),
                     [](const auto& s) { return !s || follows_its_airs(*s); });
}

std::vector<double> VariantSolver::in_climate(Known& known, Airs airs) const {
  const bool reversed = airs.outside > airs.inside;
  const double cold = std::min(airs.inside, airs.outside), difference = std::abs(airs.inside - airs.outside);
  int power = 0;
  if (std::frexp(difference, &power) == 0.5) --power;  // 2^power is the difference, or the next above it
  const double reference = std::ldexp(1.0, power);
  auto [at, is_new] = known.kept.try_emplace({power, reversed});
  if (is_new) try {
      Case c = known.c;
      c.air.inside.temperature = reversed ? 0.0 : reference;
      c.air.outside.temperature = reversed ? reference : 0.0;
      at->second = solve_kept(c, study_.study.keep);
    } catch (...) {
      known.kept.erase(at);
      throw;
    }
  return scaled(at->second, study_.study.keep, known.c.sections.size(), difference / reference, cold);
}

std::vector<double> VariantSolver::solve(const Variant& variant) {
  const std::string key = key_of(variant);
  auto known = std::find_if(known_.begin(), known_.end(), [&](const Known& k) { return k.key == key; });
  if (known != known_.end()) {
    std::optional<double> inside = known->c.air.inside.temperature,
                          outside = known->c.air.outside.temperature;
    for (const Variant::Setting& s : variant.settings)
      if (is_of_airs(*s.path))
        (s.path->text == inside_path ? inside : outside) = celsius_of(s.value, known->c.units);
    if (inside && outside && *inside != *outside) return in_climate(*known, {*inside, *outside});
  }
  Case c = case_of(study_, variant);
  const Airs airs{c.air.inside.temperature, c.air.outside.temperature};
  const bool whole = std::any_of(study_.study.keep.begin(), study_.study.keep.end(),
                                 [](Kept kept) { return kept >= Kept::whole_u; });
  if (whole || airs.inside == airs.outside || !follows_its_airs(c)) return solve_kept(c, study_.study.keep);
  if (known_.size() == most_known) known_.pop_front();
  known_.push_back({key, std::move(c), {}});
  return in_climate(known_.back(), airs);
}

}  // namespace coldbay
