#include "tools/input/bay_reader.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

#include "geometry/wall/air_round.hpp"
#include "tools/input/material_reader.hpp"
#include "tools/input/section_reader.hpp"
#include "tools/input/service_reader.hpp"

namespace coldbay {
namespace {

using Phrases = std::vector<std::string>;

bool is_nothing(const Node& node) {
  return node.kind == Node::Kind::scalar &&
         (same_name(node.text, "nothing") || same_name(node.text, "none") || same_name(node.text, "empty"));
}

Gap read_gap(const Node& node, Phrases& words, Reading& in) {
  Gap gap;
  const Fields fields(node, "a gap", {"left", "right", "room", "sheathing", "top", "bottom"}, in);
  const auto side = [&](const char* key, double& size) {
    const Node* value = fields.optional(key);
    if (value) size = read_amount(*value, in);
    return size != 0.0 ? value : nullptr;
  };
  const Node *left = side("left", gap.left), *right = side("right", gap.right),
             *room = side("room", gap.room), *sheathing = side("sheathing", gap.sheathing),
             *top = side("top", gap.top), *bottom = side("bottom", gap.bottom);
  const auto say = [&words](const char* what, const Node* size, const char* where) {
    if (size) words.push_back(fmt::format("{} {} {}", what, size->text, where));
  };
  const auto alike = [](const Node* a, const Node* b) { return a && b && a->text == b->text; };
  say("gap", left, "left");
  say("gap", right, "right");
  if (alike(room, sheathing)) {
    words.push_back(fmt::format("{} of air on both faces", room->text));
  } else {
    say("gap", room, "on the room side");
    say("gap", sheathing, "on the sheathing side");
  }
  if (alike(top, bottom)) {
    say("open", top, "at top and bottom");
  } else {
    say("open", top, "at the top");
    say("open", bottom, "at the bottom");
  }
  return gap;
}

Fill fill_of(const LibraryEntry& entry, std::optional<double> written = {}) {
  Fill fill{entry.material, entry.batt, 0.0};
  if (entry.batt)
    fill.thickness = entry.batt->thickness;
  else if (written)
    fill.thickness = *written;
  return fill;
}

/// Stands for a fill whose name is not known: the checks of the wall say nothing of it.
Fill unread_fill() { return {{}, Batt{unread, unread}, unread}; }

/// What a bay is filled with, by name: a batt by its label, any other material, or nothing.
std::optional<Fill> read_fill(const Node& node, bool is_batt_label, Phrases& words, Reading& in) {
  if (is_nothing(node)) {
    words.emplace_back("empty");
    return std::nullopt;
  }
  std::optional<LibraryEntry> entry;
  if (is_batt_label && node.kind == Node::Kind::scalar) {
    const LibraryEntry* batt = find_material("batt " + node.text, node.where, in);
    if (batt) entry = *batt;
  } else {
    entry = read_material(node, in);
  }
  if (!entry) return unread_fill();
  words.push_back(entry->material.name);
  return fill_of(*entry);
}

/// Several fills, room outward: batts by their label, others as thick as written, one of which may take the
/// rest.
void read_fills(const Node& node, Bay& bay, Phrases& words, Reading& in) {
  for (const Node& item : read_list(node, "a list of fills", in)) {
    if (item.kind == Node::Kind::scalar)
      if (const LibraryEntry* entry = find(in.library, item.text)) {
        bay.fills.push_back(fill_of(*entry));
        words.push_back(entry->material.name);
        continue;
      }
    const auto piece = read_piece(item, "a fill", in);
    if (!piece) {
      bay.fills.push_back(unread_fill());
      continue;
    }
    bay.fills.push_back({piece->material, {}, piece->thickness.value_or(0.0)});
    words.push_back(piece->thickness ? item.text : piece->material.name);
  }
  const auto takers =
      std::count_if(bay.fills.begin(), bay.fills.end(), [](const Fill& f) { return f.thickness == 0.0; });
  if (takers > 1)
    in.error(node.where, "two of these fills are to take what is left", "give all but one a thickness");
}

/// How much of a whole batt's fibre its scraps bring into the bay: 100 % is as much as the batt has itself.
void read_scraps(const Node* fraction, const Node* scraps, Bay& bay, Phrases& words, Reading& in) {
  if (!fraction && !scraps) return;
  if (fraction) {
    const auto share = read_quantity(*fraction, Quantity::fraction, in);
    bay.fill_fraction = share.value_or(1.0);
    if (share && !(*share >= least_density_share))
      in.error(fraction->where,
               fmt::format("a fill fraction can be reckoned from {:.0f} % up", 100.0 * least_density_share));
    if (bay.fills.empty() || !bay.fills[0].batt)
      in.error(fraction->where, "only scraps of a batt have a fill fraction", "give the batt: batt: R-13");
  }
  if (scraps) {
    bay.scraps.emplace();
    if (!fraction) bay.fill_fraction = 0.8;  // common practice, no source
    if (scraps->kind == Node::Kind::scalar) {
      read_choice(*scraps, "how scraps lie", {"stuffed"}, in);
    } else {
      const Fields fields(*scraps, "scraps", {"seed", "seeds", "lump", "pockets"}, in);
      Scraps& s = *bay.scraps;
      if (const Node* n = fields.optional("seed"))
        s.seed = static_cast<std::uint64_t>(read_count(*n, 0, 1'000'000, in).value_or(1));
      if (const Node* n = fields.optional("seeds")) s.seeds = read_count(*n, 1, 100, in).value_or(12);
      if (const Node* n = fields.optional("lump")) s.lump = read_size(n, in).value_or(unread);
      if (s.lump < 0.01)
        in.error(scraps->where, "scraps smaller than 10 mm are no scraps", "a usual lump is 40 to 60 mm");
      if (const Node* n = fields.optional("pockets")) {
        s.pockets = read_quantity(*n, Quantity::fraction, in).value_or(0.0);
        if (s.pockets > 0.5)
          in.error(n->where, "with more than half of it air this is no fill", "a usual share is 5 to 20 %");
      }
    }
  }
  words.push_back(fmt::format("{} scraps, {:.0f} % of its fibre", scraps ? "stuffed with" : "thin",
                              100.0 * *bay.fill_fraction));
}

/// Where an end is: the word of the key `at`, for a batt too short or too long.
BayEnd read_end(const Node* at, BayEnd usual, Reading& in) {
  if (!at) return usual;
  return read_choice(*at, "an end of the batt", {"bottom", "top"}, in) == std::size_t{1} ? BayEnd::top
                                                                                         : BayEnd::bottom;
}

const char* word(BayEnd end) { return end == BayEnd::top ? "top" : "bottom"; }

void read_length(const Fields& fields, Bay& bay, Phrases& words, Reading& in) {
  const Node *at = fields.optional("at"), *end = fields.optional("end");
  const Node *too_short = fields.optional("short"), *folded = fields.optional("folded");
  if (too_short) {
    ShortEnd s{read_amount(*too_short, in), read_end(at, BayEnd::top, in)};
    s.filled = end && read_choice(*end, "what is at the short end", {"open", "filled"}, in) == std::size_t{1};
    words.push_back(
        fmt::format("{} short at the {}{}", too_short->text, word(s.at), s.filled ? ", filled" : ""));
    if (s.by != 0.0) bay.short_end = s;
  }
  if (folded) {
    const FoldedEnd f{read_amount(*folded, in), read_end(at, BayEnd::bottom, in)};
    words.push_back(fmt::format("{} folded under at the {}", folded->text, word(f.at)));
    if (f.by != 0.0) bay.folded = f;
  }
  if (at && !too_short && !folded)
    in.error(at->where, "'at' says which end is short or folded", "give short: 2 in, or folded: 3 in");
  if (end && !too_short) in.error(end->where, "'end' says what is at a short end", "give short: 2 in");
}

void read_width(const Fields& fields, Bay& bay, Phrases& words, Reading& in) {
  const Node *width = fields.optional("width"), *strip = fields.optional("strip"),
             *beside = fields.optional("beside"), *flange = fields.optional("flange");
  for (const Node* n : {strip, beside, flange})
    if (n && !width)
      in.error(n->where, "this speaks of a batt whose width is not that of its bay", "give its width: 13 in");
  if (!width) return;
  bay.width = read_size(width, in).value_or(unread);
  words.push_back(fmt::format("cut {} wide", width->text));
  if (strip && read_choice(*strip, "the side of the strip", {"left", "right"}, in) == std::size_t{0})
    bay.strip = Side::left;
  if (beside)
    bay.strip_filled = read_choice(*beside, "what is beside it", {"open", "filled"}, in) == std::size_t{1};
  if (flange)
    bay.flange_stretched = read_choice(*flange, "a flange", {"stretched", "trimmed"}, in) == std::size_t{0};
  if (bay.strip_filled) words.emplace_back("the strip beside it filled");
  if (bay.flange_stretched) words.emplace_back("the flange stretched over the strip");
  bay.faced = bay.flange_stretched;  // a flange is the edge of a facing
}

/// Inset pockets as wide and deep as an inspection scheme allows at most: 2 in from the stud, 3/4 in deep
/// ([CEC2008], seen).
void read_staples(const Node& node, Bay& bay, Phrases& words, Reading& in) {
  InsetStaples s{0.01905, 0.0508, false};
  if (node.kind != Node::Kind::map) {
    const auto how = read_choice(node, "how a batt is stapled (or a map: {depth: 3/4 in, pocket: 2 in})",
                                 {"none", "face", "inset"}, in);
    words.emplace_back(how == std::size_t{0}   ? "friction fit"
                       : how == std::size_t{1} ? "face-stapled"
                                               : "inset-stapled");
    if (how == std::size_t{2}) bay.staples = s;
    bay.faced = bay.faced || how != std::size_t{0};  // staples go through the flanges of a facing
    return;
  }
  const Fields fields(node, "inset staples", {"depth", "pocket", "shape"}, in);
  if (const Node* n = fields.optional("depth")) s.depth = read_amount(*n, in);
  if (const Node* n = fields.optional("pocket")) s.pocket = read_size(n, in).value_or(unread);
  if (const Node* n = fields.optional("shape"))
    s.square = read_choice(*n, "the shape of the pocket", {"tapered", "square"}, in) == std::size_t{1};
  words.emplace_back("inset-stapled");
  bay.faced = true;
  if (s.depth != 0.0) bay.staples = s;
}

/// Whether the batt has an airtight facing: where it is fixed by one, it has.
void read_facing(const Fields& fields, Bay& bay, Phrases& words, Reading& in) {
  const Node* faced = fields.optional("faced");
  if (!faced) return;
  if (bay.fills.empty())
    in.error(faced->where, "there is nothing in this bay that has a facing", "leave it out");
  const auto is = read_choice(*faced, "whether a batt is faced", {"false", "true"}, in);
  if (is == std::size_t{0} && bay.faced)
    in.error(faced->where, "a batt held by its flange has a facing", "leave 'faced' out");
  if (is == std::size_t{1}) words.emplace_back("faced");
  bay.faced = bay.faced || is == std::size_t{1};
}

/// A level that has dropped: a length, or a share of the bay's height.
double read_drop(const Node& node, const BaySpace& space, Reading& in) {
  if (node.kind == Node::Kind::scalar && node.text.ends_with('%'))
    return space.height * read_quantity(node, Quantity::fraction, in).value_or(unread);
  return read_amount(node, in);
}

void read_void(const Node& node, Bay& bay, Reading& in) {
  const Fields fields(node, "a void", {"along", "across", "up", "depth", "polygon", "circle"}, in);
  if (!fields.is_map()) return;
  Void v;
  v.path = node.path;
  const Node* along = fields.optional("along");
  if (along && read_choice(*along, "a way of a void", {"up", "across"}, in) == std::size_t{1})
    v.along = Direction::across;
  const bool up = v.along == Direction::up;
  if (const Node* reach = fields.optional(up ? "up" : "across"))
    if (const auto p = read_pair(*reach, "a stretch", in)) {
      v.reach = Span{p->first, p->second};
      if (p->first >= p->second)
        in.error(reach->where, "this stretch runs backwards", "write the smaller number first");
    }
  const auto outline = read_outline(node, fields, up ? "across" : "up", in);
  if (!outline) return;
  v.outline = *outline;
  bay.voids.push_back(std::move(v));
}

/// Of a fill with air on both faces: where the two are joined, unless that is said by its gaps already.
void say_joined(const Bay& bay, const BaySpace& space, Phrases& words) {
  if (bay.opening) return;
  const AirRoundFill air = air_round(bay, {{0.0, bay.clear_width},
                                           {0.0, space.height},
                                           {space.frame_from, space.frame_from + space.frame_depth}});
  if (!air.on_both_faces()) return;
  Phrases ends, sides;
  if (air.top) ends.emplace_back("top");
  if (air.bottom) ends.emplace_back("bottom");
  if (air.left) sides.emplace_back("left");
  if (air.right) sides.emplace_back("right");
  const bool by_gaps = (bay.gap.top > 0.0) == air.top && (bay.gap.bottom > 0.0) == air.bottom;
  if (ends.empty() && sides.empty())
    words.emplace_back("ends and sides closed");
  else if (!by_gaps || !sides.empty())
    words.push_back(fmt::format("joined {}{}{}",
                                ends.empty() ? "" : fmt::format("at {}", fmt::join(ends, " and ")),
                                ends.empty() || sides.empty() ? "" : ", ",
                                sides.empty() ? "" : fmt::format("along {}", fmt::join(sides, " and "))));
}

}  // namespace

double read_amount(const Node& node, Reading& in) {
  const auto size = parse_quantity(node.text, Quantity::length, in.system);
  if (node.kind == Node::Kind::scalar && std::holds_alternative<double>(size) &&
      std::get<double>(size) == 0.0)
    return 0.0;
  return read_size(&node, in).value_or(unread);
}

Bay read_bay(const Node& node, const BaySpace& space, Reading& in) {
  Bay bay;
  bay.path = node.path;
  bay.clear_width = space.usual_width;
  Phrases words;
  if (node.kind == Node::Kind::scalar) {
    if (const auto fill = read_fill(node, false, words, in)) bay.fills = {*fill};
    bay.label = fmt::format("{}", fmt::join(words, ", "));
    return bay;
  }
  const Fields fields(
      node, "a bay",
      {"batt",      "fill",    "layers",  "right",     "clear width",   "gap",     "width",  "strip",
       "beside",    "flange",  "short",   "at",        "end",           "folded",  "fallen", "settled",
       "thickness", "against", "staples", "shoulders", "fill fraction", "scraps",  "void",   "box",
       "cabinet",   "duct",    "cable",   "pipe",      "conduit",       "opening", "faced"},
      in);
  const Node *batt = fields.optional("batt"), *fill = fields.optional("fill"),
             *layers = fields.optional("layers"), *opening = fields.optional("opening");
  const int fills = (batt ? 1 : 0) + (fill ? 1 : 0) + (layers ? 1 : 0);
  if (fields.is_map() && (fills > 1 || (fills == 0 && !opening)))
    in.error(node.where,
             fills > 1 ? "this bay has a batt and another fill" : "this bay says nothing of its fill",
             "give one of batt: R-13, fill: MATERIAL, fill: nothing, layers: [...]");
  else if (layers)
    read_fills(*layers, bay, words, in);
  else if (batt || fill)
    if (const auto one = read_fill(batt ? *batt : *fill, batt != nullptr, words, in)) bay.fills = {*one};
  if (const Node* width = fields.optional("clear width"))
    bay.clear_width = read_size(width, in).value_or(unread);
  if (const Node* right = fields.optional("right"))
    if (const auto entry = read_material(*right, in)) bay.intended = fill_of(*entry);
  if (const Node* gap = fields.optional("gap")) bay.gap = read_gap(*gap, words, in);
  read_width(fields, bay, words, in);
  read_length(fields, bay, words, in);
  if (const Node* fallen = fields.optional("fallen")) {
    bay.fallen = read_drop(*fallen, space, in);
    words.push_back(fmt::format("slumped by {}", fallen->text));
  }
  if (const Node* settled = fields.optional("settled")) {
    bay.settled = read_drop(*settled, space, in);
    words.push_back(fmt::format("settled by {}", settled->text));
  }
  const Node *thickness = fields.optional("thickness"), *against = fields.optional("against");
  if (thickness) {
    bay.thickness = read_size(thickness, in).value_or(unread);
    if (against && read_choice(*against, "what it lies against", {"room", "sheathing"}, in) == std::size_t{1})
      bay.against = Face::sheathing;
    words.push_back(fmt::format("{} thick, against the {}", thickness->text,
                                bay.against == Face::room ? "lining" : "sheathing"));
  } else if (against) {
    in.error(against->where, "'against' says where a thin batt lies", "give its thickness: 2-1/2 in");
  }
  if (const Node* staples = fields.optional("staples")) read_staples(*staples, bay, words, in);
  read_facing(fields, bay, words, in);
  if (const Node* shoulders = fields.optional("shoulders")) {
    bay.shoulders = read_amount(*shoulders, in);
    words.push_back(fmt::format("shoulders rounded by {}", shoulders->text));
  }
  read_scraps(fields.optional("fill fraction"), fields.optional("scraps"), bay, words, in);
  if (const Node* voids = fields.optional("void")) {
    if (voids->kind == Node::Kind::sequence)
      for (const Node& item : voids->items) read_void(item, bay, in);
    else
      read_void(*voids, bay, in);
    words.emplace_back("a void in it");
  }
  if (opening) {
    bay.opening = read_opening(*opening, in);
    words.emplace_back("round an opening");
  }
  read_services(node, space, bay, in);
  if (in.errors.empty()) say_joined(bay, space, words);
  bay.label = fmt::format("{}", fmt::join(words, ", "));
  return bay;
}

}  // namespace coldbay
