#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/section_svg.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/handout/sheets.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

/// A heading and its sentences. `kind` is the class that sheet.css draws it by.
struct WordBlock {
  std::string heading;
  std::vector<std::string> sentences;
  std::string_view kind = {};
};

std::string html_of(const std::vector<WordBlock>& blocks) {
  std::string html;
  for (const WordBlock& b : blocks)
    if (!b.sentences.empty())
      html += fmt::format("<div class=\"block {}\"><h3>{}</h3>\n{}</div>\n", b.kind, escaped(b.heading),
                          list_of(b.sentences));
  return html;
}

/// What blocks take on paper, one below the other, as wide as that and with letters of that size [mm].
/// Reckoned with the widest of the fonts that sheet.css names, and a little more for words that break badly.
double height_of(const std::vector<WordBlock>& blocks, double width_mm, double points) {
  constexpr double mm_per_point = 25.4 / 72.0, line = 1.32, between = 0.8, after = 2.2, inset = 5.0,
                   badly = 1.06;
  constexpr std::size_t most_lines = 100;
  const double size = points * mm_per_point;
  double sum = 0.0;
  for (const WordBlock& b : blocks) {
    if (b.sentences.empty()) continue;
    sum += 1.25 * size + after;
    const double width = (b.kind.empty() ? width_mm : width_mm - inset) / badly;
    for (const std::string& s : b.sentences)
      sum += line * size * static_cast<double>(wrapped(s, size, width, most_lines).size()) + between;
  }
  return sum;
}

constexpr double column_gap = 5.0;  // as sheet.css has it [mm]
constexpr double picture_highest = 86.0;

constexpr double below_pictures = 22.0;  ///< brackets, captions and scales [mm]

/// As wide as a picture of the face can be beside the words, and no higher than what is below leaves of
/// `usable` where that has letters of a good size [mm].
double picture_width(const FaceWindow& window, const std::vector<WordBlock>& left,
                     const std::vector<WordBlock>& right, double usable) {
  constexpr double widest = 36.0, lowest = 50.0, points = 8.0;
  const double half = 0.5 * (sheet_width - column_gap);
  const double below = std::max(height_of(left, half, points), height_of(right, half, points));
  const double highest = std::clamp(usable - below - below_pictures, lowest, picture_highest);
  return std::min(widest, highest * window.across.length() / window.up.length());
}

/// The largest letters [points] with which a sheet's words keep on it, `usable` of its height being theirs
/// and the pictures' [mm].
double letters_that_fit(const std::vector<WordBlock>& beside, const std::vector<WordBlock>& left,
                        const std::vector<WordBlock>& right, double picture_mm, double by_width,
                        double usable) {
  const double words = sheet_width - 3.0 * picture_mm - 2.0 * picture_gap - column_gap,
               half = 0.5 * (sheet_width - column_gap);
  constexpr double smallest = 6.5;
  double points = 9.0;
  for (; points > smallest; points -= 0.25) {
    const double body = std::max(picture_mm * by_width + below_pictures, height_of(beside, words, points)),
                 below = std::max(height_of(left, half, points), height_of(right, half, points));
    if (body + below <= usable) break;
  }
  return points;
}

std::vector<std::string> each_once(const std::vector<Fault>& faults, const Words& words,
                                   std::string_view what) {
  std::vector<std::string> all;
  for (const Fault f : faults) {
    std::string text = said_of(words, f, what);
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    if (std::find(all.begin(), all.end(), text) == all.end()) all.push_back(std::move(text));
  }
  return all;
}

std::vector<std::string> cautions(const FaultPage& page, const Words& words) {
  std::vector<std::string> all;
  for (const std::string_view key : cautions_of(page.faults)) all.push_back(said(words, key));
  all.push_back(said(words, "cautions.codes"));
  return all;
}

std::string cut_words(const HandoutWall& wall, const FaultPage& page, const Words& words) {
  if (page.section->built.cut == CutKind::plan)
    return said(words, "page.section at", {{"height", length_text(page.section->at, wall.c.units)}});
  return said(words, "page.section through",
              {{"bay", said(words, "page.bay", {{"number", std::to_string(page.bays.front() + 1)}})}});
}

/// The section as built and built right, in one convention and to one scale.
struct Drawn {
  std::string html;
  double height_mm = 0.0;
};
Drawn drawings(const HandoutWall& wall, const FaultPage& page, const SheetMakers& make) {
  if (!page.section) return {};
  const Words& words = make.words;
  const BaySection& cut = *page.section;
  const std::string where = place_name(page, words);
  const Span clear = cut.built.parts.empty() ? Span{0.0, cut.built.width} : cut.built.parts[0].clear;
  const Span shown = window_for(cut.built, cut.right, clear);
  const auto view = [&](bool wrong) {
    SectionView v;
    v.section = wrong ? &cut.built : &cut.right;
    v.shown = shown;
    v.width_mm = 91.0;
    v.hatches = &make.hatches;
    v.measures = measures_of(*v.section, cut.right, shown, wall.c.units);
    v.id = fmt::format("{}-{}", page.id, wrong ? "wrong" : "right");
    v.title = said(
        words, wrong ? "page.drawing wrong" : "page.drawing right",
        {{"where", where}, {"what", wrong ? fault_names(page, words) : said(words, "page.built right")}});
    v.description = fmt::format("{}. {}", wrong ? fault_names(page, words) : said(words, "page.built right"),
                                cut_words(wall, page, words));
    v.outside = said(words, "page.outside");
    v.room = said(words, "page.room side");
    return v;
  };
  const SectionPair pair = section_pair(view(true), view(false));
  std::string html = "<div class=\"drawings\">\n";
  for (const bool wrong : {true, false})
    html += fmt::format("<figure class=\"drawing {}\">{}<figcaption><b>{}</b> {}</figcaption></figure>\n",
                        wrong ? "wrong" : "right", wrong ? pair.wrong.svg : pair.right.svg,
                        escaped(said(words, wrong ? "page.drawn wrong" : "page.drawn right")),
                        escaped(cut_words(wall, page, words)));
  constexpr double caption = 10.0;  // and what is left above and below [mm]
  return {html + "</div>\n", std::max(pair.wrong.height_mm, pair.right.height_mm) + caption};
}

}  // namespace

std::string fault_sheet(const HandoutWall& wall, const FaultPage& page, const SheetMakers& make,
                        std::size_t number) {
  const Words& words = make.words;
  const Headline big = headline(wall, page, words);
  const std::string where = place_name(page, words), name = fault_names(page, words);
  const FaceWindow window = window_of(wall, page.bays.front());
  std::vector<std::string> see = normal_sentences(wall, words);
  for (std::string& sentence : sight_sentences(wall, page, words)) see.push_back(std::move(sentence));
  const std::vector<WordBlock> beside{
      {said(words, "page.what to see"), std::move(see)},
      {said(words, "page.what it costs"), cost_sentences(wall, page, words)},
      {said(words, "page.right way"), each_once(page.faults, words, "right"), "do"},
      {said(words, "page.checklist"), each_once(page.faults, words, "check"), "check"},
      {said(words, "page.when to look"), weather_sentences(wall, page, words)}};
  const std::vector<WordBlock> care{{said(words, "page.take care"), cautions(page, words), "care"}},
      limits{{said(words, "page.not modelled"), limit_sentences(wall, &page, words), "limits"}};
  const Drawn drawn = drawings(wall, page, make);
  // A name of more than two lines has smaller letters, as sheet.css has them: 17 and 13 points.
  constexpr double title_wide = 85.0, letters = 6.0, small_letters = 4.6, per_letter = 1.17,
                   around = 28.0;  // [mm]
  const bool long_name = wrapped(name, letters, title_wide, 3).size() > 2;
  const double size = long_name ? small_letters : letters;
  const double title = per_letter * size * static_cast<double>(wrapped(name, size, title_wide, 5).size());
  const double usable = make.height_mm - around - title - drawn.height_mm;
  const double picture = picture_width(window, care, limits, usable);
  const double points =
      letters_that_fit(beside, care, limits, picture, window.up.length() / window.across.length(), usable);

  std::string html = fmt::format(
      "<section class=\"sheet fault\" id=\"{0}\" aria-labelledby=\"{0}-name\" "
      "style=\"--size:{5:.2f}pt\">\n<header>\n"
      "<div><p class=\"where\"><bdi>{1}</bdi></p><h2 id=\"{0}-name\"{6}>{2}</h2></div>\n"
      "<p class=\"number\"><strong>{3}</strong> {4}</p>\n</header>\n",
      page.id, escaped(where), escaped(name), escaped(big.number), escaped(big.of), points,
      long_name ? " class=\"long\"" : "");
  html += drawn.html + "<div class=\"body\">\n" +
          thermal_figures(wall, window, page.id, where, picture, FacesShown::all, make);
  html += fmt::format("<div class=\"words\">\n{}</div>\n</div>\n<div class=\"below\">\n{}{}</div>\n",
                      html_of(beside), html_of(care), html_of(limits));
  return html + sheet_foot(wall, make, number) + "</section>\n";
}

}  // namespace coldbay
