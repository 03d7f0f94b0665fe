#pragma once

#include <optional>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/results/surface.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// Where the room's air would be damp enough for mould, or leave water. What air and vapour get there is not
/// modelled; these are temperatures held against what the room's air holds.
struct MoistureRisk {
  double dew_point = 0.0;    ///< of the room's air [degC]
  double mould_point = 0.0;  ///< surface temperature with a relative humidity of 80 % there [degC]
  double humidity_at_coldest =
      0.0;  ///< of the room's air at the coldest place of the room face, above 1 where dew falls
  double face_below_dew_point = 0.0, face_below_mould_point = 0.0;  ///< shares of the room face's width

  /// The plane between the frame and what is outside of it.
  struct Sheathing {
    double coldest = 0.0;          ///< [degC]
    double coldest_at = 0.0;       ///< [m]
    double below_dew_point = 0.0;  ///< share of its width
  };
  std::optional<Sheathing> sheathing;  ///< empty where nothing lies outside the frame, or no frame is known
};

/// Reads them off a solved section. `humidity` is the relative humidity of the room's air (0 to 1) at the
/// temperature of `air.inside`. Thresholds by [ISO13788].
MoistureRisk moisture_risk(const Section& section, const ConductivityGrid& grid, const Surroundings& air,
                           const TemperatureField& field, const SurfaceProfile& room_face, double humidity);

}  // namespace coldbay
