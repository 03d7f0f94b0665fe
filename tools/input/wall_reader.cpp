#include "tools/input/wall_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <utility>

#include "tools/input/material_reader.hpp"

namespace coldbay {
namespace {

Layer read_layer(const Node& node, Reading& in) {
  Layer layer;
  if (node.kind == Node::Kind::scalar && same_name(node.text, "frame")) {
    layer.is_frame = true;
    return layer;
  }
  const auto piece = read_piece(node, "a layer", in);
  if (!piece) return layer;
  if (const Node* ventilated = node.find("ventilated")) {
    const auto how = read_choice(*ventilated, "how an air layer is ventilated", {"slightly", "well"}, in);
    layer.slightly_ventilated = how == std::size_t{0};
    layer.well_ventilated = how == std::size_t{1};
    if (!piece->material.is_air_space)
      in.error(ventilated->where, "only an air space is ventilated", "leave it out");
  }
  layer.material = piece->material;
  layer.thickness = piece->thickness.value_or(unread);
  if (!piece->thickness)
    in.error(node.where, fmt::format("how thick is the layer of {}?", shortened(piece->material.name)),
             fmt::format("write it after the name: {} 12.5 mm", shortened(piece->material.name)));
  return layer;
}

/// `softwood 1-1/2 x 3-1/2 in`: a material and two sizes that share the last unit.
void read_member(const Node& node, Frame& frame, Reading& in) {
  const auto bad = [&] {
    in.error(node.where, "a member is a material and its width by its depth",
             "write, for example, softwood 1-1/2 x 3-1/2 in");
  };
  if (node.kind != Node::Kind::scalar) return bad();
  const std::string& text = node.text;
  constexpr std::array<std::string_view, 2> crosses{" x ", " × "};
  const auto cross =
      std::find_if(crosses.begin(), crosses.end(), [&](auto c) { return text.find(c) != std::string::npos; });
  if (cross == crosses.end()) return bad();
  const auto x = text.find(*cross);
  const std::string depth = text.substr(x + cross->size());
  const WordsAndNumber front = split_number(text.substr(0, x));
  if (front.number.empty()) return bad();
  if (const LibraryEntry* entry = find_material(front.words, node.where, in))
    frame.material = entry->material;
  Node part = node;
  part.text = depth;
  const auto member_depth = read_size(&part, in);
  frame.member_depth = member_depth.value_or(unread);
  const bool shares_unit = unit_of(front.number).empty();
  if (shares_unit && !member_depth) return;  // one error is enough
  part.text = shares_unit ? fmt::format("{} {}", front.number, unit_of(depth)) : front.number;
  frame.member_width = read_size(&part, in).value_or(unread);
}

Frame read_frame(const Node& node, Reading& in) {
  Frame frame;
  frame.member_width = frame.member_depth = unread;
  const Fields fields(node, "a frame", {"member", "spacing", "plates"}, in);
  if (const Node* member = fields.required("member")) read_member(*member, frame, in);
  frame.spacing = read_size(fields.required("spacing"), in).value_or(unread);
  if (const Node* plates = fields.optional("plates")) {
    const Fields counts(*plates, "plates", {"bottom", "top"}, in);
    if (const Node* n = counts.optional("bottom"))
      frame.bottom_plates = read_count(*n, 0, 10, in).value_or(1);
    if (const Node* n = counts.optional("top")) frame.top_plates = read_count(*n, 0, 10, in).value_or(1);
  }
  return frame;
}

Gap read_gap(const Node& node, std::vector<std::string>& words, Reading& in) {
  Gap gap;
  const Fields fields(node, "a gap", {"left", "right", "room", "sheathing"}, in);
  const auto side = [&](const char* key, const char* says) {
    const Node* value = fields.optional(key);
    if (!value) return 0.0;
    const auto size = parse_quantity(value->text, Quantity::length, in.system);
    if (std::holds_alternative<double>(size) && std::get<double>(size) == 0.0)
      return 0.0;  // a series may begin here
    words.push_back(fmt::format("gap {} {}", value->text, says));
    return read_size(value, in).value_or(unread);
  };
  gap.left = side("left", "left");
  gap.right = side("right", "right");
  gap.room = side("room", "on the room side");
  gap.sheathing = side("sheathing", "on the sheathing side");
  return gap;
}

/// The usual single box: 57 mm wide, 95 mm high, 70 mm deep; walls of 1.6 mm steel or 2.5 mm plastic.
/// Common practice, no source.
Box read_box(const Node& node, Reading& in) {
  Box box;
  const Fields fields(node, "a box", {"at", "behind", "material", "stud", "height", "width", "depth", "wall"},
                      in);
  const bool steel = [&] {
    const Node* material = fields.optional("material");
    return material &&
           read_choice(*material, "a material of a box", {"plastic", "steel"}, in) == std::size_t{1};
  }();
  const auto usual = [&in](const Node* written, double size) {
    return written ? read_size(written, in).value_or(unread) : size;
  };
  box.centre = read_size(fields.required("at"), in).value_or(unread);
  box.height = usual(fields.optional("height"), 0.095);
  box.width = usual(fields.optional("width"), 0.057);
  box.depth = usual(fields.optional("depth"), 0.070);
  box.wall = usual(fields.optional("wall"), steel ? 0.0016 : 0.0025);
  box.material = find(in.library, steel ? "steel" : "rigid plastic")->material;
  box.cover = find(in.library, "rigid plastic")->material;
  if (const Node* stud = fields.optional("stud"))
    box.stud = read_choice(*stud, "the stud of a box", {"left", "right"}, in) == std::size_t{1}
                   ? Box::Stud::right
                   : Box::Stud::left;
  if (const Node* behind = fields.required("behind"))
    box.behind = read_choice(*behind, "what is behind a box", {"open", "filled"}, in) == std::size_t{1}
                     ? Box::Behind::filled
                     : Box::Behind::open;
  box.label = fmt::format("{} box, {} behind", steel ? "steel" : "plastic",
                          box.behind == Box::Behind::filled ? "filled" : "open");
  return box;
}

/// What a bay is filled with, by name: a batt by its label, any other material, or nothing.
void read_fill(const Node& node, bool is_batt_label, Bay& bay, std::vector<std::string>& words, Reading& in) {
  if (node.kind == Node::Kind::scalar &&
      (same_name(node.text, "nothing") || same_name(node.text, "none") || same_name(node.text, "empty"))) {
    bay.fill = find(in.library, "air space")->material;
    words.push_back("empty");
    return;
  }
  std::optional<LibraryEntry> entry;
  if (is_batt_label && node.kind == Node::Kind::scalar) {
    const LibraryEntry* batt = find_material("batt " + node.text, node.where, in);
    if (batt) entry = *batt;
  } else {
    entry = read_material(node, in);
  }
  if (!entry) return;
  bay.fill = entry->material;
  bay.batt = entry->batt;
  words.push_back(entry->material.name);
}

/// How much of a whole batt's fibre its scraps bring into the bay: 100 % is as much as the batt has itself.
void read_fill_fraction(const Node& node, Bay& bay, Reading& in) {
  const auto share = read_quantity(node, Quantity::fraction, in);
  bay.fill_fraction = share.value_or(1.0);
  if (!share) return;
  if (!bay.batt)
    in.error(node.where, "only scraps of a batt have a fill fraction", "give the batt: batt: R-13");
  else if (!(*share >= least_density_share))
    in.error(node.where,
             fmt::format("a fill fraction can be reckoned from {:.0f} % up", 100.0 * least_density_share));
}

Bay read_bay(const Node& node, const Frame& frame, Reading& in) {
  Bay bay;
  bay.path = node.path;
  bay.clear_width = frame.spacing - frame.member_width;
  std::vector<std::string> words;
  if (node.kind == Node::Kind::scalar) {
    read_fill(node, false, bay, words, in);
    bay.label = fmt::format("{}", fmt::join(words, ", "));
    return bay;
  }
  const Fields fields(node, "a bay", {"batt", "fill", "fill fraction", "clear width", "gap", "box"}, in);
  const Node* batt = fields.optional("batt");
  const Node* fill = fields.optional("fill");
  if (fields.is_map() && (batt != nullptr) == (fill != nullptr))
    in.error(node.where, batt ? "this bay has a batt and another fill" : "this bay says nothing of its fill",
             "give one of batt: R-13, fill: MATERIAL, fill: nothing");
  else if (batt || fill)
    read_fill(batt ? *batt : *fill, batt != nullptr, bay, words, in);
  if (const Node* fraction = fields.optional("fill fraction")) read_fill_fraction(*fraction, bay, in);
  if (const Node* width = fields.optional("clear width"))
    bay.clear_width = read_size(width, in).value_or(unread);
  if (const Node* gap = fields.optional("gap")) bay.gap = read_gap(*gap, words, in);
  if (const Node* box = fields.optional("box")) bay.box = read_box(*box, in);
  bay.label = fmt::format("{}", fmt::join(words, ", "));
  return bay;
}

}  // namespace

Wall read_wall(const Node& node, Reading& in) {
  Wall wall;
  const Fields fields(node, "a wall", {"height", "layers", "frame", "bays"}, in);
  wall.air = find(in.library, "air space")->material;
  wall.height = read_size(fields.required("height"), in).value_or(unread);
  if (const Node* layers = fields.required("layers"))
    for (const Node& layer : read_list(*layers, "a list of layers", in))
      wall.layers.push_back(read_layer(layer, in));
  wall.frame.member_width = wall.frame.member_depth = wall.frame.spacing = unread;
  if (const Node* frame = fields.required("frame")) wall.frame = read_frame(*frame, in);
  if (const Node* bays = fields.required("bays"))
    for (const Node& bay : read_list(*bays, "a list of bays", in))
      wall.bays.push_back(read_bay(bay, wall.frame, in));
  return wall;
}

namespace {

/// What is left of a section's name in the names of its files.
std::string letters_of(std::string name) {
  std::erase_if(name, [](unsigned char c) { return std::isalnum(c) == 0 && c != '.'; });
  return name;
}

}  // namespace

std::vector<Cut> read_cuts(const Node& node, Reading& in) {
  std::vector<Cut> cuts;
  constexpr std::string_view plan = "plan at ";
  for (const Node& item : read_list(node, "a list of sections", in)) {
    if (item.kind != Node::Kind::scalar || !item.text.starts_with(plan)) {
      in.error(item.where, "a section is a cut through the wall", "write, for example, plan at 48 in");
      continue;
    }
    Node height = item;
    height.text = item.text.substr(plan.size());
    const auto same = std::find_if(cuts.begin(), cuts.end(),
                                   [&](const Cut& c) { return letters_of(c.name) == letters_of(item.text); });
    if (same != cuts.end())
      in.error(
          item.where, fmt::format("the section '{}' is already there", shortened(same->name)),
          "sections differ in the letters and digits of their names, since their files are named after them");
    if (const auto h = read_size(&height, in)) cuts.push_back({item.text, *h, item.path});
  }
  return cuts;
}

}  // namespace coldbay
