#include "tools/study/varied_airs.hpp"

#include <algorithm>
#include <string_view>
#include <variant>

#include "tools/input/quantity.hpp"

namespace coldbay {
namespace {}  // namespace

std::optional<double> celsius_of(const Node& node, UnitSystem units) {
  if (node.kind != Node::Kind::scalar) return std::nullopt;
  const auto value = parse_quantity(node.text, Quantity::temperature, units);
  const double* celsius = std::get_if<double>(&value);
  constexpr double least = -273.15, most = 1500.0;
  return celsius && *celsius >= least && *celsius <= most ? std::optional(*celsius) : std::nullopt;
}

bool is_of_airs(const CasePath& path) { return path.text == inside_path || path.text == outside_path; }

std::optional<Airs> airs_of(const Variant& variant, UnitSystem units, Airs usual) {
  for (const Variant::Setting& s : variant.settings) {
    if (!is_of_airs(*s.path)) continue;
    const std::optional<double> celsius = celsius_of(s.value, units);
    if (!celsius) return std::nullopt;
    (s.path->text == inside_path ? usual.inside : usual.outside) = *celsius;
  }
  return usual;
}

std::optional<ClimateRange> range_of_airs(const OpenStudy& study, UnitSystem units, Airs usual) {
  std::optional<ClimateRange> range;
  const auto see = [&](std::uint64_t id) {
    const auto airs = airs_of(variant_at(study.study, study.varied, id), units, usual);
    if (!airs) return;
    if (!range) range = {{airs->inside, airs->inside}, {airs->outside, airs->outside}};
    range->inside = {std::min(range->inside.from, airs->inside), std::max(range->inside.to, airs->inside)};
    range->outside = {std::min(range->outside.from, airs->outside),
                      std::max(range->outside.to, airs->outside)};
  };
  for (std::uint64_t draw = 0; draw < study.study.draws; ++draw) see(draw);
  std::uint64_t block = study.n;
  for (const StudyFactor& f : study.study.factors) {
    block /= f.size();
    for (std::uint64_t step = 1; step < f.size(); ++step) see(step * block);
  }
  constexpr double apart = 1.0;  // [K]; below, what air spaces conduct changes too fast to be interpolated
  if (!range ||
      !(range->inside.from > range->outside.to + apart || range->outside.from > range->inside.to + apart))
    return std::nullopt;
  return range;
}

}  // namespace coldbay
