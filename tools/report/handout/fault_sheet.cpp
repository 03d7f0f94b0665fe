#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/section_svg.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/handout/sheets.hpp"

namespace coldbay {
namespace {

std::string heading(const Words& words, std::string_view key) {
  return fmt::format("<h3>{}</h3>\n", escaped(said(words, key)));
}

std::string block(const Words& words, std::string_view key, const std::vector<std::string>& sentences,
                  std::string_view kind = "") {
  if (sentences.empty()) return {};
  return fmt::format("<div class=\"block {}\">{}{}</div>\n", kind, heading(words, key), list_of(sentences));
}

/// As wide as a picture of the face can be beside the words, and no higher than is left for it [mm].
double picture_width(const FaceWindow& window) {
  constexpr double widest = 36.0, highest = 92.0;
  return std::min(widest, highest * window.across.length() / window.up.length());
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
std::string drawings(const HandoutWall& wall, const FaultPage& page, const SheetMakers& make) {
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
  return html + "</div>\n";
}

}  // namespace

std::string fault_sheet(const HandoutWall& wall, const FaultPage& page, const SheetMakers& make,
                        std::size_t number) {
  const Words& words = make.words;
  const Headline big = headline(wall, page, words);
  const std::string where = place_name(page, words);
  const FaceWindow window = window_of(wall, page.bays.front());
  std::string html = fmt::format(
      "<section class=\"sheet fault\" id=\"{0}\" aria-labelledby=\"{0}-name\">\n<header>\n<div><p "
      "class=\"where\"><bdi>{1}</bdi></p>"
      "<h2 id=\"{0}-name\">{2}</h2></div>\n<p class=\"number\"><strong>{3}</strong> {4}</p>\n</header>\n",
      page.id, escaped(where), escaped(fault_names(page, words)), escaped(big.number), escaped(big.of));
  html += drawings(wall, page, make);
  html += "<div class=\"body\">\n" +
          thermal_figures(wall, window, page.id, where, picture_width(window), FacesShown::all, make);
  std::vector<std::string> see = normal_sentences(wall, words);
  for (std::string& sentence : sight_sentences(wall, page, words)) see.push_back(std::move(sentence));
  html += "<div class=\"words\">\n";
  html += block(words, "page.what to see", see);
  html += block(words, "page.what it costs", cost_sentences(wall, page, words));
  html += block(words, "page.when to look", weather_sentences(wall, page, words));
  html += "</div>\n</div>\n<div class=\"below\">\n";
  html += block(words, "page.right way", each_once(page.faults, words, "right"), "do");
  html += block(words, "page.checklist", each_once(page.faults, words, "check"), "check");
  html += block(words, "page.take care", cautions(page, words), "care");
  html += block(words, "page.not modelled", limit_sentences(wall, &page, words), "limits");
  return html + "</div>\n" + sheet_foot(wall, make, number) + "</section>\n";
}

}  // namespace coldbay
