#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "tools/input/weather_reader.hpp"
#include "tools/outputs.hpp"

namespace coldbay {

/// A weather file by its name.
struct NamedWeather {
  std::string name;
  WeatherFile file;
};

/// `coldbay outlook`: how each fault of a case's wall shows in the case's camera, how cold it must be to see
/// it, how long the wall takes to settle, and, with a weather file, which mornings are worth going. Prints
/// it; with a folder, also writes outlook.json there. True where the face is known within `within` [K].
///
/// Throws InputErrors where the case is wrong or has no wall, SolverError, OutputError.
bool outlook(const SourceText& source, const MaterialsFile& materials,
             const std::optional<NamedWeather>& weather, const std::optional<std::filesystem::path>& out,
             double within);

}  // namespace coldbay
