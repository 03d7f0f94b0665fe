#pragma once

#include <vector>

#include "geometry/wall/pieces.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// A block of space [m].
struct Region {
  Span across, up, depth;
};

/// One fill, and the block it lies in before anything dents it.
struct Laid {
  const Fill* fill = nullptr;
  Region at;
  double squeezed = 1.0;  ///< its density over that of its label
  bool faced = false;     ///< no air gets through it, see Bay
};

/// How high the batt of a bay was cut, before it slumped [m]: not above 0 where the bay cannot be so.
double piece_height(const Bay& bay, const Region& bay_space);

/// How the fills of a bay lie in it, room outward: less deep, narrow or high than the bay where they are, and
/// as dense as their mass makes them there. Empty for an empty bay.
std::vector<Laid> laid_fills(const Bay& bay, const Region& bay_space);

/// The fill at a density, given over that of its label: a batt conducts by its fibre (materials/batt.hpp),
/// anything else as it always does.
Material fill_material(const Fill& fill, double squeezed, bool in_scraps = false);

/// Paints a laid fill at another density into another block. Where it is faced, no air gets through it.
Piece fill_piece(const Laid& laid, double squeezed, const Region& at, const std::string& path);

/// Paints a dent: over `strip` (a stretch across or up) the fill leaves `depth` of air on one face, and all
/// of its fibre is in what remains. Nothing where the depth is nothing.
void add_dent(const Laid& laid, Direction direction, Span strip, double depth, Face face, const Material& air,
              const std::string& path, std::vector<Piece>& pieces);

/// A batt may be squeezed to this share of its label thickness where something dents it: four times its
/// density. That is beyond the table which the fibre model was fitted to (least_thickness_share); the form
/// holds for denser fibre too (materials/batt.hpp), by how much is not known.
inline constexpr double least_local_share = 0.25;

/// In how many steps of even depth a taper, a slope or a quarter round is drawn. Every step has the mean
/// depth of its stretch, so that areas are kept exactly; U changes by less than 0.1 % from 3 steps to 10.
/// With steps of less than 2 mm the rule for air spaces makes one space of them: up to 1 %
/// (tests/accuracy/wall_figures_test.cpp).
inline constexpr int steps = 4;

/// Mean depths of `steps` equal stretches of a quarter round of radius r: from the side, where it is r deep
/// from the face, to r away, where it is nothing. Together (1 - pi/4) r^2 / (r / steps).
std::vector<double> quarter_round(double radius);

/// Radius of the edges on the sheathing side [m]: as given, or for a batt forced in what it is too wide by.
double shoulder_radius(const Bay& bay, const Region& bay_space);

/// What a bay is filled with and how, as pieces over `space`; without its voids.
void add_fill(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces);

/// The holes through the fill.
void add_voids(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces);

/// Whether the fill leaves air on the room side and on the sheathing side over its whole height.
bool air_on_both_faces(const Bay& bay, const Region& space);

}  // namespace coldbay
