#include "solver/results/face_sums.hpp"

#include <algorithm>

namespace coldbay {
namespace {

/// A place on an axis: the cell that holds it, and the share of that cell below it.
struct Inside {
  Index cell;
  double share;
};
Inside inside(const Axis& axis, double x) {
  const Index cell = axis.cell_at(x);
  return {cell, std::clamp((x - axis.edge(cell)) / axis.width(cell), 0.0, 1.0)};
}

/// Integral over the lower left of a point: bilinear between the edges, since a cell has one temperature.
double below(const FaceSums& s, Inside x, Inside y) {
  const Index row = s.across.cells() + 1;
  const auto along = [&](Index j) {
    return (1.0 - x.share) * s.at[at(x.cell + row * j)] + x.share * s.at[at(x.cell + 1 + row * j)];
  };
  return (1.0 - y.share) * along(y.cell) + y.share * along(y.cell + 1);
}

Span within(const Axis& axis, Span s) {
  return {std::max(s.from, axis.edges().front()), std::min(s.to, axis.edges().back())};
}

}  // namespace

FaceSums face_sums(const FaceMap& face) {
  const Index na = face.across.cells(), nu = face.up.cells();
  FaceSums s{face.across, face.up, std::vector<double>(at((na + 1) * (nu + 1)), 0.0)};
  for (Index j = 0; j < nu; ++j) {
    double row = 0.0;
    for (Index i = 0; i < na; ++i) {
      row += face.at(i, j) * face.across.width(i) * face.up.width(j);
      s.at[at(i + 1 + (na + 1) * (j + 1))] = s.at[at(i + 1 + (na + 1) * j)] + row;
    }
  }
  return s;
}

double mean_on(const FaceSums& sums, Span across, Span up) {
  const Span a = within(sums.across, across), u = within(sums.up, up);
  const Inside left = inside(sums.across, a.from), right = inside(sums.across, a.to),
               low = inside(sums.up, u.from), high = inside(sums.up, u.to);
  const double sum =
      below(sums, right, high) - below(sums, left, high) - below(sums, right, low) + below(sums, left, low);
  return sum / (a.length() * u.length());
}

}  // namespace coldbay
