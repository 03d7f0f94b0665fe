#pragma once

namespace coldbay {

/// A mineral-fibre batt as its label describes it.
struct Batt {
  double conductivity = 0.0;  ///< at its label thickness [W/(m K)]: thickness / label R
  double thickness = 0.0;     ///< of the label [m]
};

/// Conductivity of light mineral fibre by its density [W/(m K)], near 24 degC: still air and solid, the
/// solid's share growing with the fibre, radiation shrinking with it:
///
///     k = a + b rho + c / rho,   a = 0.02271 W/(m K), b = 2.353e-4 W m2/(kg K), c = 0.150 W kg/(m4 K).
///
/// The form is that of the literature on low-density fibre (from memory); the constants are fitted once to
/// the code table of compressed batts [WSEC101], whose entries they give within 4 %. From
/// resistances alone only b rho and c / rho are fixed; the scale of rho rests on c, a specific extinction of
/// 50 to 55 m2/kg.
double fibre_conductivity(double density);

/// Density that gives the batt its label conductivity [kg/m3]: the lighter of the two that do, since
/// batts are light. The density of least conductivity where the batt is better than the model allows.
double label_density(const Batt& batt);

/// How far the model is trusted: to this share of the label thickness.
inline constexpr double least_thickness_share = 0.4;

/// Conductivity of the batt squeezed to a thickness, its mass conserved [W/(m K)]:
///
///     k = k_label f(rho t_label / t) / f(rho),  f the conductivity by density above.
///
/// Throws ModelError where the thickness is above the label's or below least_thickness_share of it.
double squeezed_conductivity(const Batt& batt, double thickness);

}  // namespace coldbay
