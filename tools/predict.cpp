#include "tools/predict.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "solver/forecast.hpp"
#include "tools/input/case.hpp"
#include "tools/outcome.hpp"
#include "tools/report/effect_text.hpp"
#include "tools/report/files.hpp"
#include "tools/report/map_files.hpp"
#include "tools/report/png.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/summary.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// A scale for faces: from the air in front of them to the surface furthest from it, that end rounded outward
/// to half a kelvin or a degree Fahrenheit, so that a sound wall looks sound.
TemperatureScale scale_from(double air, const std::vector<const SurfaceProfile*>& faces, UnitSystem units) {
  double coldest = air, warmest = air;
  for (const SurfaceProfile* face : faces) {
    const auto [low, high] = std::minmax_element(face->celsius.begin(), face->celsius.end());
    coldest = std::min(coldest, *low);
    warmest = std::max(warmest, *high);
  }
  const double step = units == UnitSystem::metric ? 0.5 : 5.0 / 9.0,
               zero = units == UnitSystem::metric ? 0.0 : -160.0 / 9.0;
  TemperatureScale scale{coldest, warmest, ""};
  if (coldest < air) scale.coldest = zero + step * std::floor((coldest - zero) / step);
  if (warmest > air) scale.warmest = zero + step * std::ceil((warmest - zero) / step);
  return scale;
}

/// One scale for the room faces of all sections of a case.
TemperatureScale face_scale(const Case& c, const std::vector<Outcome>& forecasts) {
  std::vector<const SurfaceProfile*> faces;
  faces.reserve(forecasts.size());
  for (const Outcome& o : forecasts) faces.push_back(&o.built.results.profile);
  TemperatureScale scale = scale_from(c.air.inside.temperature, faces, c.units);
  scale.stamp = forecasts.size() > 1
                    ? fmt::format("one scale for the {} sections of this case", forecasts.size())
                    : "scale of this case alone: do not compare colours with other pictures";
  return scale;
}

/// The outside face of a section in which air loops, beside that with still air.
Picture outer_face_picture(const Case& c, const Section& section, const Outcome& o, PictureStyle style) {
  const SurfaceProfile face = outer_face(o.built.grid, o.built.air, o.built.field),
                       still = outer_face(o.still->grid, o.still->air, o.still->field);
  TemperatureScale scale = scale_from(c.air.outside.temperature, {&face, &still}, c.units);
  scale.stamp = "scale of this face alone: do not compare colours with other pictures";
  style.mark_warmest = !style.mark_warmest;
  FaceShown shown{&face};
  shown.still = &still;
  shown.outer = true;
  return face_picture(section, shown, scale, style);
}

TemperatureScale section_scale(const Case& c) {
  TemperatureScale scale{c.air.inside.temperature, c.air.inside.temperature,
                         "from the coldest air to the warmest"};
  for (const auto& e : {std::optional(c.air.outside), c.air.left, c.air.right})
    if (e) {
      scale.coldest = std::min(scale.coldest, e->temperature);
      scale.warmest = std::max(scale.warmest, e->temperature);
    }
  return scale;
}

/// "plan at 48 in" as the beginning of file names: "plan-at-48-in-"; nothing for a drawn section.
std::string file_prefix(const std::string& section) {
  std::string out;
  for (const char ch : section) {
    const bool plain =
        (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (ch >= '0' && ch <= '9') || ch == '.';
    if (plain)
      out += ch;
    else if (!out.empty() && out.back() != '-')
      out += '-';
  }
  if (!out.empty() && out.back() != '-') out += '-';
  return out;
}

std::optional<double> dew_point_of(const Results& r) {
  return r.moisture ? std::optional(r.moisture->dew_point) : std::nullopt;
}

std::vector<OutputFile> draw(const Case& c, const std::vector<Outcome>& forecasts,
                             const Provenance& provenance, Palette palette) {
  const auto text = picture_texts(c, provenance);
  PictureStyle style = style_of(c, palette);
  const TemperatureScale face = face_scale(c, forecasts), section = section_scale(c);
  std::vector<OutputFile> files;
  for (std::size_t i = 0; i < forecasts.size(); ++i) {
    const Section& s = c.sections[i];
    const Outcome& o = forecasts[i];
    const Forecast& f = o.built;
    style.cut = s.name;
    const std::string prefix = file_prefix(s.name);
    files.push_back({prefix + "materials.png", encode_png(materials_picture(s, f.grid, style), text)});
    const LoopFlow* loop = f.results.loop ? &*f.results.loop : nullptr;
    files.push_back({prefix + "temperature.png",
                     encode_png(temperature_picture(s, f.grid, f.air, f.field, section, style, loop), text)});
    FaceShown shown{&f.results.profile, dew_point_of(f.results)};
    if (o.right) shown.right = &o.right->results.profile;
    if (o.still) shown.still = &o.still->results.profile;
    files.push_back({prefix + "face.png", encode_png(face_picture(s, shown, face, style), text)});
    if (!o.still) continue;
    const Forecast& still = *o.still;
    files.push_back(
        {prefix + "temperature-still-air.png",
         encode_png(temperature_picture(s, still.grid, still.air, still.field, section, style), text)});
    files.push_back({prefix + "outer-face.png", encode_png(outer_face_picture(c, s, o, style), text)});
  }
  return files;
}

void add_grids(const Case& c, const std::vector<Outcome>& forecasts, const Provenance& provenance,
               std::vector<OutputFile>& files) {
  for (std::size_t i = 0; i < forecasts.size(); ++i) {
    const MapOrigin origin = map_origin(c, provenance, c.sections[i].name);
    const Forecast& f = forecasts[i].built;
    files.push_back(
        section_as_vtr(f.grid, f.field, origin, file_prefix(c.sections[i].name) + "temperature.vtr"));
  }
}

}  // namespace

bool predict(const SourceText& source, const MaterialsFile& materials, const std::optional<fs::path>& out,
             Palette palette, bool vtk) {
  // 1. Read the case: a wall is cut into sections, a drawn section stands as it is.
  const Case c = read_case(source, materials.library);
  for (const InputError& warning : c.warnings) fmt::print(stderr, "{}", render(warning, source, "warning"));

  // 2. Solve each section, as built and built right.
  const Outcomes outcomes = solve_case(c, show_progress);
  show_progress("");

  // 3. Draw and write everything, or nothing.
  if (out) {
    const Provenance provenance = provenance_of(source, materials);
    std::vector<OutputFile> files = draw(c, outcomes.sections, provenance, palette);
    if (vtk) add_grids(c, outcomes.sections, provenance, files);
    const std::string json = result_json(c, outcomes, provenance);
    files.push_back({"result.json", {json.begin(), json.end()}});
    write_all(*out, files, is_ours);
    for (const OutputFile& file : files) fmt::print(stderr, "wrote {}\n", (*out / file.name).string());
  }

  // 4. Say what was found.
  for (std::size_t i = 0; i < outcomes.sections.size(); ++i)
    fmt::print("{}{}", i ? "\n" : "", summary(c, i, outcomes.sections[i]));
  fmt::print("{}", wall_summary(c, outcomes));
  return std::all_of(outcomes.sections.begin(), outcomes.sections.end(),
                     [](const Outcome& o) { return o.built.reached && (!o.right || o.right->reached); });
}

}  // namespace coldbay
