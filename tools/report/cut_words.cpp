#include "tools/report/cut_words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstddef>

#include "tools/report/labels.hpp"

namespace coldbay {
namespace {

std::string stretch_text(Span stretch, LengthUnit unit) {
  const int decimals = unit == LengthUnit::inch ? 1 : 0;
  return fmt::format("{} to {}", short_number(in_length_unit(stretch.from, unit), decimals),
                     length_text(stretch.to, unit));
}

std::string share_of_wall(double share) {
  return share < 0.0005 ? "less than 0.1 %" : fmt::format("{:.1f} %", 100.0 * share);
}

}  // namespace

std::string place_text(const Section& section, const std::string& length) {
  return fmt::format("{} {}", length, section.cut == CutKind::vertical ? "above the floor" : "across");
}

EndWords end_words(const Section& section) {
  if (section.cut != CutKind::vertical) return {};
  return {"floor", "up from the floor →", "top of the wall"};
}

std::string stretches_text(const Section& section, LengthUnit unit) {
  constexpr std::size_t most = 3;
  const auto& all = section.stands_for;
  if (all.empty()) return {};
  std::string text;
  for (std::size_t i = 0; i < std::min(most, all.size()); ++i)
    text += (i == 0 ? "" : i + 1 == all.size() ? " and " : ", ") + stretch_text(all[i], unit);
  if (all.size() > most)
    text += fmt::format(" and {} more stretch{}", all.size() - most, all.size() == most + 1 ? "" : "es");
  // Heights for a plan; the other way for a vertical cut.
  return fmt::format("{} {}", text, section.cut == CutKind::vertical ? "across" : "above the floor");
}

std::string stands_for_text(const Section& section, LengthUnit unit) {
  if (section.stands_for.empty()) return {};
  double length = 0.0;
  for (const Span& stretch : section.stands_for) length += stretch.length();
  const bool upright = section.cut == CutKind::vertical;
  const std::string share = section.stands_of > 0.0 ? fmt::format(": {} of the wall's {}",
                                                                  share_of_wall(length / section.stands_of),
                                                                  upright ? "width" : "height")
                                                    : "";
  return fmt::format(
      "this cut stands for {}{}; {}", stretches_text(section, unit), share,
      upright ? "the studs beside it are not in its U" : "what it shows is drawn from floor to ceiling");
}

}  // namespace coldbay
