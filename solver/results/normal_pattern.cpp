#include "solver/results/normal_pattern.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "materials/model_error.hpp"
#include "solver/results/face_sums.hpp"

namespace coldbay {
namespace {

Span middle_half(Span s) { return {s.from + 0.25 * s.length(), s.to - 0.25 * s.length()}; }

std::optional<double> middle_one(std::vector<double> values) {
  if (values.empty()) return std::nullopt;
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

bool has_opening(const BuiltWall& wall, const BayPlace& bay) {
  const auto pieces = pieces_within(wall, bay.clear, bay.up);
  return std::any_of(pieces.begin(), pieces.end(),
                     [](const Piece* p) { return p->role == Piece::Role::opening; });
}

/// Something stands or runs in it for most of its height, a duct or a pipe: what it reads is not what a bay
/// of fill reads.
bool is_odd(const BuiltWall& wall, const BayPlace& bay) {
  const auto pieces = pieces_within(wall, bay.clear, bay.up);
  return std::any_of(pieces.begin(), pieces.end(), [&](const Piece* p) {
    return p->role == Piece::Role::service && extent(*p, Direction::up).length() > 0.5 * bay.up.length();
  });
}

/// A bay by its middle: all of the bay would take in the shadows of its studs.
struct Seen {
  const BayPlace* bay;
  double reads;  ///< [degC]
};

}  // namespace

double difference_of(const FacePair& faces) {
  const double kelvin = faces.inside - faces.outside;
  if (!(std::abs(kelvin) >= 1.0))
    throw ModelError("air", "inside and outside are less than 1 K apart: a face shows nothing then",
                     "give a cold morning, or a hot afternoon");
  return kelvin;
}

NormalPattern normal_pattern(const FacePair& faces, const BuiltWall& wall) {
  const double kelvin = difference_of(faces);
  const FaceSums sums = face_sums(faces.right);
  std::vector<Seen> seen;
  std::vector<double> studs, plates, floor_plates, top_plates;
  const bool any_plain = std::any_of(wall.bays.begin(), wall.bays.end(), [&](const BayPlace& bay) {
    return !has_opening(wall, bay) && !is_odd(wall, bay);
  });
  for (const BayPlace& bay : wall.bays) {
    if (has_opening(wall, bay) || (any_plain && is_odd(wall, bay))) continue;
    const double reads = mean_on(sums, middle_half(bay.clear), middle_half(bay.up));
    const Span below{0.0, bay.up.from}, above{bay.up.to, wall.height};
    const auto plate = [&](Span up, std::vector<double>& to) {
      if (!(up.length() > 0.0)) return;
      to.push_back((mean_on(sums, middle_half(bay.clear), up) - reads) / kelvin);
      plates.push_back(to.back());
    };
    plate(below, floor_plates);
    plate(above, top_plates);
    // Bays follow each other; one with an opening between two others breaks the row.
    if (!seen.empty() && seen.back().bay + 1 == &bay) {
      const Seen& left = seen.back();
      const Span stud{left.bay->clear.to, bay.clear.from};
      if (stud.length() > 0.0)
        studs.push_back((mean_on(sums, stud, middle_half(bay.up)) - 0.5 * (left.reads + reads)) / kelvin);
    }
    seen.push_back({&bay, reads});
  }
  NormalPattern normal{
      middle_one(std::move(studs)),        middle_one(std::move(plates)),    0.0, seen.size(),
      middle_one(std::move(floor_plates)), middle_one(std::move(top_plates))};
  const auto [least, most] = std::minmax_element(
      seen.begin(), seen.end(), [](const Seen& a, const Seen& b) { return a.reads < b.reads; });
  if (!seen.empty()) normal.bays_apart = (most->reads - least->reads) / std::abs(kelvin);
  return normal;
}

bool plates_told_apart(const NormalPattern& normal, double kelvin) {
  constexpr double told_apart = 0.3;  // [K]; common practice, no source
  return normal.floor_plates && normal.top_plates &&
         std::abs((*normal.top_plates - *normal.floor_plates) * kelvin) > told_apart;
}

}  // namespace coldbay
