#include "tools/report/handout/face_samples.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace coldbay {
namespace {

/// Where any of the faces bends within a stretch: the middles of its cells, and the ends of the stretch.
std::vector<double> places_of(std::span<const FaceMap* const> faces, Axis FaceMap::*axis, Span stretch) {
  std::vector<double> places{stretch.from, stretch.to};
  for (const FaceMap* face : faces) {
    const Axis& cells = face->*axis;
    for (Index i = 0; i < cells.cells(); ++i)
      if (cells.centre(i) > stretch.from && cells.centre(i) < stretch.to) places.push_back(cells.centre(i));
  }
  std::sort(places.begin(), places.end());
  constexpr double same = 1e-9;  // [m]
  places.erase(std::unique(places.begin(), places.end(), [](double a, double b) { return b - a < same; }),
               places.end());
  return places;
}

/// rows[k] are values at all places; which places can stay alone, so that lines between them meet each row
/// within `within`: from each the furthest that does.
std::vector<std::size_t> thinned(const std::vector<double>& places,
                                 const std::vector<std::vector<double>>& rows, double within) {
  const auto meets = [&](std::size_t from, std::size_t to) {
    for (std::size_t i = from + 1; i < to; ++i) {
      const double share = (places[i] - places[from]) / (places[to] - places[from]);
      for (const std::vector<double>& row : rows)
        if (std::abs(row[from] + share * (row[to] - row[from]) - row[i]) > within) return false;
    }
    return true;
  };
  std::vector<std::size_t> kept{0};
  while (kept.back() + 1 < places.size()) {
    std::size_t next = kept.back() + 1;
    while (next + 1 < places.size() && meets(kept.back(), next + 1)) ++next;
    kept.push_back(next);
  }
  return kept;
}

std::vector<double> at_indices(const std::vector<double>& all, const std::vector<std::size_t>& indices) {
  std::vector<double> some;
  some.reserve(indices.size());
  for (const std::size_t i : indices) some.push_back(all[i]);
  return some;
}

}  // namespace

FaceSamples samples_of(std::span<const FaceMap* const> faces, Span across, Span up, double within) {
  const std::vector<double> x = places_of(faces, &FaceMap::across, across),
                            y = places_of(faces, &FaceMap::up, up);
  std::vector<std::vector<double>> rows;  // along across, face by face
  rows.reserve(faces.size() * y.size());
  for (const FaceMap* face : faces)
    for (const double v : y) {
      std::vector<double> row;
      row.reserve(x.size());
      for (const double u : x) row.push_back(temperature_on(*face, u, v));
      rows.push_back(std::move(row));
    }
  FaceSamples out;
  const std::vector<std::size_t> columns = thinned(x, rows, within);
  out.across = at_indices(x, columns);
  std::vector<std::vector<double>> upright;  // along up, at the columns that stay
  upright.reserve(faces.size() * columns.size());
  for (std::size_t k = 0; k < faces.size(); ++k)
    for (const std::size_t i : columns) {
      std::vector<double> column;
      column.reserve(y.size());
      for (std::size_t j = 0; j < y.size(); ++j) column.push_back(rows[k * y.size() + j][i]);
      upright.push_back(std::move(column));
    }
  const std::vector<std::size_t> levels = thinned(y, upright, within);
  out.up = at_indices(y, levels);

  double sum = 0.0;
  for (const std::vector<double>& column : upright) sum += column.front();
  out.base = std::round(sum / static_cast<double>(upright.size()));
  for (std::size_t k = 0; k < faces.size(); ++k) {
    std::vector<std::int16_t> field;
    field.reserve(columns.size() * levels.size());
    for (const std::size_t j : levels)
      for (const std::size_t i : columns) {
        const double steps = std::round((rows[k * y.size() + j][i] - out.base) / FaceSamples::step);
        field.push_back(static_cast<std::int16_t>(std::clamp(steps, -32768.0, 32767.0)));
      }
    out.fields.push_back(std::move(field));
  }
  return out;
}

}  // namespace coldbay
