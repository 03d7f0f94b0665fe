#include "tools/outputs.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string_view>
#include <utility>

#include "tools/report/png.hpp"

namespace coldbay {
namespace {

std::string file_name(const std::string& path) { return std::filesystem::path(path).filename().string(); }

}  // namespace

Provenance provenance_of(const SourceText& source, const MaterialsFile& materials) {
  Provenance provenance{file_name(source.name), sha256(source.text)};
  if (materials.own) {
    provenance.materials_file = file_name(materials.own->name);
    provenance.materials_sha256 = sha256(materials.own->text);
  }
  return provenance;
}

MapOrigin map_origin(const Case& c, const Provenance& provenance, std::string shown) {
  return {c.title, std::move(shown), fmt::format("coldbay {}", version()),
          fmt::format("{} sha256 {}", provenance.case_file, provenance.sha256)};
}

std::vector<std::pair<std::string, std::string>> picture_texts(const Case& c, const Provenance& provenance) {
  const MapOrigin origin = map_origin(c, provenance, "");
  return {{"Software", origin.software}, {"Title", origin.title}, {"Source", origin.source}};
}

PictureStyle style_of(const Case& c, Palette palette) {
  const bool ip = c.units == UnitSystem::inch_pound;
  return {palette,
          ip ? TemperatureUnit::fahrenheit : TemperatureUnit::celsius,
          ip ? LengthUnit::inch : LengthUnit::millimetre,
          c.title,
          "",
          c.air.outside.temperature > c.air.inside.temperature};
}

TemperatureScale as_asked(const PictureWishes& wish, TemperatureScale scale) {
  if (!wish.level && !wish.span) return scale;
  const double level = wish.level.value_or(0.5 * (scale.coldest + scale.warmest));
  const double reach = std::max(level - scale.coldest, scale.warmest - level);
  const double half = wish.span ? 0.5 * *wish.span : reach;
  return {level - half, level + half, "as the case asks"};
}

bool is_ours(const std::vector<std::uint8_t>& bytes) {
  if (const auto software = png_text(bytes, "Software")) return software->starts_with("coldbay");
  constexpr std::string_view begin = "{\n  \"program\": \"coldbay\"";
  return (bytes.size() >= begin.size() && std::equal(begin.begin(), begin.end(), bytes.begin())) ||
         is_map_file(bytes);
}

void show_progress(const std::string& text) {
  if (isatty(STDERR_FILENO)) fmt::print(stderr, "\r\x1b[K{}", text);
}

}  // namespace coldbay
