#pragma once

#include <array>
#include <cstdint>

namespace coldbay {

/// One 8-bit sRGB colour.
using Rgb = std::array<std::uint8_t, 3>;

/// A colour in OKLab [Ottosson2020]: lightness L from 0 (black) to 1 (white), a from green to red,
/// b from blue to yellow. Equal distances look about equally different, which is why every colour
/// of the pictures is chosen here and only written down as sRGB.
struct OkLab {
  double L = 0.0;
  double a = 0.0;
  double b = 0.0;
};

/// Linear light in the sRGB primaries; inside the gamut each lies in [0, 1].
using LinearRgb = std::array<double, 3>;

LinearRgb linear_from(const OkLab& colour);
LinearRgb linear_from(Rgb colour);
OkLab oklab_from(const LinearRgb& colour);
OkLab oklab_from(Rgb colour);

/// True where the colour can be shown without clipping a channel.
bool in_gamut(const OkLab& colour);

/// Nearest 8-bit colour; a channel outside the gamut is clipped.
Rgb rgb_from(const OkLab& colour);

/// From lightness, chroma and hue [degrees]. Where the chroma does not fit the gamut at this
/// lightness it is reduced until it does, so that lightness and hue are always kept.
Rgb rgb_from_lch(double lightness, double chroma, double hue);

/// Straight-line distance in OKLab.
double distance(const OkLab& a, const OkLab& b);

}  // namespace coldbay
