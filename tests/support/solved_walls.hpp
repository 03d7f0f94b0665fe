#pragma once

#include "geometry/wall/cuts.hpp"
#include "tests/support/faults.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::test {

/// R-13 as its label has it, 89 mm thick.
inline constexpr double k_r13 = 0.0889 / (13 * 0.176110);

/// Three sound bays of R-13 in a 2x4 wall. Fibre by its label alone, the same at any density, where `plain`.
inline Wall sound_wall(bool plain = false) {
  Wall w = two_by_four();
  for (Bay& b : w.bays) {
    b.fills = {{material("batt R-13", k_r13), Batt{k_r13, 0.089}, 0.089}};
    if (plain) b.fills[0].batt.reset();
  }
  return w;
}

enum class View { plan, vertical };

/// The plan at the height of what `make` puts in, or the vertical cut through the middle of the middle bay.
inline Section view_of(const Wall& w, View view) {
  return view == View::plan ? plan_section(w, 1.2, "", "") : vertical_section(w, 1.5 * 0.4064, "", "");
}

/// Solved to two parts in a thousand: the sum of both uncertainties is what a difference must exceed.
inline Forecast solve(const Wall& w, View view) {
  return forecast(view_of(w, view), winter(), {}, {2e-3, 0.5});
}

inline double u_of(const Wall& w, View view) { return *solve(w, view).results.u_value; }

/// The section that shows a fault.
inline View view_of(Fault fault) {
  switch (fault) {
    case Fault::short_end:
    case Fault::folded:
    case Fault::fallen:
    case Fault::settled_fill:
    case Fault::pushed_over:
    case Fault::cold_pipe:
      return View::vertical;
    default:
      return View::plan;
  }
}

}  // namespace coldbay::test
