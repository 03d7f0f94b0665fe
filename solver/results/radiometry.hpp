#pragma once

namespace coldbay {

/// What a camera counts: heat rays of all wavelengths, or those from 8 to 14 micrometres, to which the
/// cameras of the building trade are sensitive and the air is clear (common practice, no source).
enum class Band { all, long_wave };

/// Throws ModelError where an emissivity is not in (0, 1]. NaN is not.
void require_emissivity(double emissivity);

/// What a black body sends out in the band into half of space [W/m2], at a temperature [degC].
///
///     all         sigma T^4, the law of Stefan and Boltzmann
///     long_wave   the integral from 8 to 14 um of  2 pi h c^2 / (l^5 (exp(h c/(l k T)) - 1)),  Planck's law
///
/// T in kelvin. Textbook formulas; constants of the SI of 2019, exact. 0 at absolute zero and below.
double radiance(double celsius, Band band);

/// Its slope [W/(m2 K)].
double radiance_slope(double celsius, Band band);

/// The temperature [degC] of a black body that sends out this [W/m2], above 0: the inverse, to 1e-9 K.
double radiant_temperature(double radiance, Band band);

/// What an opaque grey surface sends back to the camera [W/m2]: its own rays, and those of the room that it
/// reflects. Air between the two takes nothing over the few metres of a room.
///
///     L = e L(T_surface) + (1 - e) L(T_reflected)
///
/// Throws ModelError where the emissivity is not in (0, 1].
double received(double surface, double emissivity, double reflected, Band band);

/// What a camera set to emissivity 1 reads [degC] of a surface.
double apparent_temperature(double surface, double emissivity, double reflected, Band band);

/// The inverse: the surface behind a reading. NaN where no surface of this emissivity would be read so: the
/// room reflected in it would alone give more.
double surface_behind(double apparent, double emissivity, double reflected, Band band);

}  // namespace coldbay
