#pragma once

#include <string>

#include "geometry/section.hpp"
#include "geometry/wall/build.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// The horizontal cut at a height above the floor [m], over the whole wall, and the heights it stands for.
///
/// Throws ModelError at `path` where the height lies outside the wall or in a plate, or in an opening whose
/// U-value is not known.
Section plan_section(const Wall& wall, const BuiltWall& built, double height, const std::string& name,
                     const std::string& path);
Section plan_section(const Wall& wall, double height, const std::string& name, const std::string& path);

/// The vertical cut at a distance across [m], from floor to top, and the distances it stands for.
///
/// Throws ModelError at `path` where the distance lies outside the wall, or in an opening whose U-value is
/// not known.
Section vertical_section(const Wall& wall, const BuiltWall& built, double across, const std::string& name,
                         const std::string& path);
Section vertical_section(const Wall& wall, double across, const std::string& name, const std::string& path);

/// What a plane shows, in painting order: at a height where `normal` is up, at a distance across where it is
/// across. Without names, bays and probes.
Section cut_of(const BuiltWall& built, Direction normal, double at);

/// Whether two cuts show the same shapes of the same materials.
bool looks_like(const Section& a, const Section& b);

/// Whether two cuts at one place show a bay differently, looked at in the middle of every field that its
/// edges make.
bool differ(const Section& a, const Section& b, const Bay& bay);

}  // namespace coldbay
