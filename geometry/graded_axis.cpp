#include "geometry/graded_axis.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace coldbay {
namespace {

/// Edges inside one stretch [a, b]: the wanted size grows from h_a and from h_b inward up to `cap`,
///
///     h(x) = min(h_a + g (x - a), cap, h_b + g (b - x)),
///
/// and cell edges stand at equal steps of the integral of dx / h.
void fill(double a, double b, double h_a, double h_b, double cap, double g, std::vector<double>& edges) {
  const double L = b - a;
  // where the left ramp ends and the right ramp begins, measured from a
  double left = (cap - h_a) / g, right = L - (cap - h_b) / g;
  if (left > right) left = right = std::clamp(0.5 * (L + (h_b - h_a) / g), 0.0, L);
  const double top = std::min(cap, h_a + g * left);
  const double I1 = std::log1p(g * left / h_a) / g, I2 = (right - left) / top,
               I3 = std::log1p(g * (L - right) / h_b) / g, total = I1 + I2 + I3;
  const auto n = static_cast<Index>(std::max(1.0, std::ceil(total - 1e-9)));
  edges.push_back(a);
  for (Index i = 1; i < n; ++i) {
    const double s = total * static_cast<double>(i) / static_cast<double>(n);
    double x = 0.0;
    if (s <= I1)
      x = h_a * std::expm1(g * s) / g;
    else if (s <= I1 + I2)
      x = left + (s - I1) * top;
    else
      x = L - h_b * std::expm1(g * (total - s)) / g;
    edges.push_back(a + x);
  }
}

}  // namespace

std::vector<double> tidy(std::vector<double> lines, Span on) {
  std::erase_if(lines,
                [&](double x) { return x <= on.from + merge_distance || x >= on.to - merge_distance; });
  std::sort(lines.begin(), lines.end());
  std::vector<double> out{on.from};
  for (const double x : lines)
    if (x - out.back() > merge_distance) out.push_back(x);
  out.push_back(on.to);
  return out;
}

Axis graded_axis(const LineWishes& wishes, Span on, const CellSizes& sizes, Index most) {
  const std::vector<double> lines = tidy(wishes.lines, on);
  const std::size_t n = lines.size();
  const double g = sizes.growth;
  std::vector<double> cap(n - 1, sizes.largest), h(n, sizes.at_line);
  for (std::size_t k = 0; k < n; ++k) {
    const auto is_here = [&](double x) { return std::abs(x - lines[k]) <= merge_distance; };
    if (std::any_of(wishes.plain.begin(), wishes.plain.end(), is_here)) h[k] = sizes.largest;
    if (std::any_of(wishes.fine.begin(), wishes.fine.end(), is_here)) h[k] = 0.25 * sizes.at_line;
  }
  for (std::size_t k = 0; k + 1 < n; ++k) {
    for (const Cap& c : wishes.caps)
      if (c.on.from < lines[k + 1] - merge_distance && c.on.to > lines[k] + merge_distance)
        cap[k] = std::min(cap[k], c.size);
    const double room = std::min(cap[k], (lines[k + 1] - lines[k]) / sizes.least);
    h[k] = std::min(h[k], room);
    h[k + 1] = std::min(h[k + 1], room);
  }
  // No line may ask for more than its neighbours' sizes grown over the distance between them.
  for (std::size_t k = 1; k < n; ++k) h[k] = std::min(h[k], h[k - 1] + g * (lines[k] - lines[k - 1]));
  for (std::size_t k = n - 1; k-- > 0;) h[k] = std::min(h[k], h[k + 1] + g * (lines[k + 1] - lines[k]));

  std::vector<double> edges;
  for (std::size_t k = 0; k + 1 < n && std::ssize(edges) <= most; ++k)
    fill(lines[k], lines[k + 1], h[k], h[k + 1], cap[k], g, edges);
  edges.push_back(on.to);
  return Axis(std::move(edges));
}

}  // namespace coldbay
