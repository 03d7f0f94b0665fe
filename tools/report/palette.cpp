#include "tools/report/palette.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coldbay {
namespace {

// Both ends keep clear of black and white: a cold patch must not look like a hole in the picture,
// nor a warm one like bare paper.
constexpr double darkest = 0.24;
constexpr double lightest = 0.95;

// hearth: a and b at lightnesses evenly apart. Blue to yellow is the axis that red-green
// deficiencies leave alone; the detour through teal (a < 0) is what a reader with a blue-yellow
// deficiency sees instead. The chroma stays small enough for the gamut at both ends.
constexpr std::array<double, 5> hearth_a{-0.005, -0.030, -0.030, -0.008, 0.000};
constexpr std::array<double, 5> hearth_b{-0.090, -0.045, 0.005, 0.050, 0.050};

// plumb: the hues lie across the one axis that each deficiency leaves; both ends are as dark as the gamut
// lets these chromas be, and no difference is darker than paper, lest it look like a hole.
constexpr double plumb_lightest = 0.94;
constexpr double plumb_darkest = 0.40;
constexpr OkLab plumb_cold{plumb_darkest, -0.0324, -0.1207};  // chroma 0.125, hue 255 degrees
constexpr OkLab plumb_warm{plumb_darkest, 0.0611, 0.0728};    // chroma 0.095, hue 50 degrees

// Catmull-Rom through evenly spaced points: smooth in slope, so that no false edge shows in an even
// gradient. Beyond the ends the points are continued straight.
double through(const std::array<double, 5>& points, double t) {
  const double place = t * static_cast<double>(points.size() - 1);
  const std::size_t i = std::min(static_cast<std::size_t>(place), points.size() - 2);
  const double u = place - static_cast<double>(i);
  const double p1 = points[i];
  const double p2 = points[i + 1];
  const double p0 = i > 0 ? points[i - 1] : 2.0 * p1 - p2;
  const double p3 = i + 2 < points.size() ? points[i + 2] : 2.0 * p2 - p1;
  return p1 + 0.5 * u *
                  ((p2 - p0) + u * ((2.0 * p0 - 5.0 * p1 + 4.0 * p2 - p3) + u * (3.0 * (p1 - p2) + p3 - p0)));
}

}  // namespace

std::string_view name_of(Palette palette) {
  switch (palette) {
    case Palette::hearth:
      return "hearth";
    case Palette::slate:
      return "slate";
  }
  assert(false && "a palette without a name");
  return {};
}

std::optional<Palette> palette_named(std::string_view name) {
  for (const Palette palette : all_palettes)
    if (name == name_of(palette)) return palette;
  return std::nullopt;
}

OkLab palette_lab(Palette palette, double t) {
  const double s = t > 0.0 ? std::min(t, 1.0) : 0.0;  // NaN reads as the cold end
  const double lightness = darkest + (lightest - darkest) * s;
  if (palette == Palette::slate) return {lightness, 0.0, 0.0};
  return {lightness, through(hearth_a, s), through(hearth_b, s)};
}

Rgb colour(Palette palette, double t) { return rgb_from(palette_lab(palette, t)); }

std::vector<Rgb> colour_ramp(Palette palette, std::size_t n) {
  assert(n >= 2);
  std::vector<Rgb> ramp(n);
  for (std::size_t i = 0; i < n; ++i)
    ramp[i] = colour(palette, static_cast<double>(i) / static_cast<double>(n - 1));
  return ramp;
}

OkLab plumb_lab(double t) {
  const double s = std::isnan(t) ? 0.0 : std::clamp(t, -1.0, 1.0);
  const OkLab& end = s < 0.0 ? plumb_cold : plumb_warm;
  const double share = std::abs(s);
  return {plumb_lightest + (plumb_darkest - plumb_lightest) * share, share * end.a, share * end.b};
}

Rgb plumb_colour(double t) { return rgb_from(plumb_lab(t)); }

std::vector<Rgb> plumb_ramp(std::size_t n) {
  assert(n >= 3 && n % 2 == 1);
  std::vector<Rgb> ramp(n);
  for (std::size_t i = 0; i < n; ++i)
    ramp[i] = plumb_colour(2.0 * static_cast<double>(i) / static_cast<double>(n - 1) - 1.0);
  return ramp;
}

}  // namespace coldbay
