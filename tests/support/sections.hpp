#pragma once

#include <random>
#include <string>
#include <vector>

#include "geometry/axis.hpp"
#include "geometry/section.hpp"

namespace coldbay::test {

inline Material material(std::string name, double conductivity) {
  Material m;
  m.name = std::move(name);
  m.conductivity = conductivity;
  return m;
}

inline Material still_air() {
  Material m;
  m.name = "air space";
  m.is_air_space = true;
  return m;
}

struct Slice {
  double thickness, conductivity;
};

/// Layers from the room outward, `width` wide.
inline Section layered(double width, const std::vector<Slice>& slices) {
  Section s;
  s.width = width;
  for (const Slice& slice : slices) {
    s.materials.push_back(material("layer", slice.conductivity));
    s.shapes.push_back(
        {Rectangle{{0.0, width}, {s.depth, s.depth + slice.thickness}}, s.materials.size() - 1, ""});
    s.depth += slice.thickness;
  }
  return s;
}

/// Paints one more rectangle over a section.
inline void add(Section& s, double conductivity, Span across, Span depth) {
  s.materials.push_back(material("piece", conductivity));
  s.shapes.push_back({Rectangle{across, depth}, s.materials.size() - 1, ""});
}

/// n cells of one length, their edges moved at random by up to a quarter of a cell.
inline Axis jittered(double length, int n, unsigned seed) {
  std::mt19937 rng(seed);
  std::vector<double> edges;
  for (int i = 0; i <= n; ++i) {
    // Our own map from bits to a number: the standard distributions differ between libraries.
    const double r = static_cast<double>(rng()) / 4294967296.0 - 0.5;
    edges.push_back(length * (i + (i == 0 || i == n ? 0.0 : 0.5 * r)) / n);
  }
  return Axis(edges);
}

/// A number from [low, high), from the bits of a seeded generator.
inline double uniform(std::mt19937& rng, double low, double high) {
  return low + (high - low) * static_cast<double>(rng()) / 4294967296.0;
}

}  // namespace coldbay::test
