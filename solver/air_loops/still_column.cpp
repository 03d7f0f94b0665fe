#include "solver/air_loops/still_column.hpp"

#include <algorithm>
#include <cmath>

#include "materials/air_space.hpp"

namespace coldbay {
namespace {

std::vector<StillLayer> layers_of(const std::vector<Met>& met, Span frame) {
  const auto at_frame = [frame](double depth) {
    constexpr double same_place = 1e-7;  // rounding of inches and millimetres [m]
    return std::abs(depth - frame.from) < same_place || std::abs(depth - frame.to) < same_place;
  };
  std::vector<StillLayer> layers;
  for (const Met& m : met) {
    if (m.piece->well_ventilated) break;
    const bool on = !layers.empty() && layers.back().is_air() && m.piece->material.is_air_space &&
                    !at_frame(m.depth.from) &&
                    layers.back().piece->slightly_ventilated == m.piece->slightly_ventilated;
    if (on)
      layers.back().depth.to = m.depth.to;
    else
      layers.push_back({m.depth, m.piece});
  }
  return layers;
}

/// As it is at its temperature and with this much difference from one face to the other.
void settle_layer(StillLayer& layer, double before, double after, double difference) {
  const Material& m = layer.piece->material;
  if (!m.is_air_space) {
    layer.resistance = layer.depth.length() / conductivity_at(m, layer.celsius);
    return;
  }
  AirSpace space;
  space.thickness = layer.depth.length();
  space.emissivity_warm = before;
  space.emissivity_cold = after;
  space.mean_temperature = layer.celsius;
  space.difference = difference;
  layer.resistance = air_space_resistance(space) / (layer.piece->slightly_ventilated ? 2.0 : 1.0);
  const double T = layer.celsius + 273.15;
  layer.radiation = 4.0 * stefan_boltzmann * T * T * T / (1.0 / before + 1.0 / after - 1.0);
}

}  // namespace

std::vector<StillLayer> still_column(const std::vector<Met>& met, Span frame, const Exchange& inside,
                                     const Exchange& outside) {
  constexpr double ordinary = 0.9;  ///< emissivity of whatever lies beyond an end
  constexpr int rounds = 30;        ///< each leaves less than a tenth of the change before
  std::vector<StillLayer> layers = layers_of(met, frame);
  const double difference = inside.temperature - outside.temperature;
  for (StillLayer& layer : layers) layer.celsius = 0.5 * (inside.temperature + outside.temperature);
  double flux = 0.0;
  for (int round = 0; round < rounds; ++round) {
    double total = inside.film + outside.film;
    for (std::size_t i = 0; i < layers.size(); ++i) {
      const double before = i > 0 ? layers[i - 1].piece->material.emissivity : ordinary,
                   after = i + 1 < layers.size() ? layers[i + 1].piece->material.emissivity : ordinary;
      settle_layer(layers[i], before, after, flux * layers[i].resistance);
      total += layers[i].resistance;
    }
    flux = difference / total;
    double celsius = inside.temperature - flux * inside.film;
    for (StillLayer& layer : layers) {
      layer.celsius = celsius - 0.5 * flux * layer.resistance;
      celsius -= flux * layer.resistance;
    }
  }
  return layers;
}

}  // namespace coldbay
