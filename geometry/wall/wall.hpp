#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "materials/batt.hpp"
#include "materials/material.hpp"
#include "materials/model_error.hpp"

// The wall in the words of those who build it. Nothing here is drawn yet: geometry/wall/build.hpp turns it
// into pieces in three dimensions. All lengths in metres.

namespace coldbay {

enum class Side { left, right };
enum class Face { room, sheathing };
enum class BayEnd { bottom, top };

/// One layer of a wall; the frame layer is as deep as its members.
struct Layer {
  Material material;       ///< not used for the frame layer
  double thickness = 0.0;  ///< [m]
  bool is_frame = false;
  bool slightly_ventilated = false, well_ventilated = false;  ///< of an air layer, see Shape
};

/// Studs, with plates at the bottom and the top of the wall.
struct Frame {
  Material material;
  double member_width = 0.0;  ///< of a stud, across the wall; of a plate, upward [m]
  double member_depth = 0.0;  ///< [m]
  /// Of steel members, which are sheets bent to a C (studs open to the right) and a U (plates). Empty for
  /// solid ones.
  std::optional<double> sheet;
  double spacing = 0.0;  ///< of the studs, centre to centre [m]
  int bottom_plates = 1, top_plates = 1;
  std::vector<double> blocking;  ///< heights of the middle of each row between the studs [m]
};

/// What stands between two bays, or at an end of the wall.
struct Post {
  /// corner_three: two studs with an empty pocket between them, one stud wide. corner_open: one stud, and one
  /// laid flat against the lining, behind which the batt of the bay goes on. Corners are at the ends only.
  enum class Kind { studs, corner_three, corner_open };
  Kind kind = Kind::studs;
  int studs = 1;  ///< side by side; a single one at an end of the wall is cut in the middle: the wall goes on
  std::string path;
};

/// Air round the fill of a bay, as thick as given: on each of its four sides in plan, and between its ends
/// and the plates, where it joins what air there is on the two faces [m].
struct Gap {
  double left = 0.0, right = 0.0, room = 0.0, sheathing = 0.0, top = 0.0, bottom = 0.0;
  bool any() const {
    return left > 0.0 || right > 0.0 || room > 0.0 || sheathing > 0.0 || top > 0.0 || bottom > 0.0;
  }
};

/// One layer of what a bay is filled with.
struct Fill {
  Material material;
  /// The label, where it is a batt. One thicker than the room it has is squeezed (materials/batt.hpp).
  std::optional<Batt> batt;
  double thickness = 0.0;  ///< as written, or of the label; 0: takes what the others leave
};

/// A batt cut too short. Filled: the rest of the bay holds a piece cut to it.
struct ShortEnd {
  double by = 0.0;
  BayEnd at = BayEnd::top;
  bool filled = false;
};

/// A batt too long, its end folded back over itself.
struct FoldedEnd {
  double by = 0.0;  ///< length folded back
  BayEnd at = BayEnd::bottom;
};

/// Flanges stapled to the sides of the studs, which draws the batt's edges inward: an air pocket along each
/// stud on the room side.
struct InsetStaples {
  double depth = 0.0;   ///< of the pocket, at the stud
  double pocket = 0.0;  ///< its width from the stud
  bool square = false;  ///< the same depth all over; else it tapers to nothing
};

/// Scraps stuffed in: lumps of different density and air pockets between them, drawn by a seeded generator
/// (geometry/wall/scraps.hpp).
struct Scraps {
  std::uint64_t seed = 1;
  double lump = 0.045;    ///< usual size of one
  double pockets = 0.10;  ///< share of the space that is air
  int seeds = 12;         ///< how many are looked at for the range of the answer
};

/// A hole of any outline through the fill, along the height or from stud to stud.
struct Void {
  Direction along = Direction::up;
  /// (across, depth) for one that runs up, (up, depth) for one that runs across. Across counts from the bay's
  /// left stud, depth from the room side of the frame, up from the floor.
  Outline outline;
  std::optional<Span> reach;  ///< along its direction; empty: all the way
  std::string path;
};

/// A sheet-walled thing with air inside: an electrical box, a recessed cabinet, a duct.
struct Enclosure {
  enum class Kind { box, cabinet, duct };
  /// What is between its back and the sheathing. open: air. filled: a piece of the fill cut to the space.
  /// squeezed: the whole fill pressed in. piece: one as thick as `piece`, against the sheathing, air in front
  /// of it. foam: sealant foam.
  enum class Behind { open, filled, squeezed, piece, foam };
  Kind kind = Kind::box;
  double centre = 0.0;                            ///< height of its middle above the floor [m]
  double height = 0.0, width = 0.0, depth = 0.0;  ///< outside [m]
  double front = 0.0;                             ///< of its front, from the room face [m]
  double wall = 0.0;                              ///< thickness of its sides and back [m]
  Material material;                              ///< of its sides and back
  std::optional<Material> cover;                  ///< of its front; empty: as the other sides
  Side stud = Side::left;                         ///< that it stands against
  Behind behind = Behind::open;
  double piece = 0.0;
  double margin = 0.0;  ///< cut away too wide, on every side that is not the stud's [m]
  Material foam;
  std::string label;  ///< in the reader's words
  std::string path;
};

/// A round thing that runs through the bay: a cable, a pipe, a conduit.
struct ServiceRun {
  enum class Kind { cable, pipe, conduit };
  /// over: the batt pushed over it, whole on its room side; an air pocket behind, which tapers off to either
  /// side. behind: the batt whole on its sheathing side, the pocket towards the room. split: the batt split
  /// round it.
  enum class Laid { over, split, behind };
  Kind kind = Kind::cable;
  double diameter = 0.0;  ///< outside [m]
  double wall = 0.0;      ///< of a pipe or conduit; 0: solid
  Material material;      ///< of its wall, or of all of it
  Material inside;        ///< of a pipe or conduit
  bool runs_up = false;   ///< else from stud to stud
  double at = 0.0;     ///< of its middle: height above the floor, or from the left stud where it runs up [m]
  double depth = 0.0;  ///< of its middle, from the room side of the frame [m]
  Laid laid = Laid::split;
  double pocket = 0.0;                ///< how far the pocket reaches to either side; 0: as far as it is deep
  std::optional<double> temperature;  ///< of what runs in it [degC]; empty: as warm as the wall there
  std::string label, path;
};

/// A window or a door: its own frame of jacks, header and sill, and a filling known by its U-value alone.
struct Opening {
  double width = 0.0, sill = 0.0, head = 0.0;  ///< clear; heights above the floor; sill 0 is a door
  double header = 0.0;                         ///< height of the header above the head
  int jacks = 1;                               ///< on either side, under the header; the posts are the kings
  std::optional<double> u_value;               ///< of what it holds [W/(m2 K)]
  std::string path;
};

struct Bay {
  double clear_width = 0.0;      ///< between its studs [m]
  std::vector<Fill> fills;       ///< room outward; none for an empty bay
  std::optional<Fill> intended;  ///< what should be in it, where that is another fill
  Gap gap;
  std::optional<double> width;      ///< of the batt as cut, where it is not that of the bay [m]
  Side strip = Side::right;         ///< where a narrower one leaves a strip open
  bool strip_filled = false;        ///< by a strip cut to it
  bool flange_stretched = false;    ///< over the strip: it cannot be seen, and conducts all the same
  bool faced = false;               ///< by a facing on its batt that lets no air through it
  std::optional<double> thickness;  ///< that a batt has recovered to [m]
  Face against = Face::room;        ///< what a thin one lies against
  std::optional<ShortEnd> short_end;
  std::optional<FoldedEnd> folded;
  double fallen = 0.0;   ///< a batt slumped by this much: open at the top, all its fibre below [m]
  double settled = 0.0;  ///< loose fill, the same [m]
  std::optional<InsetStaples> staples;
  double shoulders = 0.0;  ///< radius of the edges on the sheathing side [m]
  /// Scraps of the batt: their fibre over that of the whole batt. Even, unless `scraps` says how they lie.
  std::optional<double> fill_fraction;
  std::optional<Scraps> scraps;
  std::vector<Void> voids;
  std::vector<Enclosure> enclosures;
  std::vector<ServiceRun> runs;
  std::optional<Opening> opening;
  std::string label;  ///< in the reader's words, without what stands in it
  std::string path;
};

/// A framed wall as built, seen from the room.
///
///      post | bay 1 | post | bay 2 | post     layers from the room outward, one of them the frame
///
/// Holds   (once check() finds no problem) posts.size() == bays.size() + 1.
/// Not in  what lies round a corner, screws and staples themselves, faults inside the lining.
struct Wall {
  double height = 0.0;
  std::vector<Layer> layers;
  Frame frame;
  std::vector<Post> posts;  ///< left to right; may be left empty where all are single studs
  std::vector<Bay> bays;    ///< left to right
  Material air;             ///< what fills gaps, boxes and empty bays
};

/// Everything about a wall that cannot be built as described. Empty where all is well.
std::vector<Problem> check(const Wall& wall);

/// A batt is cut this much wider than its bay so that friction holds it, and is not the worse for it [m];
/// common practice (half an inch), no source.
inline constexpr double friction_fit = 0.0127;

/// A batt gives this much, either way, without a change anyone could measure [m]; common practice (a tenth of
/// an inch), no source.
inline constexpr double slack = 0.0025;

/// A batt this much thinner than its bay comes up to its depth [m]: one of 3-1/2 in in a stud of 3-5/8 in;
/// common practice, no source.
inline constexpr double fluff = 0.004;

}  // namespace coldbay
