#include "tools/report/handout/section_svg.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <pugixml.hpp>
#include <random>
#include <set>
#include <sstream>
#include <string>

#include "tools/input/case.hpp"
#include "tools/report/handout/as_drawn.hpp"
#include "tools/report/handout/section_paper.hpp"
#include "tools/report/text.hpp"

// The drawings of every bundled wall, read back by pugixml: what is written, where, and what is painted.

namespace coldbay::section_svg_test {
namespace {

Case case_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return read_case({file.string(), text.str()});
}

std::vector<std::filesystem::path> walls() {
  const std::filesystem::path all(COLDBAY_CASES);
  std::vector<std::filesystem::path> files{all / "practice-wall.yaml", all / "starters/steel-92-at-600.yaml"};
  for (const auto& entry : std::filesystem::directory_iterator(all / "faults")) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

/// Two drawings of every bay of a case that a plan shows, and of every vertical cut.
struct Drawn {
  SectionView wrong, right;
  SectionPair pair;
};

std::vector<Drawn> drawn(const Case& c, const HatchTable& table, const Translate& word = {}) {
  std::vector<Drawn> all;
  for (std::size_t k = 0; k < c.sections.size(); ++k) {
    const Section& built = c.sections[k];
    const Section& right = c.right[k] ? *c.right[k] : built;
    std::vector<Span> bays{{0.0, built.width}};
    if (built.cut == CutKind::plan) bays.clear();
    for (const FacePart& part : built.parts) bays.push_back(part.clear);
    for (std::size_t b = 0; b < bays.size(); ++b) {
      Drawn one;
      one.wrong.section = &built;
      one.wrong.shown = window_for(built, right, bays[b]);
      one.wrong.hatches = &table;
      one.wrong.id = fmt::format("s{}-b{}", k, b);
      one.wrong.title = "Wrong & <b>";
      one.wrong.description = "what it shows";
      one.wrong.material = word;
      one.right = one.wrong;
      one.right.section = &right;
      one.right.id += "r";
      one.wrong.measures = measures_of(built, right, one.wrong.shown, c.units);
      one.right.measures = measures_of(right, right, one.wrong.shown, c.units);
      one.pair = section_pair(one.wrong, one.right);
      all.push_back(std::move(one));
    }
  }
  return all;
}

HatchTable table_of(const Case& c) {
  std::vector<const Section*> all;
  for (const Section& section : c.sections) all.push_back(&section);
  for (const auto& right : c.right)
    if (right) all.push_back(&*right);
  return hatch_table(all);
}

void read_svg(const std::string& svg, pugi::xml_document& document) {
  const pugi::xml_parse_result read =
      document.load_buffer(svg.data(), svg.size(), pugi::parse_full, pugi::encoding_utf8);
  ASSERT_TRUE(read) << read.description() << " at " << read.offset;
}

/// Boxes of the texts, by our own font, from 0.76 of its size above the baseline (its capitals, 0.73, and
/// some for what is round) to 0.24 below (its descenders): sizes in DejaVu Sans, from memory.
struct Written {
  std::string text;
  PaperBox box;
};

std::vector<Written> texts(const pugi::xml_document& document) {
  const pugi::xml_node root = document.child("svg");
  const double size = root.attribute("font-size").as_double();
  std::vector<Written> all;
  for (const pugi::xml_node node : root.children("text")) {
    // The text itself is the last child; a title may stand before it.
    const std::string text = node.last_child().value(), anchor = node.attribute("text-anchor").value();
    const double x = node.attribute("x").as_double(), y = node.attribute("y").as_double();
    const double width = text_width(text, size);
    const double before = anchor == "end" ? width : anchor == "middle" ? 0.5 * width : 0.0;
    const bool turned = std::string(node.attribute("transform").value()).starts_with("rotate(-90");
    all.push_back({text, turned
                             ? PaperBox{x - 0.76 * size, y - width + before, x + 0.24 * size, y + before}
                             : PaperBox{x - before, y - 0.76 * size, x - before + width, y + 0.24 * size}});
  }
  return all;
}

void expect_legible(const SvgDrawing& drawing, const std::string& where) {
  pugi::xml_document document;
  read_svg(drawing.svg, document);
  EXPECT_GE(document.child("svg").attribute("font-size").as_double(), 2.3) << where;  // 6.5 point
  const std::vector<Written> all = texts(document);
  EXPECT_GE(all.size(), 4U) << where;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const PaperBox& box = all[i].box;
    EXPECT_TRUE(box.left >= 0.0 && box.top >= 0.0 && box.right <= drawing.width_mm &&
                box.bottom <= drawing.height_mm)
        << where << ": clipped: " << all[i].text;
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_FALSE(overlap(box, all[j].box)) << where << ": " << all[i].text << " on " << all[j].text;
  }
}

/// No leader or dimension line runs through a text: lines of the two thin paths, piece by piece.
void expect_no_line_through(const SvgDrawing& drawing, const std::string& where);

TEST(SectionSvg, EveryTextIsWholeAndStandsAlone) {
  std::size_t n = 0;
  for (const auto& file : walls()) {
    const Case c = case_of(file);
    const HatchTable table = table_of(c);
    for (const Drawn& one : drawn(c, table))
      for (const SvgDrawing* drawing : {&one.pair.wrong, &one.pair.right}) {
        const std::string where = file.stem().string() + " " + one.wrong.id;
        expect_legible(*drawing, where);
        expect_no_line_through(*drawing, where);
        EXPECT_LT(drawing->svg.size(), 60000U) << where;
        ++n;
      }
  }
  EXPECT_GT(n, 100U);
}

/// Points of a path of absolute M, L, V, H and z, part by part.
std::vector<std::vector<PaperPoint>> parts_of(const std::string& d) {
  std::vector<std::vector<PaperPoint>> parts;
  const char* at = d.c_str();
  const auto number = [&] {
    char* end = nullptr;
    const double value = std::strtod(at, &end);
    EXPECT_NE(at, end) << d;
    at = end;
    return value;
  };
  while (*at != '\0') {
    const char letter = *at++;
    if (letter == 'z' || letter == ' ') continue;
    if (letter == 'M') parts.emplace_back();
    PaperPoint p = letter == 'M' ? PaperPoint{} : parts.back().back();
    if (letter != 'V') p.x = number();
    if (letter != 'H') p.y = number();
    parts.back().push_back(p);
  }
  return parts;
}

void expect_no_line_through(const SvgDrawing& drawing, const std::string& where) {
  pugi::xml_document document;
  read_svg(drawing.svg, document);
  const std::vector<Written> all = texts(document);
  int n_paths = 0;
  for (const pugi::xml_node path : document.child("svg").children("path")) {
    if (std::string(path.attribute("stroke").value()) != "#000") continue;
    ++n_paths;
    for (const auto& line : parts_of(path.attribute("d").value()))
      for (std::size_t i = 1; i < line.size(); ++i)
        for (double share = 0.0; share <= 1.0; share += 0.01) {
          const PaperPoint p{line[i - 1].x + share * (line[i].x - line[i - 1].x),
                             line[i - 1].y + share * (line[i].y - line[i - 1].y)};
          for (const Written& text : all)
            ASSERT_FALSE(p.x > text.box.left && p.x < text.box.right && p.y > text.box.top &&
                         p.y < text.box.bottom)
                << where << ": a line through " << text.text;
        }
  }
  EXPECT_GE(n_paths, 2) << where;  // leaders, and break lines or dimensions
}

/// How often a path goes round a point (the rule of SVG's fills, nonzero).
bool fills_point(const std::vector<std::vector<PaperPoint>>& parts, PaperPoint p) {
  int winding = 0;
  for (const auto& part : parts)
    for (std::size_t i = 0; i < part.size(); ++i) {
      const PaperPoint a = part[i], b = part[(i + 1) % part.size()];
      const double side = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
      if (a.y <= p.y && b.y > p.y && side > 0.0) ++winding;
      if (a.y > p.y && b.y <= p.y && side < 0.0) --winding;
    }
  return winding != 0;
}

void expect_painted(const SectionView& view, const SvgDrawing& drawing, const HatchTable& table,
                    const std::string& where) {
  pugi::xml_document document;
  read_svg(drawing.svg, document);
  struct Fill {
    std::size_t row;
    std::vector<std::vector<PaperPoint>> parts;
  };
  std::vector<Fill> fills;
  const pugi::xml_node clipped = document.child("svg").child("g");
  for (const pugi::xml_node path : clipped.children("path"))
    if (const std::string name = path.attribute("class").value(); name.starts_with("m"))
      fills.push_back({std::stoul(name.substr(1)), parts_of(path.attribute("d").value())});
  const Section shown = as_drawn(*view.section);
  const SectionLayout layout = section_paper(view).layout;
  std::mt19937 random(1);
  int n = 0;
  for (int i = 0; i < 400; ++i) {
    const Point at{view.shown.from + view.shown.length() * static_cast<double>(random()) / 4294967296.0,
                   shown.depth * static_cast<double>(random()) / 4294967296.0};
    const auto here = material_at(shown, at);
    ASSERT_TRUE(here);
    // Close to a border 0.01 mm of rounding may decide.
    constexpr double close = 1e-4;
    bool clear = true;
    for (const Point& step : {Point{close, 0.0}, Point{-close, 0.0}, Point{0.0, close}, Point{0.0, -close}}) {
      const auto beside = material_at(shown, {at.across + step.across, at.depth + step.depth});
      clear = clear && beside == here;
    }
    if (!clear) continue;
    const Fill* last = nullptr;
    for (const Fill& fill : fills)
      if (fills_point(fill.parts, layout.paper(at))) last = &fill;
    ASSERT_NE(last, nullptr) << where;
    EXPECT_EQ(table[last->row].material, shown.materials[*here].name)
        << where << " at " << at.across << ", " << at.depth;
    ++n;
  }
  EXPECT_GT(n, 200) << where;
}

TEST(SectionSvg, PaintsEveryPointAsItsMaterial) {
  for (const auto& file : walls()) {
    const Case c = case_of(file);
    const HatchTable table = table_of(c);
    for (const Drawn& one : drawn(c, table))
      expect_painted(one.wrong, section_svg(one.wrong), table, file.stem().string() + " " + one.wrong.id);
  }
}

TEST(SectionSvg, IdsAreItsOwnAndEveryReferenceLeadsToOne) {
  const Case c = case_of(std::filesystem::path(COLDBAY_CASES) / "practice-wall.yaml");
  const HatchTable table = table_of(c);
  std::set<std::string> all;
  for (const Drawn& one : drawn(c, table)) {
    pugi::xml_document document;
    read_svg(one.pair.wrong.svg, document);
    std::set<std::string> ids;
    for (const auto& node : document.select_nodes("//*[@id]")) {
      const std::string id = node.node().attribute("id").value();
      EXPECT_TRUE(id.starts_with(one.wrong.id + "-")) << id;
      EXPECT_TRUE(all.insert(id).second) << id << " twice in a page";
      ids.insert(id);
    }
    for (const auto& node : document.select_nodes("//*[@clip-path]")) {
      const std::string to = node.node().attribute("clip-path").value();
      EXPECT_EQ(ids.count(to.substr(5, to.size() - 6)), 1U) << to;
    }
    EXPECT_STREQ(document.child("svg").child("title").text().get(), "Wrong & <b>");
  }
  EXPECT_GT(all.size(), 200U);
}

TEST(SectionSvg, ThoseToBeComparedAreOfOneScaleAndLevel) {
  for (const auto& file : walls()) {
    const Case c = case_of(file);
    const HatchTable table = table_of(c);
    for (const Drawn& one : drawn(c, table)) {
      pugi::xml_document wrong, right;
      read_svg(one.pair.wrong.svg, wrong);
      read_svg(one.pair.right.svg, right);
      EXPECT_STREQ(wrong.child("svg").child("clipPath").child("path").attribute("d").value(),
                   right.child("svg").child("clipPath").child("path").attribute("d").value())
          << file << one.wrong.id;
    }
  }
}

TEST(SectionSvg, NamesOfAnyKindAreWordsAndKeepTheirPlace) {
  const std::string longest(500, 'W');
  for (const std::string& name :
       {longest, std::string("</text><script>alert(1)</script>"), std::string("جدار خشب \"عازل\" (2)"),
        std::string("🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥"), std::string("a\xFFz\x01")}) {
    const Case c = case_of(std::filesystem::path(COLDBAY_CASES) / "faults/pipe.yaml");
    const HatchTable table = table_of(c);
    const auto call = [&](const std::string& material) { return material.substr(0, 3) + " " + name; };
    for (const Drawn& one : drawn(c, table, call)) {
      expect_legible(one.pair.wrong, name);
      expect_no_line_through(one.pair.wrong, name);
      EXPECT_EQ(one.pair.wrong.svg.find("<script"), std::string::npos);
      if (name != longest) continue;
      pugi::xml_document document;
      read_svg(one.pair.wrong.svg, document);
      const auto title = document.select_node("//text/title").node();
      EXPECT_EQ(std::string(title.text().get()).size(), 504U) << "the full name, for who points at it";
    }
  }
}

TEST(SectionSvg, TheSameAgainIsTheSameBytes) {
  const Case c = case_of(std::filesystem::path(COLDBAY_CASES) / "faults/gap.yaml");
  const HatchTable table = table_of(c);
  EXPECT_EQ(drawn(c, table)[0].pair.wrong.svg, drawn(c, table)[0].pair.wrong.svg);
}

}  // namespace
}  // namespace coldbay::section_svg_test
