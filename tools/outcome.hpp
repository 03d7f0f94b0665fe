#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/wall/measured.hpp"
#include "solver/air_loops/loop_estimate.hpp"
#include "solver/forecast.hpp"
#include "solver/results/effect.hpp"
#include "solver/results/loop_effect.hpp"
#include "tools/input/case.hpp"

namespace coldbay {

/// What a bay of stuffed scraps costs more than built right, by itself, over many stuffings.
struct ScrapsRange {
  std::string bay;             ///< "bay 7"
  std::vector<double> shares;  ///< of its heat built right, seed by seed, its own first
};

/// A bay whose fill has air on both faces, and which a section shows with that air standing still.
struct StillBay {
  std::string bay;  ///< "bay 4"
  LoopEstimate loop;
};

/// One section of a case, solved: as built, and built right where that shows something else.
struct Outcome {
  Forecast built;
  std::optional<Forecast> right;
  std::optional<Effect> effect;
  std::vector<ScrapsRange> scraps;
  std::optional<Forecast> still = {};  ///< as built with the air standing still, where it loops
  std::optional<LoopEffect> loop = {};
  std::vector<StillBay> still_bays = {};  ///< where air could loop, and does not in this section
};

/// A framed wall as a whole.
struct WholeWall {
  double u_right = 0.0, u_built = 0.0;  ///< [W/(m2 K)]
  double extra = 0.0;                   ///< heat as built less built right [W/K]
  std::vector<double> bays;             ///< what each bay has of that [W/K]
  /// Bays that are wrong at heights that no section shows, and the share of those heights: what they cost
  /// there is not in it.
  struct Unseen {
    std::string bay;
    double share = 0.0;
  };
  std::vector<Unseen> unseen;
};

/// Good enough for a range over seeds, which is some per cent wide, and for framing alone.
inline constexpr Accuracy rough{5e-3, 0.1};

/// All that is known of a case once it is solved.
struct Outcomes {
  std::vector<Outcome> sections;
  std::optional<Measured> measured;
  std::optional<WholeWall> wall;
  std::vector<std::optional<LoopEstimate>> loops;  ///< by bay of the wall, where its fill has air on a face
};

/// Solves every section of a case, and says which it is at.
Outcomes solve_case(const Case& c, const std::function<void(const std::string&)>& progress);

}  // namespace coldbay
