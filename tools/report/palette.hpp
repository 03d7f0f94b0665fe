#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "tools/report/oklab.hpp"

namespace coldbay {

/// How a temperature becomes a colour.
///
///   hearth  ink blue (cold) through teal and sand to cream (warm), for screens and colour print
///   slate   grey from dark (cold) to light (warm), for copies and for judging shapes alone
///
/// In both the lightness grows evenly from cold to warm, so that equal steps of temperature are
/// equal steps of lightness, and a grey print of `hearth` reads like `slate`.
enum class Palette { hearth, slate };

inline constexpr std::array<Palette, 2> all_palettes{Palette::hearth, Palette::slate};

std::string_view name_of(Palette palette);

/// The palette of that name; empty where there is none.
std::optional<Palette> palette_named(std::string_view name);

/// The colour before it is rounded to 8 bits; t from 0 (coldest) to 1 (warmest), clamped.
OkLab palette_lab(Palette palette, double t);

/// Its sRGB colour. No channel is ever clipped.
Rgb colour(Palette palette, double t);

/// n >= 2 colours, evenly from t = 0 to t = 1: for those who colour a million pixels.
std::vector<Rgb> colour_ramp(Palette palette, std::size_t n);

/// `plumb`, for differences: t from -1 (colder) through 0 (no difference, a light grey) to 1 (warmer),
/// clamped; NaN reads as no difference. Blue means colder, rust warmer. The lightness falls evenly and alike
/// both ways, so that a grey print shows how much; which way it must be told by signs.
OkLab plumb_lab(double t);
Rgb plumb_colour(double t);

/// n >= 3 colours, an odd number, evenly from t = -1 to t = 1.
std::vector<Rgb> plumb_ramp(std::size_t n);

}  // namespace coldbay
