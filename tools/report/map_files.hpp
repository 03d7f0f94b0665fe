#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "solver/temperature_field.hpp"
#include "tools/report/files.hpp"
#include "tools/report/thermal_map.hpp"

namespace coldbay {

/// What a file says of where its numbers come from.
struct MapOrigin {
  std::string title;     ///< of the case
  std::string shown;     ///< "the room face as built"
  std::string software;  ///< "coldbay 0.1.0"; must begin with "coldbay", by which is_map_file knows its own
  std::string source;    ///< name of the case file and its digest
};

/// The map as a table ([RFC4180]): a line for every pixel, its middle in metres and its temperature; the top
/// row first, left to right. The temperature is empty where no wall is seen. Numbers have a point, whatever
/// the locale: lengths to the micrometre, temperatures to 0.1 mK.
OutputFile map_as_csv(const ThermalMap& map, std::string name);

/// The map as a picture of 32-bit floating-point numbers ([TIFF1992], sample format IEEE): one channel, degC,
/// the top row first, NaN where no wall is seen; resolution in pixels per centimetre. The description is JSON
/// in plain ASCII: title, what is shown, units, size of a pixel [mm], place on the wall [m], source. The file
/// is little-endian, not compressed, and carries no date. Throws std::runtime_error where it cannot be made.
OutputFile map_as_tiff(const ThermalMap& map, const MapOrigin& origin, std::string name);

/// A section's grid as a rectilinear grid of VTK's XML formats ([VTK2006]): axes across, up and depth [m],
/// and in every cell `temperature` [degC] and `conductivity_across`, `_up`, `_depth` [W/(m K)], where the
/// grid has them. Numbers are written in the fewest digits that give back the same double.
OutputFile section_as_vtr(const ConductivityGrid& grid, const TemperatureField& field,
                          const MapOrigin& origin, std::string name);

/// True for files made by the three above: they may be replaced.
bool is_map_file(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
