#pragma once

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/support/grids.hpp"

// Bays of plain conductivities as lists of boxes, and what finite elements found for them:
// tests/published/freefem/NAME.boxes and NAME.expected.

namespace coldbay::test {

/// Painted in order, later over earlier: from and to along across, up and depth [m].
struct PaintedBox {
  std::string name;
  double conductivity = 0.0;  ///< [W/(m K)]
  std::array<double, 3> from{}, to{};
};

struct FaceProbe {
  std::string name;
  double across = 0.0, up = 0.0;  ///< [m]
  double celsius = 0.0;           ///< of the room face
};

struct FiniteElements {
  double integral = 0.0;  ///< of the conductivity over the bay [W m2/K]
  double heat = 0.0;      ///< through the room face [W]
  std::vector<FaceProbe> probes;
};

/// The lines of a file that are neither empty nor a comment (from # to the end of the line).
inline std::vector<std::istringstream> rows_of(const std::string& file) {
  std::ifstream in(file);
  if (!in) throw std::runtime_error(fmt::format("cannot read {}", file));
  std::vector<std::istringstream> rows;
  for (std::string line; std::getline(in, line);) {
    line = line.substr(0, line.find('#'));
    if (line.find_first_not_of(" \t\r") != std::string::npos) rows.emplace_back(line);
  }
  return rows;
}

inline std::vector<PaintedBox> read_boxes(const std::string& file) {
  std::vector<PaintedBox> boxes;
  for (std::istringstream& row : rows_of(file)) {
    PaintedBox b;
    row >> b.name >> b.conductivity;
    for (std::size_t d = 0; d < 3; ++d) row >> b.from[d] >> b.to[d];
    if (!row) throw std::runtime_error(fmt::format("{}: not a box: {}", file, row.str()));
    boxes.push_back(b);
  }
  return boxes;
}

inline FiniteElements read_finite_elements(const std::string& file) {
  FiniteElements f;
  for (std::istringstream& row : rows_of(file)) {
    std::string what;
    row >> what;
    if (what == "integral") {
      row >> f.integral;
    } else if (what == "heat") {
      row >> f.heat;
    } else if (what == "probe") {
      FaceProbe p;
      row >> p.name >> p.across >> p.up >> p.celsius;
      f.probes.push_back(p);
    } else if (what != "mesh" && what != "quick") {  // those are for the finite elements
      throw std::runtime_error(fmt::format("{}: unknown: {}", file, row.str()));
    }
    if (!row) throw std::runtime_error(fmt::format("{}: cannot be read: {}", file, row.str()));
  }
  return f;
}

/// The conductivity at a point; 0 where no box covers it.
inline double conductivity_at(const std::vector<PaintedBox>& boxes, const std::array<double, 3>& at) {
  double k = 0.0;
  for (const PaintedBox& b : boxes) {
    bool in = true;
    for (std::size_t d = 0; d < 3; ++d) in = in && b.from[d] < at[d] && at[d] < b.to[d];
    if (in) k = b.conductivity;
  }
  return k;
}

/// Grid lines through every side of every box, graded from cells of `at_line` [m].
inline ConductivityGrid grid_of(const std::vector<PaintedBox>& boxes, double at_line, double growth) {
  std::array<std::vector<double>, 3> sides;
  for (const PaintedBox& b : boxes)
    for (std::size_t d = 0; d < 3; ++d) sides[d].insert(sides[d].end(), {b.from[d], b.to[d]});
  for (std::vector<double>& s : sides) {
    std::sort(s.begin(), s.end());
    s.erase(std::unique(s.begin(), s.end()), s.end());
  }
  return sampled(graded(sides[0], at_line, growth), graded(sides[1], at_line, growth),
                 graded(sides[2], at_line, growth), [&boxes](double x, double y, double z) {
                   return conductivity_at(boxes, {x, y, z});
                 });
}

}  // namespace coldbay::test
