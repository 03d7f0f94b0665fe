#include "solver/results/moisture_risk.hpp"

#include "solver/results/dew_point.hpp"
#include "solver/results/surface_humidity.hpp"

namespace coldbay {

MoistureRisk moisture_risk(const Section& section, const ConductivityGrid& grid, const Surroundings& air,
                           const TemperatureField& field, const SurfaceProfile& room_face, double humidity) {
  const double room = air.inside.temperature, coldest = room_face.celsius[coldest_place(room_face)];
  MoistureRisk risk;
  risk.dew_point = dew_point(room, humidity);
  risk.mould_point = critical_surface_temperature(room, humidity);
  risk.humidity_at_coldest = humidity_at_surface(coldest, room, humidity);
  risk.face_below_dew_point = share_below(room_face, risk.dew_point);
  risk.face_below_mould_point = share_below(room_face, risk.mould_point);
  if (!section.sheathing) return risk;
  const SurfaceProfile plane = plane_at(grid, air, field, *section.sheathing);
  const std::size_t at = coldest_place(plane);
  risk.sheathing = {plane.celsius[at], plane.across[at], share_below(plane, risk.dew_point)};
  return risk;
}

}  // namespace coldbay
