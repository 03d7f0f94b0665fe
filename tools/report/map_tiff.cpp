#include "tools/report/map_tiff.hpp"

#include <tiffio.h>

#include <algorithm>
#include <cstdarg>
#include <cstdio>
#include <cstring>
#include <limits>
#include <memory>
#include <new>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include "tools/report/map_files.hpp"

namespace coldbay {
namespace {

/// A file in memory, as libtiff reads and writes it.
struct Memory {
  std::vector<std::uint8_t> bytes;
  std::size_t at = 0;
  bool writable = true;
};

tmsize_t read_some(thandle_t handle, void* to, tmsize_t size) {
  auto& memory = *static_cast<Memory*>(handle);
  const std::size_t left = memory.bytes.size() - std::min(memory.at, memory.bytes.size());
  const std::size_t n = std::min(left, static_cast<std::size_t>(size));
  if (n > 0) std::memcpy(to, memory.bytes.data() + memory.at, n);
  memory.at += n;
  return static_cast<tmsize_t>(n);
}

tmsize_t write_some(thandle_t handle, void* from, tmsize_t size) {
  auto& memory = *static_cast<Memory*>(handle);
  if (!memory.writable) return 0;
  const auto n = static_cast<std::size_t>(size);
  try {
    if (memory.at + n > memory.bytes.size()) memory.bytes.resize(memory.at + n);
  } catch (const std::exception&) {
    return 0;  // no exception may pass through C
  }
  if (n > 0) std::memcpy(memory.bytes.data() + memory.at, from, n);
  memory.at += n;
  return size;
}

toff_t seek(thandle_t handle, toff_t offset, int whence) {
  auto& memory = *static_cast<Memory*>(handle);
  const std::size_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? memory.at : memory.bytes.size();
  memory.at = from + static_cast<std::size_t>(offset);
  return memory.at;
}

int close_nothing(thandle_t /*handle*/) { return 0; }
toff_t size_of(thandle_t handle) { return static_cast<Memory*>(handle)->bytes.size(); }

using Tiff = std::unique_ptr<TIFF, decltype(&TIFFClose)>;

/// What libtiff has to say: that something failed is seen from what it returns, and standard error is not
/// ours to write to.
int say_nothing(TIFF* /*tiff*/, void* /*data*/, const char* /*module*/, const char* /*format*/,
                va_list /*values*/) {
  return 1;
}

Tiff open(Memory& memory, const char* mode) {
  const std::unique_ptr<TIFFOpenOptions, decltype(&TIFFOpenOptionsFree)> options(TIFFOpenOptionsAlloc(),
                                                                                 &TIFFOpenOptionsFree);
  if (!options) throw std::bad_alloc();
  TIFFOpenOptionsSetErrorHandlerExtR(options.get(), say_nothing, nullptr);
  TIFFOpenOptionsSetWarningHandlerExtR(options.get(), say_nothing, nullptr);
  return {TIFFClientOpenExt("map", mode, &memory, read_some, write_some, seek, close_nothing, size_of,
                            nullptr, nullptr, options.get()),
          &TIFFClose};
}

std::string description(const ThermalMap& map, const MapOrigin& origin) {
  nlohmann::ordered_json all;
  all["title"] = origin.title;
  all["shown"] = origin.shown;
  all["quantity"] = "temperature";
  all["unit"] = "degC";
  all["not a number"] = "no wall is seen";
  all["pixel across, up [mm]"] = {1000.0 * map.pixel_across(), 1000.0 * map.pixel_up()};
  all["across [m]"] = {map.across.from, map.across.to};
  all["up [m]"] = {map.up.from, map.up.to};
  all["source"] = origin.source;
  return all.dump(-1, ' ', true, nlohmann::ordered_json::error_handler_t::replace);
}

bool set_tags(TIFF* tiff, const ThermalMap& map, const MapOrigin& origin) {
  constexpr double centimetre = 0.01;
  return TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, static_cast<std::uint32_t>(map.columns)) == 1 &&
         TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, static_cast<std::uint32_t>(map.rows)) == 1 &&
         TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, 32) == 1 &&
         TIFFSetField(tiff, TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_IEEEFP) == 1 &&
         TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, 1) == 1 &&
         TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_NONE) == 1 &&
         TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK) == 1 &&
         TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG) == 1 &&
         TIFFSetField(tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT) == 1 &&
         TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, TIFFDefaultStripSize(tiff, 0)) == 1 &&
         TIFFSetField(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_CENTIMETER) == 1 &&
         TIFFSetField(tiff, TIFFTAG_XRESOLUTION, centimetre / map.pixel_across()) == 1 &&
         TIFFSetField(tiff, TIFFTAG_YRESOLUTION, centimetre / map.pixel_up()) == 1 &&
         TIFFSetField(tiff, TIFFTAG_SOFTWARE, origin.software.c_str()) == 1 &&
         TIFFSetField(tiff, TIFFTAG_IMAGEDESCRIPTION, description(map, origin).c_str()) == 1;
}

}  // namespace

OutputFile map_as_tiff(const ThermalMap& map, const MapOrigin& origin, std::string name) {
  static_assert(sizeof(float) == 4 && std::numeric_limits<float>::is_iec559);
  Memory memory;
  Tiff tiff = open(memory, "wl");
  bool sound = tiff && set_tags(tiff.get(), map, origin);
  std::vector<float> line(static_cast<std::size_t>(map.columns));
  for (int row = 0; sound && row < map.rows; ++row) {
    for (int column = 0; column < map.columns; ++column)
      line[static_cast<std::size_t>(column)] = static_cast<float>(map.at(column, row));
    sound = TIFFWriteScanline(tiff.get(), line.data(), static_cast<std::uint32_t>(row)) == 1;
  }
  sound = sound && TIFFFlush(tiff.get()) == 1;
  tiff.reset();
  if (!sound) throw std::runtime_error(name + ": the map could not be written as TIFF");
  return {std::move(name), std::move(memory.bytes)};
}

bool is_our_tiff(const std::vector<std::uint8_t>& bytes) {
  constexpr std::string_view little_endian("II*\0", 4);
  if (bytes.size() < 8 || !std::equal(little_endian.begin(), little_endian.end(), bytes.begin()))
    return false;
  Memory memory{bytes, 0, false};
  const Tiff tiff = open(memory, "rm");
  const char* software = nullptr;
  return tiff && TIFFGetField(tiff.get(), TIFFTAG_SOFTWARE, &software) == 1 && software != nullptr &&
         std::string_view(software).starts_with("coldbay");
}

}  // namespace coldbay
