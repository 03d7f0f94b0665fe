#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "solver/results/loop_flow.hpp"
#include "tools/report/canvas.hpp"
#include "tools/report/picture.hpp"

namespace coldbay {

/// What shows on a picture of a vertical section where its air goes.
struct LoopArrows {
  struct Arrow {
    Spot at;             ///< its middle
    bool right = false;  ///< it points: up the wall, which is drawn lying down
  };
  struct Words {
    Spot at;  ///< left end of the baseline
    Box box;  ///< what they take, with their patch of paper
    std::string text;
  };
  std::vector<Arrow> arrows;
  std::vector<Words> words;
};

/// Arrows along the gaps at even steps, and beside them in the fill, once for each way it goes, what the air
/// does there: on no arrow, on nothing that is `taken`, and within the plot. Words without such a place are
/// left out, and so are arrows where next to nothing flows.
LoopArrows loop_arrows(const LoopFlow& loop, const Section& section, const Box& plot,
                       const std::vector<Box>& taken);

void draw(Picture& picture, const LoopArrows& arrows);

/// What an arrow takes.
Box box_of(const LoopArrows::Arrow& arrow);

}  // namespace coldbay
