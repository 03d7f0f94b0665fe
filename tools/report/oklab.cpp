#include "tools/report/oklab.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace coldbay {
namespace {

// The transfer curve of sRGB: IEC 61966-2-1.
double decoded(double channel) {
  return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double encoded(double light) {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
}

double cubed(double x) { return x * x * x; }

OkLab from_lch(double lightness, double chroma, double hue) {
  const double angle = hue * std::numbers::pi / 180.0;
  return {lightness, chroma * std::cos(angle), chroma * std::sin(angle)};
}

}  // namespace

// Both matrices and their inverses as published in [Ottosson2020].
LinearRgb linear_from(const OkLab& c) {
  const double l = cubed(c.L + 0.3963377774 * c.a + 0.2158037573 * c.b);
  const double m = cubed(c.L - 0.1055613458 * c.a - 0.0638541728 * c.b);
  const double s = cubed(c.L - 0.0894841775 * c.a - 1.2914855480 * c.b);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
          -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

LinearRgb linear_from(Rgb colour) {
  LinearRgb linear{};
  for (std::size_t c = 0; c < 3; ++c) linear[c] = decoded(colour[c] / 255.0);
  return linear;
}

OkLab oklab_from(const LinearRgb& c) {
  const double l = std::cbrt(0.4122214708 * c[0] + 0.5363325363 * c[1] + 0.0514459929 * c[2]);
  const double m = std::cbrt(0.2119034982 * c[0] + 0.6806995451 * c[1] + 0.1073969566 * c[2]);
  const double s = std::cbrt(0.0883024619 * c[0] + 0.2817188376 * c[1] + 0.6299787005 * c[2]);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

OkLab oklab_from(Rgb colour) { return oklab_from(linear_from(colour)); }

bool in_gamut(const OkLab& colour) {
  // The published coefficients carry ten digits, so that white itself comes back as 1 + 1e-9 or so.
  constexpr double rounding = 1e-7;
  const LinearRgb linear = linear_from(colour);
  return std::all_of(linear.begin(), linear.end(),
                     [](double c) { return c >= -rounding && c <= 1.0 + rounding; });
}

Rgb rgb_from(const OkLab& colour) {
  const LinearRgb linear = linear_from(colour);
  Rgb rgb{};
  for (std::size_t c = 0; c < 3; ++c)
    rgb[c] = static_cast<std::uint8_t>(std::lround(255.0 * encoded(std::clamp(linear[c], 0.0, 1.0))));
  return rgb;
}

Rgb rgb_from_lch(double lightness, double chroma, double hue) {
  const OkLab wanted = from_lch(lightness, chroma, hue);
  if (in_gamut(wanted)) return rgb_from(wanted);
  double fits = 0.0;
  double too_much = chroma;
  for (int halving = 0; halving < 20; ++halving) {
    const double middle = 0.5 * (fits + too_much);
    (in_gamut(from_lch(lightness, middle, hue)) ? fits : too_much) = middle;
  }
  return rgb_from(from_lch(lightness, fits, hue));
}

double distance(const OkLab& a, const OkLab& b) {
  return std::sqrt((a.L - b.L) * (a.L - b.L) + (a.a - b.a) * (a.a - b.a) + (a.b - b.b) * (a.b - b.b));
}

}  // namespace coldbay
