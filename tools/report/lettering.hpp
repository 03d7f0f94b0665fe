#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tools/report/canvas.hpp"
#include "tools/report/text.hpp"

namespace coldbay {

/// A picture, and what was written on it where: so that nothing is written over something else.
struct Lettered {
  Box box;
  std::string text;
};
struct Drawing {
  Picture picture;
  std::vector<Lettered> texts;
};

/// What a line of text takes, from the height of its capitals to the depth of its descenders.
Box text_box(Spot at, Align align, std::string_view text, double size);

/// Writes one line as draw_text does, and remembers it. Nothing where there is nothing to write.
void letter(Drawing& drawing, Spot at, Align align, std::string_view text, double size,
            Rgb colour = ink::text);

/// Lines one below the other, the first baseline at `at.y`; returns the baseline that would follow.
double letter_lines(Drawing& drawing, Spot at, const std::vector<std::string>& lines, double size,
                    Rgb colour = ink::text);

bool overlap(const Box& a, const Box& b);

/// A short text on a patch of paper close to a place: at the first of eight sides of it where it lies within
/// `bounds` and on nothing written before, else at the first where it lies within. Left out where it fits
/// nowhere.
void letter_beside(Drawing& drawing, Spot place, double reach, const Box& bounds, std::string_view text);

}  // namespace coldbay
