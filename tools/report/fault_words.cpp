#include "tools/report/fault_words.hpp"

#include <algorithm>
#include <array>

namespace coldbay {
namespace {

constexpr std::string_view denser =
    "light fibre conducts less where it is denser: what this costs is the fibre, and whatever depth it loses";

/// In the order of Fault.
constexpr std::array<FaultWords, 20> table{{
    {"nothing in the bay", "fill it", ""},
    {"a gap beside the fill", "cut the batt to the bay, or fill the gap with a piece cut to it", ""},
    {"a batt narrower than its bay, a strip left open", "cut a strip to fill the side", ""},
    {"a batt wider than its bay, forced in uncut", "cut it to width, slightly over for friction", denser},
    {"a batt cut short", "cut it to length, or fill the end with a piece cut to it and tape the facing", ""},
    {"a batt too long, its end folded under", "trim the excess", denser},
    {"a batt that has slumped", "cut it to length and fix it so that it stays up", denser},
    {"loose fill that has settled", "blow it in to its density, and top it up", ""},
    {"a batt that has not recovered its thickness", "let it come to full thickness before closing the wall",
     ""},
    {"a batt squeezed into less depth than its own", "use one made for this depth", denser},
    {"flanges stapled to the sides of the studs, a pocket along each",
     "staple them to the faces of the studs, or use an unfaced batt by friction", ""},
    {"shoulders rounded, a pocket in each cold corner", "push the edges out to the corners", denser},
    {"scraps stuffed in", "cut one piece to the space",
     "fibre pressed together conducts less, pockets conduct more: which of them wins differs from one "
     "stuffing "
     "to the next"},
    {"a void in the fill", "fill it", ""},
    {"a batt pushed over a cable or conduit, or behind it", "split the batt so that half lies on either side",
     ""},
    {"a batt pushed over a pipe, which is left on the cold side",
     "insulate behind the pipe and leave its room side open",
     "the heat is not the point here: the pipe is colder than it need be, and may freeze"},
    {"nothing behind a box, cabinet or duct", "a piece cut to the space behind it, or sealant foam", ""},
    {"the batt squeezed in behind a box", "a piece cut to the space behind it, the batt cut neatly round it",
     denser},
    {"a piece too thin behind a box", "a piece as thick as the space behind it", ""},
    {"the batt cut away too wide round a box", "cut the batt neatly round it", ""},
}};

}  // namespace

const FaultWords& words_of(Fault fault) { return table[static_cast<std::size_t>(fault)]; }

std::vector<std::string_view> notes_of(const std::vector<std::vector<Fault>>& bays) {
  std::vector<std::string_view> notes;
  for (const std::vector<Fault>& bay : bays)
    for (const Fault f : bay) {
      const std::string_view note = words_of(f).note;
      if (!note.empty() && std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
    }
  return notes;
}

std::string names_of(const std::vector<Fault>& faults) {
  std::string names;
  for (const Fault f : faults) names += (names.empty() ? "" : "; ") + std::string(words_of(f).name);
  return names;
}

}  // namespace coldbay
