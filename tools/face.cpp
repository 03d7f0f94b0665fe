#include "tools/face.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "solver/results/camera.hpp"
#include "solver/results/dew_point.hpp"
#include "solver/results/surface_humidity.hpp"
#include "tools/case_camera.hpp"
#include "tools/outcome.hpp"
#include "tools/report/face_json.hpp"
#include "tools/report/face_text.hpp"
#include "tools/report/files.hpp"
#include "tools/report/framing.hpp"
#include "tools/report/map_files.hpp"
#include "tools/report/png.hpp"
#include "tools/report/thermal_map.hpp"
#include "tools/report/wall_picture.hpp"
#include "tools/wall_faces.hpp"

namespace coldbay {
namespace {

/// Where the room's air would be damp, as far as its humidity is known, and what the reader asks for.
std::vector<Threshold> thresholds_of(const Case& c) {
  std::vector<Threshold> all;
  if (c.humidity) {
    all.push_back({"dew point", dew_point(c.air.inside.temperature, *c.humidity)});
    all.push_back({"80 % humidity", critical_surface_temperature(c.air.inside.temperature, *c.humidity)});
  }
  for (const auto& own : c.picture.thresholds) all.push_back({own.name, own.celsius});
  return all;
}

/// What every sheet of the wall shows beside its pictures.
WallSheet sheet_of(const Case& c, const BuiltWall& wall, const FaceWishes& wishes) {
  WallSheet sheet;
  for (const BayPlace& bay : wall.bays) sheet.bays.push_back({bay.name, bay.across});
  if (wishes.framing) sheet.framing = framing_of(wall);
  sheet.thresholds = thresholds_of(c);
  for (const auto& spot : c.picture.spots) sheet.spots.push_back({spot.name, {spot.at.across, spot.at.up}});
  for (const auto& line : c.picture.lines)
    sheet.lines.push_back({line.name, {line.from.across, line.from.up}, {line.to.across, line.to.up}});
  return sheet;
}

/// One scale for all pictures of the case.
TemperatureScale scale_of(const Case& c, const std::vector<WallPanel>& panels, const PictureStyle& style) {
  return as_asked(c.picture, shared_scale(panels, style.temperature, "shared by the pictures of this case"));
}

/// As built, built right, and the difference: on one scale, in whichever season.
Picture room_picture(WallSheet sheet, std::vector<WallPanel> panels,
                     const std::optional<TemperatureScale>& scale, const PictureStyle& style) {
  if (panels.size() > 1) {
    panels.push_back(
        {"difference", "as built less built right", difference(panels[0].map, panels[1].map), true});
    sheet.difference_scale = shared_difference_scale(panels, style.temperature, "the greatest of this case");
  }
  sheet.panels = std::move(panels);
  sheet.scale = scale;
  return wall_picture(sheet, style);
}

/// The picture of a camera, its rows from the top.
ThermalMap map_of(const Image& image) {
  ThermalMap map{image.across, image.up, image.columns, image.rows, {}, false};
  map.celsius.reserve(image.celsius.size());
  for (int j = image.rows - 1; j >= 0; --j)
    for (int i = 0; i < image.columns; ++i) map.celsius.push_back(image.at(i, j));
  return map;
}

/// A wall up to 50 m2 in pixels of the usual size; a larger one in no more of them than that has, so that its
/// table can still be opened.
double pixel_of(const FaceMap& face) {
  constexpr double most = 2e6;
  return std::max(usual_pixel, std::sqrt(face.across.length() * face.up.length() / most));
}

std::vector<WallPanel> panels_of(const FaceMap& built, const FaceMap* right) {
  std::vector<WallPanel> panels{{"as built", "", sampled(built, pixel_of(built)), false}};
  if (right) panels.push_back({"built right", "", sampled(*right, pixel_of(built)), false});
  return panels;
}

struct Named {
  std::string name;
  Picture picture;
};

/// The room face, and the same as a camera has it, on one scale.
std::vector<Named> room_pictures(const Case& c, const WallFaces& faces, const WallSheet& sheet,
                                 const std::vector<WallPanel>& room, bool own_scale, PictureStyle style) {
  const Camera camera = camera_of(c, faces.built.room);
  const Image seen = ideal(faces.built.room, camera, c.air.inside.temperature);
  const ThermalMap clear = map_of(seen), noisy = map_of(recorded(seen, camera));
  std::vector<WallPanel> all = room;
  all.push_back({"", "", clear, false});
  all.push_back({"", "", noisy, false});
  const TemperatureScale scale = scale_of(c, all, style);

  std::vector<Named> pictures;
  style.cut = "the wall seen from the room, surface temperatures";
  pictures.push_back(
      {"face.png", room_picture(sheet, room, own_scale ? std::nullopt : std::optional(scale), style)});
  style.cut = fmt::format("the wall as a camera reads it: {}", camera_words(camera, c.units));
  pictures.push_back({"face-camera.png", camera_picture(clear, noisy, scale, style)});
  return pictures;
}

/// The outer face: what is damp or read in the room has no place on it.
Named outer_picture(const WallFaces& faces, WallSheet sheet, bool own_scale, PictureStyle style) {
  sheet.thresholds.clear();
  sheet.spots.clear();
  sheet.lines.clear();
  std::vector<WallPanel> panels = panels_of(faces.built.outer, faces.right ? &faces.right->outer : nullptr);
  std::optional<TemperatureScale> scale;
  if (!own_scale) scale = shared_scale(panels, style.temperature, "shared by the pictures of the outer face");
  style.cut = "the outer face, drawn as seen from the room";
  return {"face-outer.png", room_picture(std::move(sheet), std::move(panels), scale, style)};
}

std::vector<OutputFile> draw(const Case& c, const WallFaces& faces, const FaceWishes& wishes,
                             const Provenance& provenance) {
  const PictureStyle style = style_of(c, wishes.palette);
  const WallSheet sheet = sheet_of(c, faces.wall, wishes);
  const std::vector<WallPanel> room = panels_of(faces.built.room, faces.right ? &faces.right->room : nullptr);
  std::vector<Named> pictures = room_pictures(c, faces, sheet, room, wishes.own_scale, style);
  if (wishes.outer) pictures.push_back(outer_picture(faces, sheet, wishes.own_scale, style));

  std::vector<OutputFile> files;
  files.reserve(pictures.size() + 4);  // three maps and the numbers
  for (const Named& named : pictures)
    files.push_back({named.name, encode_png(named.picture, picture_texts(c, provenance))});
  files.push_back(map_as_csv(room[0].map, "face.csv"));
  files.push_back(map_as_tiff(room[0].map, map_origin(c, provenance, "room face as built"), "face.tif"));
  if (!faces.right) return files;
  files.push_back(
      map_as_tiff(room[1].map, map_origin(c, provenance, "room face built right"), "face-right.tif"));
  return files;
}

}  // namespace

bool face(const SourceText& source, const MaterialsFile& materials,
          const std::optional<std::filesystem::path>& out, const FaceWishes& wishes) {
  // 1. Read the case: it needs a wall, for a section has no face.
  const Case c = read_wall_case(source, materials.library);

  // 2. Solve the wall in three dimensions, and its sections to hold beside it.
  const WallFaces faces = solve_faces(c, {wishes.within}, show_progress);
  std::optional<WholeWall> sections;
  if (!faces.costs.empty() && !c.sections.empty()) sections = solve_case(c, show_progress).wall;
  show_progress("");

  // 3. Draw and write everything, or nothing.
  if (out) {
    const Provenance provenance = provenance_of(source, materials);
    std::vector<OutputFile> files = draw(c, faces, wishes, provenance);
    const std::string json = face_json(c, faces, sections, provenance);
    files.push_back({"face.json", {json.begin(), json.end()}});
    write_all(*out, files, is_ours);
    for (const OutputFile& file : files) fmt::print(stderr, "wrote {}\n", (*out / file.name).string());
  }

  // 4. Say what was found.
  fmt::print("{}", face_text(c, faces, sections));
  return faces.built.reached && (!faces.right || faces.right->reached);
}

}  // namespace coldbay
