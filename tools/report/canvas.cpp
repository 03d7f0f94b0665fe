#include "tools/report/canvas.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace coldbay {
namespace {

// Whole pixels that a stretch may touch, kept on the picture. Clamped as doubles: a far-off
// coordinate must not overflow on its way to int.
int first_pixel(double from, int limit) {
  return static_cast<int>(std::floor(std::clamp(from, 0.0, static_cast<double>(limit))));
}
int past_pixel(double to, int limit) {
  return static_cast<int>(std::ceil(std::clamp(to, 0.0, static_cast<double>(limit))));
}

double covered(double from, double to, int pixel) {
  return std::max(0.0, std::min(to, pixel + 1.0) - std::max(from, static_cast<double>(pixel)));
}

double distance_to_segment(Spot p, Spot a, Spot b) {
  const double dx = b.x - a.x;
  const double dy = b.y - a.y;
  const double length2 = dx * dx + dy * dy;
  const double along =
      length2 > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

template <class Coverage>
void blend_round(Picture& picture, Spot centre, double reach, Rgb colour, Coverage coverage) {
  const int right = past_pixel(centre.x + reach, picture.width);
  const int bottom = past_pixel(centre.y + reach, picture.height);
  for (int y = first_pixel(centre.y - reach, picture.height); y < bottom; ++y)
    for (int x = first_pixel(centre.x - reach, picture.width); x < right; ++x)
      blend(picture, x, y, colour, coverage(std::hypot(x + 0.5 - centre.x, y + 0.5 - centre.y)));
}

}  // namespace

Picture blank_picture(int width, int height, Rgb paper) {
  assert(width > 0 && height > 0);
  Picture picture{width, height, {}};
  picture.rgb.resize(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  for (std::size_t i = 0; i < picture.rgb.size(); ++i) picture.rgb[i] = paper[i % 3];
  return picture;
}

void blend(Picture& picture, int x, int y, Rgb colour, double alpha) {
  if (x < 0 || y < 0 || x >= picture.width || y >= picture.height || !(alpha > 0.0)) return;
  const double share = std::min(alpha, 1.0);
  const std::size_t at = 3 * (static_cast<std::size_t>(x) +
                              static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(y));
  for (std::size_t c = 0; c < 3; ++c) {
    const double before = picture.rgb[at + c];
    picture.rgb[at + c] = static_cast<std::uint8_t>(std::lround(before + share * (colour[c] - before)));
  }
}

void fill(Picture& picture, const Box& box, Rgb colour, double alpha) {
  const int right = past_pixel(box.right, picture.width);
  const int bottom = past_pixel(box.bottom, picture.height);
  for (int y = first_pixel(box.top, picture.height); y < bottom; ++y) {
    const double row = alpha * covered(box.top, box.bottom, y);
    for (int x = first_pixel(box.left, picture.width); x < right; ++x)
      blend(picture, x, y, colour, row * covered(box.left, box.right, x));
  }
}

void frame(Picture& picture, const Box& box, double thickness, Rgb colour, double alpha) {
  const double t = thickness;
  fill(picture, {box.left - t, box.top - t, box.right + t, box.top}, colour, alpha);
  fill(picture, {box.left - t, box.bottom, box.right + t, box.bottom + t}, colour, alpha);
  fill(picture, {box.left - t, box.top, box.left, box.bottom}, colour, alpha);
  fill(picture, {box.right, box.top, box.right + t, box.bottom}, colour, alpha);
}

void polyline(Picture& picture, std::span<const Spot> points, double thickness, Rgb colour, double alpha) {
  if (points.empty()) return;
  const double reach = 0.5 * thickness + 0.5;
  // Pixels that any of it may touch.
  const auto [leftmost, rightmost] =
      std::minmax_element(points.begin(), points.end(), [](Spot a, Spot b) { return a.x < b.x; });
  const auto [topmost, lowest] =
      std::minmax_element(points.begin(), points.end(), [](Spot a, Spot b) { return a.y < b.y; });
  const int start = first_pixel(leftmost->x - reach, picture.width);
  const int first_row = first_pixel(topmost->y - reach, picture.height);
  const int width = past_pixel(rightmost->x + reach, picture.width) - start;
  const int height = past_pixel(lowest->y + reach, picture.height) - first_row;
  // The strongest coverage any segment gives a pixel, collected before blending: blending segment by
  // segment would thicken every joint.
  std::vector<float> strongest(
      static_cast<std::size_t>(std::max(0, width)) * static_cast<std::size_t>(std::max(0, height)), 0.0F);
  const auto at = [&](int x, int y) -> float& {
    return strongest[static_cast<std::size_t>(x - start) +
                     static_cast<std::size_t>(width) * static_cast<std::size_t>(y - first_row)];
  };
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Spot a = points[i];
    const Spot b = points[std::min(i + 1, points.size() - 1)];
    const int right = past_pixel(std::max(a.x, b.x) + reach, picture.width);
    const int bottom = past_pixel(std::max(a.y, b.y) + reach, picture.height);
    for (int y = first_pixel(std::min(a.y, b.y) - reach, picture.height); y < bottom; ++y)
      for (int x = first_pixel(std::min(a.x, b.x) - reach, picture.width); x < right; ++x)
        at(x, y) =
            std::max(at(x, y), static_cast<float>(reach - distance_to_segment({x + 0.5, y + 0.5}, a, b)));
  }
  for (int y = first_row; y < first_row + height; ++y)
    for (int x = start; x < start + width; ++x)
      blend(picture, x, y, colour, alpha * std::min(1.0, static_cast<double>(at(x, y))));
}

void line(Picture& picture, Spot from, Spot to, double thickness, Rgb colour, double alpha) {
  const std::array<Spot, 2> ends{from, to};
  polyline(picture, ends, thickness, colour, alpha);
}

void dashed_level(Picture& picture, double left, double right, double y, double thickness, Rgb colour) {
  constexpr double dash = 9.0;
  constexpr double period = 15.0;
  for (double x = left; x < right; x += period)
    fill(picture, {x, y - 0.5 * thickness, std::min(x + dash, right), y + 0.5 * thickness}, colour);
}

void ring(Picture& picture, Spot centre, double radius, double thickness, Rgb colour) {
  const double half = 0.5 * thickness;
  blend_round(picture, centre, radius + half + 1.0, colour, [&](double distance) {
    return std::clamp(half + 0.5 - std::abs(distance - radius), 0.0, 1.0);
  });
}

void disc(Picture& picture, Spot centre, double radius, Rgb colour) {
  blend_round(picture, centre, radius + 1.0, colour,
              [&](double distance) { return std::clamp(radius + 0.5 - distance, 0.0, 1.0); });
}

double hatch(int x, int y, int spacing) {
  // (x + y) / sqrt(2) is the distance along the normal of lines that rise to the right.
  const int phase = (x + y) % spacing;
  const double off = std::min(phase, spacing - phase) / std::numbers::sqrt2;
  return std::clamp(1.1 - off, 0.0, 1.0);
}

}  // namespace coldbay
