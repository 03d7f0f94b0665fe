#include "tools/input/wall_reader.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string_view>
#include <utility>

#include "tools/input/bay_reader.hpp"
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

Frame read_frame(const Node& node, std::vector<double>& studs, Reading& in) {
  Frame frame;
  frame.member_width = frame.member_depth = frame.spacing = unread;
  const Fields fields(node, "a frame", {"member", "sheet", "spacing", "studs", "plates", "blocking"}, in);
  if (const Node* member = fields.required("member")) read_member(*member, frame, in);
  if (const Node* sheet = fields.optional("sheet")) frame.sheet = read_size(sheet, in).value_or(unread);
  const Node *spacing = fields.optional("spacing"), *placed = fields.optional("studs");
  if (placed) {
    if (spacing)
      in.error(placed->where, "studs at a spacing or placed one by one, not both", "leave one out");
    for (const Node& at : read_list(*placed, "the middles of the studs, left to right", in)) {
      studs.push_back(read_amount(at, in));
      if (studs.size() > 1 && studs.back() <= studs[studs.size() - 2])
        in.error(at.where, "this stud is not right of the one before", "give their middles left to right");
    }
    if (studs.size() < 2) in.error(placed->where, "a wall has two studs or more");
    frame.spacing = studs.size() < 2 ? unread : studs[1] - studs[0];
  } else {
    frame.spacing = read_size(fields.required("spacing"), in).value_or(unread);
  }
  if (const Node* plates = fields.optional("plates")) {
    const Fields counts(*plates, "plates", {"bottom", "top"}, in);
    if (const Node* n = counts.optional("bottom"))
      frame.bottom_plates = read_count(*n, 0, 10, in).value_or(1);
    if (const Node* n = counts.optional("top")) frame.top_plates = read_count(*n, 0, 10, in).value_or(1);
  }
  if (const Node* blocking = fields.optional("blocking")) {
    if (blocking->kind == Node::Kind::scalar)
      frame.blocking.push_back(read_size(blocking, in).value_or(unread));
    else
      for (const Node& row : read_list(*blocking, "heights of blocking", in))
        frame.blocking.push_back(read_size(&row, in).value_or(unread));
  }
  return frame;
}

/// What stands between bays, written among them: `studs: 2`, or at an end `corner: open`.
Post read_post(const Node& node, Reading& in) {
  Post post;
  post.path = node.path;
  const Fields fields(node, "what stands between bays", {"studs", "corner"}, in);
  const Node *studs = fields.optional("studs"), *corner = fields.optional("corner");
  if (studs && corner)
    in.error(node.where, "a corner says itself how many studs it has", "leave 'studs' out");
  if (studs) post.studs = read_count(*studs, 1, 6, in).value_or(1);
  if (!corner) return post;
  const auto kind = read_choice(*corner, "a corner", {"two-stud", "three-stud", "open"}, in).value_or(0);
  if (kind == 0) post.studs = 2;
  if (kind == 1) post.kind = Post::Kind::corner_three;
  if (kind == 2) post.kind = Post::Kind::corner_open;
  return post;
}

/// Bays and what stands between them, left to right. Between two bays there is one stud unless told.
void read_bays(const Node& node, const std::vector<double>& studs, BaySpace space, Wall& wall, Reading& in) {
  const double web = wall.frame.sheet.value_or(wall.frame.member_width);
  bool post_given = false;
  for (const Node& item : read_list(node, "a list of bays", in)) {
    if (is_post(item)) {
      if (post_given) in.error(item.where, "two posts follow each other", "write studs: 3 for all of them");
      wall.posts.resize(wall.bays.size() + 1);
      wall.posts.back() = read_post(item, in);
      if (!studs.empty() && (wall.posts.back().studs > 1 || wall.posts.back().kind != Post::Kind::studs))
        in.error(item.where, "studs placed one by one are single ones",
                 "give the studs a spacing, and each bay that is not as wide its clear width");
      post_given = true;
      continue;
    }
    const std::size_t b = wall.bays.size();
    if (studs.size() > b + 1) space.usual_width = studs[b + 1] - studs[b] - web;
    Bay bay = read_bay(item, space, in);
    const auto check_width = [&] {
      if (studs.size() > b + 1 && std::abs(bay.clear_width - space.usual_width) > slack)
        in.error(item.where,
                 fmt::format("this bay is {:.1f} mm wide, and its studs leave {:.1f} mm",
                             1e3 * bay.clear_width, 1e3 * space.usual_width),
                 "where the studs are placed one by one, their places say how wide the bays are");
    };
    wall.posts.resize(b + 1);
    if (bay.opening) {
      bay.clear_width = bay.opening->width + 2.0 * bay.opening->jacks * wall.frame.member_width;
      check_width();
      if (const Node* width = item.find("clear width"))
        in.error(width->where, "the opening says how wide this bay is", "leave 'clear width' out");
      const Node* kings = item.find("opening")->find("kings");
      const int n = kings ? read_count(*kings, 1, 6, in).value_or(1) : 1;
      if (post_given && kings)
        in.error(kings->where, "the posts beside this opening are given already",
                 "leave 'kings' out, or 'studs'");
      if (!post_given) wall.posts[b].studs = std::max(wall.posts[b].studs, n);
      wall.bays.push_back(std::move(bay));
      wall.posts.resize(b + 2);
      wall.posts[b + 1].studs = n;
    } else {
      check_width();
      wall.bays.push_back(std::move(bay));
    }
    post_given = false;
  }
  wall.posts.resize(wall.bays.size() + 1);
  if (!studs.empty() && !wall.bays.empty() && studs.size() != wall.bays.size() + 1)
    in.error(node.where,
             fmt::format("{} studs make {} bays, and {} are described", studs.size(), studs.size() - 1,
                         wall.bays.size()),
             "give a bay for every space between two studs");
}

}  // namespace

bool is_post(const Node& node) {
  return node.kind == Node::Kind::map && (node.find("studs") != nullptr || node.find("corner") != nullptr) &&
         node.find("batt") == nullptr && node.find("fill") == nullptr;
}

Wall read_wall(const Node& node, Reading& in) {
  Wall wall;
  const Fields fields(node, "a wall", {"height", "layers", "frame", "bays"}, in);
  wall.air = find(in.library, "air space")->material;
  wall.height = read_size(fields.required("height"), in).value_or(unread);
  if (const Node* layers = fields.required("layers"))
    for (const Node& layer : read_list(*layers, "a list of layers", in))
      wall.layers.push_back(read_layer(layer, in));
  wall.frame.member_width = wall.frame.member_depth = wall.frame.spacing = unread;
  std::vector<double> studs;
  if (const Node* frame = fields.required("frame")) wall.frame = read_frame(*frame, studs, in);
  const double plate = wall.frame.sheet.value_or(wall.frame.member_width);
  BaySpace space;
  space.usual_width = wall.frame.spacing - plate;
  space.height = wall.height - (wall.frame.bottom_plates + wall.frame.top_plates) * plate;
  space.frame_depth = wall.frame.member_depth;
  for (const Layer& layer : wall.layers) {
    if (layer.is_frame) break;
    space.frame_from += layer.thickness;
  }
  if (const Node* bays = fields.required("bays")) read_bays(*bays, studs, space, wall, in);
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
  constexpr std::string_view plan = "plan at ", bay = "vertical through bay ", vertical = "vertical at ";
  for (const Node& item : read_list(node, "a list of sections", in)) {
    const auto begins = [&](std::string_view words) {
      return item.kind == Node::Kind::scalar && item.text.starts_with(words);
    };
    const std::string_view words = begins(plan) ? plan : begins(bay) ? bay : begins(vertical) ? vertical : "";
    if (words.empty()) {
      in.error(item.where, "a section is a cut through the wall",
               "write plan at 48 in, vertical through bay 2, or vertical at 30 in");
      continue;
    }
    const auto same = std::find_if(cuts.begin(), cuts.end(),
                                   [&](const Cut& c) { return letters_of(c.name) == letters_of(item.text); });
    if (same != cuts.end())
      in.error(
          item.where, fmt::format("the section '{}' is already there", shortened(same->name)),
          "sections differ in the letters and digits of their names, since their files are named after them");
    Node place = item;
    place.text = item.text.substr(words.size());
    Cut cut{item.text, words == plan ? Cut::Kind::plan : Cut::Kind::vertical, 0.0, 0, item.path};
    if (words == bay) {
      const auto number = read_count(place, 1, 100'000, in);
      if (!number) continue;
      cut.bay = static_cast<std::size_t>(*number);
    } else {
      const auto at = read_size(&place, in);
      if (!at) continue;
      cut.at = *at;
    }
    cuts.push_back(cut);
  }
  return cuts;
}

}  // namespace coldbay
