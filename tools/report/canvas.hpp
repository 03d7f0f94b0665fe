#pragma once

#include <span>

#include "tools/report/oklab.hpp"
#include "tools/report/picture.hpp"

namespace coldbay {

/// A place on a picture in pixels: (0, 0) is the upper left corner of the upper left pixel, whose
/// centre is (0.5, 0.5).
struct Spot {
  double x = 0.0;
  double y = 0.0;
};

/// A rectangle of a picture, in the same pixels.
struct Box {
  double left = 0.0;
  double top = 0.0;
  double right = 0.0;
  double bottom = 0.0;
  double width() const { return right - left; }
  double height() const { return bottom - top; }
};

/// The few inks that everything but the data is drawn in.
namespace ink {
inline constexpr Rgb paper{253, 253, 252};
inline constexpr Rgb text{48, 50, 54};
inline constexpr Rgb quiet_text{98, 101, 106};
inline constexpr Rgb outline{52, 54, 58};
inline constexpr Rgb grid{222, 223, 224};
inline constexpr Rgb separator{176, 178, 182};
inline constexpr Rgb white{255, 255, 255};
}  // namespace ink

/// Everything below draws what falls on the picture and ignores the rest; alpha 1 is opaque.
Picture blank_picture(int width, int height, Rgb paper = ink::paper);

void blend(Picture& picture, int x, int y, Rgb colour, double alpha);

/// Fills a rectangle; pixels it covers in part are blended by the part covered.
void fill(Picture& picture, const Box& box, Rgb colour, double alpha = 1.0);

/// The outline of a rectangle, drawn just outside it.
void frame(Picture& picture, const Box& box, double thickness, Rgb colour, double alpha = 1.0);

/// A line through all points, round at ends and corners. Where it touches itself it is not darker.
void polyline(Picture& picture, std::span<const Spot> points, double thickness, Rgb colour,
              double alpha = 1.0);

void line(Picture& picture, Spot from, Spot to, double thickness, Rgb colour, double alpha = 1.0);

/// A level line from left to right in dashes.
void dashed_level(Picture& picture, double left, double right, double y, double thickness, Rgb colour);

void ring(Picture& picture, Spot centre, double radius, double thickness, Rgb colour);
void disc(Picture& picture, Spot centre, double radius, Rgb colour);

/// How strongly pixel (x, y) takes part in a pattern of diagonal lines `spacing` pixels apart, 0 to 1.
double hatch(int x, int y, int spacing);

}  // namespace coldbay
