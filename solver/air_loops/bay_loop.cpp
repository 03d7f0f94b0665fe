#include "solver/air_loops/bay_loop.hpp"

#include <algorithm>
#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

/// Where a rising function passes zero, by bisection down to rounding. Zero lies between the two, both >= 0.
template <class F>
double root(const F& f, double low, double high) {
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (f(middle) > 0.0 ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

double cubed(double x) { return x * x * x; }

/// What the walls of the channel do to the flow q: pressure = viscous q + losses q^2.
struct Resistance {
  double gaps = 0.0, slots = 0.0;  ///< viscous [Pa s/m2]
  double losses = 0.0;             ///< [Pa s2/m4]
};

Resistance resistance_of(const BayLoop& bay, const AirProperties& air, const LoopModel& model) {
  const double d1 = std::min(bay.strips[0].room_gap, widest_channel),
               d2 = std::min(bay.strips[0].sheathing_gap, widest_channel),
               e0 = std::min(bay.bottom_slot, widest_channel), e1 = std::min(bay.top_slot, widest_channel);
  Resistance R;
  R.gaps = 12.0 * air.viscosity * bay.height * (1.0 / cubed(d1) + 1.0 / cubed(d2));
  R.slots = 12.0 * air.viscosity * bay.path * (1.0 / cubed(e0) + 1.0 / cubed(e1));
  R.losses = model.heads * 0.5 * air.density * (1.0 / (d1 * d1) + 1.0 / (d2 * d2));
  return R;
}

/// Pressure that drives the loop where air 1 is warmer than air 2 by all of the difference [Pa].
double full_buoyancy(const BayLoop& bay, const AirProperties& air) {
  return air.density * rounded_gravity * air.expansion * bay.height * std::abs(bay.inside - bay.outside);
}

/// Equation (3) in general: both sides may differ. Temperatures as shares of the difference.
class Exchanger {
 public:
  Exchanger(const LoopColumn& column, double height)
      : c_(column.c12),
        a1_(column.of_air_1()),
        a2_(column.of_air_2()),
        H_(height),
        still_(still_air(column)) {
    // t = still + A (a2 - down, c) exp(down z/G) + B (c, a1 + up) exp(up (z - H)/G)
    const double half = 0.5 * (a2_ - a1_), root = std::sqrt(half * half + a1_ * a2_ - c_ * c_);
    up_ = half + root;
    down_ = half - root;
  }

  struct Means {
    double air_1, air_2;
  };
  /// Mean temperatures over the height, at G = rho cp q > 0.
  Means means(double G) const {
    const double m = -down_ * H_ / G, p = up_ * H_ / G;  // both > 0
    // The amplitudes from t1 = t2 at both ends; d is by how much t1 leads in each of the two shapes.
    const double d_down = a2_ - down_ - c_, d_up = c_ - a1_ - up_, lead = still_.air_1 - still_.air_2;
    const double both = -std::expm1(-m - p);
    const double A = lead * std::expm1(-p) / (d_down * both), B = lead * std::expm1(-m) / (d_up * both);
    const double mean_down = -std::expm1(-m) / m, mean_up = -std::expm1(-p) / p;
    return {still_.air_1 + A * mean_down * (a2_ - down_) + B * mean_up * c_,
            still_.air_2 + A * mean_down * c_ + B * mean_up * (a1_ + up_)};
  }
  double lead_when_still() const { return still_.air_1 - still_.air_2; }

 private:
  double c_, a1_, a2_, H_;
  StillAir still_;
  double up_ = 0.0, down_ = 0.0;
};

/// What follows from the flow q > 0.
void describe(const BayLoop& bay, const AirProperties& air, double q, SteadyLoop& loop) {
  const double narrower = std::min({bay.strips[0].room_gap, bay.strips[0].sheathing_gap, widest_channel});
  loop.flow = bay.inside > bay.outside ? q : -q;
  loop.velocity = q / narrower;
  loop.reynolds = 2.0 * q * air.density / air.viscosity;
}

void require_single_loop(const BayLoop& bay) {
  if (!is_single_loop(bay)) throw ModelError("", "more than one way leads round the batt, or through it");
}

bool flows(const BayLoop& bay) {
  const LoopStrip& strip = bay.strips[0];
  return strip.room_gap > 0.0 && strip.sheathing_gap > 0.0 && bay.bottom_slot > 0.0 && bay.top_slot > 0.0 &&
         bay.inside != bay.outside;
}

}  // namespace

double width_of(const BayLoop& bay) {
  double width = 0.0;
  for (const LoopStrip& strip : bay.strips) width += strip.width;
  return width;
}

bool is_single_loop(const BayLoop& bay) {
  return bay.strips.size() == 1 && bay.left_joint == 0.0 && bay.right_joint == 0.0 && bay.permeability == 0.0;
}

ColumnLayers layers_at(const BayLoop& bay, const LoopStrip& strip, const LoopModel& model) {
  const auto gap = [&model](double depth, double radiation) -> GapLink {
    if (!(depth > 0.0)) return {0.0, 0.0, true};
    return {model.air_conductivity / std::min(depth, widest_channel), radiation, false};
  };
  return {bay.inside_resistance, strip.batt, bay.outside_resistance, gap(strip.room_gap, bay.room_radiation),
          gap(strip.sheathing_gap, bay.sheathing_radiation)};
}

SteadyLoop single_loop(const BayLoop& bay, const LoopModel& model) {
  require_single_loop(bay);
  const LoopColumn column = loop_column(layers_at(bay, bay.strips[0], model), model.nusselt);
  const StillAir still = still_air(column);
  SteadyLoop loop;
  loop.u_still = loop.u_loop = heat_from_room(column, still.air_1, still.air_2);
  if (!flows(bay)) return loop;
  const AirProperties air = dry_air(0.5 * (bay.inside + bay.outside));
  const Resistance R = resistance_of(bay, air, model);
  const double capacity = air.density * air.specific_heat, lift = full_buoyancy(bay, air);
  const Exchanger exchanger(column, bay.height);
  const auto surplus = [&](double q) {
    const auto t = exchanger.means(capacity * q);
    return (R.gaps + R.slots + R.losses * q) * q - lift * (t.air_1 - t.air_2);
  };
  // No more flows than what the air would drive if it stood still; halved until too little flows.
  const double most = lift * exchanger.lead_when_still() / (R.gaps + R.slots);
  double low = most;
  while (surplus(low) > 0.0) low *= 0.5;
  const double q = root(surplus, low, most);
  const auto t = exchanger.means(capacity * q);
  describe(bay, air, q, loop);
  loop.exchange_length = capacity * q / exchange_conductance(column);
  loop.u_loop = heat_from_room(column, t.air_1, t.air_2);
  loop.imbalance = std::abs(loop.u_loop - heat_to_outside(column, t.air_1, t.air_2)) / loop.u_loop;
  return loop;
}

SteadyLoop closed_form_loop(const BayLoop& bay, const LoopModel& model) {
  require_single_loop(bay);
  const LoopColumn column = loop_column(layers_at(bay, bay.strips[0], model), model.nusselt);
  const StillAir still = still_air(column);
  SteadyLoop loop;
  loop.u_still = loop.u_loop = heat_from_room(column, still.air_1, still.air_2);
  if (!flows(bay)) return loop;
  const AirProperties air = dry_air(0.5 * (bay.inside + bay.outside));
  const Resistance R = resistance_of(bay, air, model);
  const double u = 0.5 * (column.i1 + column.e2), v = 0.5 * (column.i2 + column.e1), a = u + v,
               b = a + 2.0 * column.c12, bypass = (u - v) * (u - v) / (2.0 * b);
  const double M = 0.5 * bay.height * std::sqrt(a * b), capacity = air.density * air.specific_heat;
  const double G0 = capacity * full_buoyancy(bay, air) * (u - v) / (b * R.gaps), N0 = M / G0;
  const double phi = R.slots / R.gaps, kappa = R.losses * M / (capacity * R.gaps);
  const auto surplus = [&](double N) { return N - std::tanh(N) - N0 * (1.0 + phi + kappa / N); };
  double high = 1.0;
  while (surplus(high) < 0.0) high *= 2.0;
  const double N = root(surplus, 0.0, high), q = M / (N * capacity);
  describe(bay, air, q, loop);
  loop.exchange_length = 0.5 * bay.height / N;
  loop.u_loop = 0.5 * a + column.ie - bypass * (1.0 - std::tanh(N) / N);
  return loop;
}

}  // namespace coldbay
