#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/hatching.hpp"
#include "tools/report/handout/ranked_table.hpp"
#include "tools/report/handout/words.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

inline constexpr double sheet_width = 186.0;  ///< what A4 and Letter both leave between margins of 12 mm [mm]
inline constexpr double picture_gap = 2.5;    ///< between pictures in a row, as sheet.css has it [mm]

/// What every picture of a handout is drawn on.
struct SharedScales {
  TemperatureScale temperatures;
  double difference = 1.0;  ///< the scale of differences runs from minus to plus this [K]
};

/// The part of a wall's face that is shown [m].
struct FaceWindow {
  Span across, up;
  std::optional<std::size_t> bay = {};  ///< the one that it is about
};

/// A bay with half of what is usual of its neighbours, floor to top.
FaceWindow window_of(const HandoutWall& wall, std::size_t bay);
FaceWindow whole_face(const HandoutWall& wall);

/// What sheets need besides the wall they are about.
struct SheetMakers {
  const Words& words;
  const SharedScales& scales;
  const HandoutStyle& style;
  const HatchTable& hatches;
  const SheetNumbers& numbers;
  std::size_t sheets;  ///< of the whole handout
  double height_mm;    ///< of a sheet, between the margins of its paper
};

/// One fault: drawn, seen, costed, and how to do it right. `number` is that of the sheet.
std::string fault_sheet(const HandoutWall& wall, const FaultPage& page, const SheetMakers& make,
                        std::size_t number);

/// A wall as a whole: its face, and what is wrong with it ranked, on as many sheets as wall_sheet_count()
/// says.
std::string wall_sheets(const HandoutWall& wall, const SheetMakers& make, std::size_t number);
std::size_t wall_sheet_count(const HandoutWall& wall, const Words& words, double height_mm);

/// Of several walls: all their faults ranked, on sheets before those of the walls; none for one wall.
std::string front_sheets(const std::vector<HandoutWall>& walls, const SheetMakers& make);
std::size_t front_sheet_count(const std::vector<HandoutWall>& walls, const Words& words, double height_mm);

/// What stands at the foot of every sheet.
std::string sheet_foot(const HandoutWall& wall, const SheetMakers& make, std::size_t number);

/// Which pictures of a face a sheet shows; of a wall with nothing wrong the first alone.
enum class FacesShown { built, built_and_right, all };

/// The pictures of one rectangle of the face, `width_mm` wide each, with their scales: as built and, where
/// the wall has it, built right and the difference. `view` is the name that the on-screen data has.
std::string thermal_figures(const HandoutWall& wall, const FaceWindow& window, const std::string& view,
                            const std::string& where, double width_mm, FacesShown faces,
                            const SheetMakers& make);

/// `<ul>` of sentences; nothing for none.
std::string list_of(const std::vector<std::string>& sentences);

}  // namespace coldbay
