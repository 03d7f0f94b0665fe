#pragma once

#include "materials/material.hpp"

namespace coldbay {

/// A mineral-fibre batt as its label describes it.
struct Batt {
  double conductivity = 0.0;  ///< at its label thickness [W/(m K)]: thickness / label R
  double thickness = 0.0;     ///< of the label [m]
  /// Mean temperature that the label was measured at [degC]: 24 (75 degF) for R-numbers, 10 for declared
  /// values in Europe (common practice, no source).
  double label_temperature = 24.0;
};

/// Conductivity of light mineral fibre by its density [kg/m3] and temperature [degC], [W/(m K)]: still air,
/// solid, whose share grows with the fibre, and radiation, which shrinks with it:
///
///     k = a A(T) + b rho + c B(T) / rho,   a = 0.02271 W/(m K), b = 2.353e-4 W m2/(kg K), c = 0.150 W kg/(m4
///     K), A = (0.0241 + 7.5e-5 T) / 0.0259,    B = ((T + 273.15) / 297.15)^3,    both 1 at 24 degC.
///
/// The form is that of the literature on low-density fibre (from memory): A is the conductivity of air, B the
/// third power of radiation. The constants are fitted once to the code table of compressed batts [WSEC101],
/// whose entries they give within 4 %. From resistances alone only b rho and c / rho are fixed; the scale of
/// rho rests on c, a specific extinction of 50 to 55 m2/kg.
double fibre_conductivity(double density, double celsius = 24.0);

/// Density that gives the batt its label conductivity [kg/m3]: the lighter of the two that do, since
/// batts are light. The density of least conductivity where the batt is better than the model allows.
double label_density(const Batt& batt);

/// How far the model is trusted: to this share of the label thickness, which is to 2.5 times the label
/// density, and down to 0.3 times.
inline constexpr double least_thickness_share = 0.4, least_density_share = 0.3;

/// Density of the batt squeezed to a thickness, its mass conserved [kg/m3].
///
/// Throws ModelError where the thickness is above the label's or below least_thickness_share of it.
double squeezed_density(const Batt& batt, double thickness);

/// Airflow resistivity of a batt at `squeezed` times the density of its label, from that of the label [Pa
/// s/m2]:
///
///     r = r_label squeezed^1.42,
///
/// as that of glass fibre lying at random grows with the fibre in it [CoxDAntonio2009].
double squeezed_resistivity(double of_label, double squeezed);

/// The batt's conductivity at a density, by temperature:
///
///     k(T) = k_label f(rho, T) / f(rho_label, T_label),  f the conductivity of fibre above;
///
/// a cubic in T, as it stands. Held to -40 to 80 degC.
TemperatureLaw batt_law(const Batt& batt, double density);

}  // namespace coldbay
