#include "tools/report/loop_arrows.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "tools/report/lettering.hpp"
#include "tools/report/oklab.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr double step = 130.0;            // from arrow to arrow
constexpr double half_length = 13.0;      // of an arrow
constexpr double head = 4.5;              // of its head, either side
constexpr double next_to_nothing = 0.05;  // of what flows where it is most
constexpr double clear = 3.0;             // between words and what is near them

/// What goes the way of `sign` nearest to a height, no further off than `most`; null where nothing does.
const GapFlow* flow_near(const LoopFlow& loop, double height, double sign, double most) {
  const GapFlow* nearest = nullptr;
  for (const GapFlow& g : loop.gaps) {
    const double off = std::abs(g.at.across - height);
    if (sign * g.upward < next_to_nothing * loop.flow || off > most) continue;
    if (!nearest || off < std::abs(nearest->at.across - height)) nearest = &g;
  }
  return nearest;
}

/// Whether what is drawn in a box asks for a light ink.
bool is_dark_in(const Picture& picture, const Box& box) {
  double lightness = 0.0, n = 0.0;
  for (auto y = static_cast<std::size_t>(box.top); y < static_cast<std::size_t>(box.bottom); ++y)
    for (auto x = static_cast<std::size_t>(box.left); x < static_cast<std::size_t>(box.right); ++x) {
      const std::size_t first = 3 * (x + y * static_cast<std::size_t>(picture.width));
      lightness += oklab_from(Rgb{picture.rgb[first], picture.rgb[first + 1], picture.rgb[first + 2]}).L;
      n += 1.0;
    }
  constexpr double halfway = 0.6;  // from black to paper
  return lightness < halfway * n;
}

/// The words for one way, beside one of its arrows towards the middle of the section, from the middle
/// outward.
void add_words(LoopArrows& found, bool right, const Box& plot, const std::vector<Box>& taken) {
  const std::string text = right ? "air rises →" : "← air falls";
  const double width = text_width(text, text_size::small), middle = 0.5 * (plot.left + plot.right);
  std::vector<Spot> places;
  for (const LoopArrows::Arrow& a : found.arrows)
    if (a.right == right) places.push_back(a.at);
  std::stable_sort(places.begin(), places.end(), [&](const Spot& a, const Spot& b) {
    return std::abs(a.x - middle) < std::abs(b.x - middle);
  });
  for (const Spot& place : places) {
    const bool below = place.y < 0.5 * (plot.top + plot.bottom);  // of the arrow, for it is at the outside
    const double top = below ? place.y + head + clear : place.y - head - clear - text_size::small - 7.0;
    const Box box{place.x - 0.5 * width - 4.0, top, place.x + 0.5 * width + 4.0,
                  top + text_size::small + 7.0};
    const auto hits = [&](const Box& other) { return overlap(box, other); };
    if (box.left < plot.left || box.right > plot.right || box.top < plot.top || box.bottom > plot.bottom ||
        std::any_of(taken.begin(), taken.end(), hits) ||
        std::any_of(found.arrows.begin(), found.arrows.end(),
                    [&](const LoopArrows::Arrow& a) { return hits(box_of(a)); }) ||
        std::any_of(found.words.begin(), found.words.end(),
                    [&](const LoopArrows::Words& w) { return hits(w.box); }))
      continue;
    found.words.push_back({{box.left + 4.0, box.bottom - 6.0}, box, text});
    return;
  }
}

}  // namespace

Box box_of(const LoopArrows::Arrow& a) {
  return {a.at.x - half_length - 1.0, a.at.y - head - 1.0, a.at.x + half_length + 1.0, a.at.y + head + 1.0};
}

LoopArrows loop_arrows(const LoopFlow& loop, const Section& section, const Box& plot,
                       const std::vector<Box>& taken) {
  LoopArrows found;
  const double metres = section.width / plot.width();  // per pixel
  const auto n = static_cast<int>(plot.width() / step);
  for (const double sign : {1.0, -1.0})
    for (int i = 0; i < n; ++i) {
      const double x = (i + 0.5) / n * plot.width();
      const GapFlow* g = flow_near(loop, x * metres, sign, 0.3 * step * metres);
      if (!g) continue;
      const LoopArrows::Arrow arrow{
          {plot.left + g->at.across / metres, plot.bottom - g->at.depth / section.depth * plot.height()},
          sign > 0.0};
      const Box box = box_of(arrow);
      if (box.left < plot.left || box.right > plot.right ||
          std::any_of(taken.begin(), taken.end(), [&](const Box& b) { return overlap(b, box); }))
        continue;
      found.arrows.push_back(arrow);
    }
  for (const bool right : {true, false}) add_words(found, right, plot, taken);
  return found;
}

void draw(Picture& picture, const LoopArrows& arrows) {
  for (const LoopArrows::Arrow& a : arrows.arrows) {
    const double to = a.right ? half_length : -half_length, back = a.right ? -head - 1.0 : head + 1.0;
    const Spot tip{a.at.x + to, a.at.y};
    const std::array shaft{Spot{a.at.x - to, a.at.y}, tip};
    const std::array point{Spot{tip.x + back, tip.y - head}, tip, Spot{tip.x + back, tip.y + head}};
    const Rgb colour = is_dark_in(picture, box_of(a)) ? ink::white : ink::outline;
    polyline(picture, shaft, 1.8, colour);
    polyline(picture, point, 1.8, colour);
  }
  for (const LoopArrows::Words& w : arrows.words) {
    fill(picture, w.box, ink::paper, 0.85);
    draw_text(picture, w.at, Align::left, w.text, text_size::small);
  }
}

}  // namespace coldbay
