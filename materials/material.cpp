#include "materials/material.hpp"

#include <algorithm>

namespace coldbay {

double conductivity_at(const Material& m, double celsius) {
  if (!m.law) return m.conductivity;
  const TemperatureLaw& law = *m.law;
  const double T = std::clamp(celsius, law.from, law.to);
  return law.k0 + T * (law.k1 + T * (law.k2 + T * law.k3));
}

bool beyond_source(const Material& m, double celsius) {
  return m.law && (celsius < m.law->from || celsius > m.law->to);
}

}  // namespace coldbay
