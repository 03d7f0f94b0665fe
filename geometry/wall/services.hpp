#pragma once

#include <vector>

#include "geometry/wall/fill.hpp"

namespace coldbay {

/// Thickness of the plastic over a box or a cabinet [m]; common practice, no source.
inline constexpr double cover_plate = 0.002;

/// Where an enclosure stands in its bay: outside sizes [m]. A duct reaches from plate to plate.
Region space_of(const Enclosure& box, const Region& bay_space);

/// Where a run passes: its middle in (across, depth) or (up, depth), and how far it reaches.
struct RunPlace {
  Direction along = Direction::up;
  Point middle;
  Span reach;
};
RunPlace passage_of(const ServiceRun& run, const Region& bay_space);

/// How deep the pocket beside a run is that the batt is pushed over; nothing where it is split round it.
double pocket_depth(const ServiceRun& run, const Laid& laid, const Region& bay_space);

/// What becomes of the fill for the sake of what stands in the bay and runs through it: dents along the runs,
/// and what is cut away for enclosures or put behind them. Before the frame is drawn, which it leaves whole.
void fit_round_services(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces);

/// What stands in a bay and runs through it: the enclosures, then the runs.
///
/// A pipe or conduit is drawn as a square of the same area outside and of the same wall thickness: a thin
/// sheet in a curve would need cells thinner than itself all along it, and what counts for heat is the metal
/// and the hole it makes.
void add_services(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces);

}  // namespace coldbay
