#include "tools/input/service_reader.hpp"

#include <fmt/core.h>

#include <utility>

namespace coldbay {
namespace {

double usual(const Node* written, double size, Reading& in) {
  return written ? read_size(written, in).value_or(unread) : size;
}

/// One thing or a list of them.
template <class F>
void each(const Node* node, F read) {
  if (!node) return;
  if (node->kind != Node::Kind::sequence) return read(*node);
  for (const Node& item : node->items) read(item);
}

Side read_stud(const Node* node, std::string_view what, Reading& in) {
  return node && read_choice(*node, what, {"left", "right"}, in) == std::size_t{1} ? Side::right : Side::left;
}

void read_behind(const Fields& fields, Enclosure& box, Reading& in) {
  using Behind = Enclosure::Behind;
  if (const Node* behind = fields.optional("behind")) {
    const auto word =
        read_choice(*behind, "what is behind it", {"open", "filled", "squeezed", "piece", "foam"}, in);
    box.behind = static_cast<Behind>(word.value_or(0));
  }
  box.foam = find(in.library, "open-cell spray foam")->material;
  const Node* piece = fields.optional("piece");
  if (piece) box.piece = read_size(piece, in).value_or(unread);
  if (!piece && box.behind == Behind::piece) fields.required("piece");
  if (piece && box.behind != Behind::piece)
    in.error(piece->where, "a thickness of the piece goes with behind: piece", "leave one of them out");
  if (const Node* margin = fields.optional("margin")) box.margin = read_amount(*margin, in);
}

const char* words_of(Enclosure::Behind behind) {
  constexpr const char* words[]{"open", "filled", "batt squeezed", "a thin piece", "foamed"};
  return words[static_cast<int>(behind)];
}

bool is_steel(const Fields& fields, std::string_view what, bool usually, Reading& in) {
  const Node* material = fields.optional("material");
  if (!material) return usually;
  return read_choice(*material, what, {"plastic", "steel"}, in) == std::size_t{1};
}

/// The usual single box: 57 mm wide, 95 mm high, 70 mm deep; walls of 1.6 mm steel or 2.5 mm plastic.
/// Common practice, no source.
Enclosure read_box(const Node& node, Reading& in) {
  Enclosure box;
  box.path = node.path;
  const Fields fields(
      node, "a box",
      {"at", "behind", "piece", "margin", "material", "stud", "height", "width", "depth", "wall"}, in);
  const bool steel = is_steel(fields, "a material of a box", false, in);
  box.centre = read_size(fields.required("at"), in).value_or(unread);
  box.height = usual(fields.optional("height"), 0.095, in);
  box.width = usual(fields.optional("width"), 0.057, in);
  box.depth = usual(fields.optional("depth"), 0.070, in);
  box.wall = usual(fields.optional("wall"), steel ? 0.0016 : 0.0025, in);
  box.material = find(in.library, steel ? "steel" : "rigid plastic")->material;
  box.cover = find(in.library, "rigid plastic")->material;
  box.stud = read_stud(fields.optional("stud"), "the stud of a box", in);
  fields.required("behind", "write behind: open, filled, squeezed, piece or foam");
  read_behind(fields, box, in);
  box.label = fmt::format("{} box, {} behind", steel ? "steel" : "plastic", words_of(box.behind));
  return box;
}

/// A cabinet as wide as its bay and as deep as the frame; steel of 1.2 mm. Common practice, no source.
Enclosure read_cabinet(const Node& node, const BaySpace& space, const Bay& bay, Reading& in) {
  Enclosure box;
  box.kind = Enclosure::Kind::cabinet;
  box.path = node.path;
  const Fields fields(
      node, "a cabinet",
      {"at", "behind", "piece", "margin", "material", "stud", "height", "width", "depth", "wall"}, in);
  const bool steel = is_steel(fields, "a material of a cabinet", true, in);
  box.centre = read_size(fields.required("at"), in).value_or(unread);
  box.height = read_size(fields.required("height"), in).value_or(unread);
  box.width = usual(fields.optional("width"), bay.clear_width, in);
  box.depth = usual(fields.optional("depth"), space.frame_from + 0.75 * space.frame_depth, in);
  box.wall = usual(fields.optional("wall"), steel ? 0.0012 : 0.003, in);
  box.material = find(in.library, steel ? "steel" : "rigid plastic")->material;
  if (!steel) box.cover = box.material;
  box.stud = read_stud(fields.optional("stud"), "the stud of a cabinet", in);
  read_behind(fields, box, in);
  box.label =
      fmt::format("recessed {} cabinet, {} behind", steel ? "steel" : "plastic", words_of(box.behind));
  return box;
}

/// A flat duct of 0.6 mm steel that runs up the bay, still air in it. Common practice, no source.
Enclosure read_duct(const Node& node, const BaySpace& space, Reading& in) {
  Enclosure duct;
  duct.kind = Enclosure::Kind::duct;
  duct.path = node.path;
  const Fields fields(node, "a duct",
                      {"width", "depth", "behind", "piece", "margin", "material", "stud", "wall"}, in);
  const bool steel = is_steel(fields, "a material of a duct", true, in);
  duct.width = read_size(fields.required("width"), in).value_or(unread);
  duct.depth = read_size(fields.required("depth"), in).value_or(unread);
  duct.front = space.frame_from;
  duct.wall = usual(fields.optional("wall"), steel ? 0.0006 : 0.003, in);
  duct.material = find(in.library, steel ? "steel" : "rigid plastic")->material;
  duct.stud = read_stud(fields.optional("stud"), "the stud of a duct", in);
  read_behind(fields, duct, in);
  duct.label = fmt::format("duct, {} behind", words_of(duct.behind));
  return duct;
}

/// Where a run passes, and how the batt lies to it.
void read_passage(const Fields& fields, const Node& node, const BaySpace& space, ServiceRun& run,
                  Reading& in) {
  const Node *at = fields.optional("at"), *across = fields.optional("across");
  if ((at != nullptr) == (across != nullptr))
    in.error(
        node.where, at ? "this runs across and up at once" : "where does this run?",
        "at: its height above the floor where it runs from stud to stud, or across: its distance from the "
        "left stud where it runs up");
  run.runs_up = across != nullptr;
  run.at = read_size(run.runs_up ? across : at, in).value_or(unread);
  run.depth = usual(fields.optional("depth"), 0.5 * space.frame_depth, in);
  if (const Node* batt =
          fields.required("batt", "how does the batt lie to it? batt: over, split or behind")) {
    const auto laid = read_choice(*batt, "how the batt lies to it", {"over", "split", "behind"}, in);
    run.laid = static_cast<ServiceRun::Laid>(laid.value_or(1));
  }
  if (const Node* pocket = fields.optional("pocket")) run.pocket = read_size(pocket, in).value_or(unread);
  run.path = node.path;
}

const char* words_of(ServiceRun::Laid laid) {
  constexpr const char* words[]{"the batt pushed over it", "the batt split round it", "the batt behind it"};
  return words[static_cast<int>(laid)];
}

/// 10 mm thick, as a usual cable of three wires. Common practice, no source.
ServiceRun read_cable(const Node& node, const BaySpace& space, Reading& in) {
  ServiceRun run;
  const Fields fields(node, "a cable", {"diameter", "at", "across", "depth", "batt", "pocket"}, in);
  run.diameter = usual(fields.optional("diameter"), 0.010, in);
  run.material = find(in.library, "cable")->material;
  read_passage(fields, node, space, run, in);
  run.label = fmt::format("cable, {}", words_of(run.laid));
  return run;
}

/// 22 mm outside; copper of 0.9 mm, pex of 3 mm or steel of 2.6 mm, water in it. Common practice, no source.
ServiceRun read_pipe(const Node& node, const BaySpace& space, Reading& in) {
  ServiceRun run;
  run.kind = ServiceRun::Kind::pipe;
  const Fields fields(
      node, "a pipe",
      {"diameter", "wall", "material", "at", "across", "depth", "batt", "pocket", "temperature"}, in);
  std::size_t which = 0;
  if (const Node* material = fields.optional("material"))
    which = read_choice(*material, "a material of a pipe", {"copper", "pex", "steel"}, in).value_or(0);
  constexpr const char* names[]{"copper", "pex pipe", "steel"};
  constexpr double walls[]{0.0009, 0.003, 0.0026};
  run.diameter = usual(fields.optional("diameter"), 0.022, in);
  run.wall = usual(fields.optional("wall"), walls[which], in);
  run.material = find(in.library, names[which])->material;
  run.inside = find(in.library, "water")->material;
  if (const Node* t = fields.optional("temperature"))
    run.temperature = read_quantity(*t, Quantity::temperature, in).value_or(unread);
  read_passage(fields, node, space, run, in);
  run.label = fmt::format("pipe, {}", words_of(run.laid));
  return run;
}

/// 22 mm outside; steel of 1.2 mm or plastic of 2 mm, air in it. Common practice, no source.
ServiceRun read_conduit(const Node& node, const BaySpace& space, Reading& in) {
  ServiceRun run;
  run.kind = ServiceRun::Kind::conduit;
  const Fields fields(node, "a conduit",
                      {"diameter", "wall", "material", "at", "across", "depth", "batt", "pocket"}, in);
  const bool steel = is_steel(fields, "a material of a conduit", true, in);
  run.diameter = usual(fields.optional("diameter"), 0.022, in);
  run.wall = usual(fields.optional("wall"), steel ? 0.0012 : 0.002, in);
  run.material = find(in.library, steel ? "steel" : "rigid plastic")->material;
  run.inside = find(in.library, "air space")->material;
  read_passage(fields, node, space, run, in);
  run.label = fmt::format("{} conduit, {}", steel ? "steel" : "plastic", words_of(run.laid));
  return run;
}

}  // namespace

void read_services(const Node& node, const BaySpace& space, Bay& bay, Reading& in) {
  each(node.find("box"), [&](const Node& n) { bay.enclosures.push_back(read_box(n, in)); });
  each(node.find("cabinet"),
       [&](const Node& n) { bay.enclosures.push_back(read_cabinet(n, space, bay, in)); });
  each(node.find("duct"), [&](const Node& n) { bay.enclosures.push_back(read_duct(n, space, in)); });
  each(node.find("cable"), [&](const Node& n) { bay.runs.push_back(read_cable(n, space, in)); });
  each(node.find("pipe"), [&](const Node& n) { bay.runs.push_back(read_pipe(n, space, in)); });
  each(node.find("conduit"), [&](const Node& n) { bay.runs.push_back(read_conduit(n, space, in)); });
}

std::optional<Opening> read_opening(const Node& node, Reading& in) {
  Opening o;
  o.path = node.path;
  const Fields fields(node, "an opening", {"width", "sill", "head", "header", "jacks", "kings", "U"}, in);
  if (!fields.is_map()) return std::nullopt;
  o.width = read_size(fields.required("width"), in).value_or(unread);
  if (const Node* sill = fields.optional("sill")) o.sill = read_amount(*sill, in);
  o.head = read_size(fields.required("head"), in).value_or(unread);
  o.header = read_size(fields.required("header"), in).value_or(unread);
  if (const Node* n = fields.optional("jacks")) o.jacks = read_count(*n, 0, 6, in).value_or(1);
  if (const Node* n = fields.optional("U"))
    o.u_value = read_quantity(*n, Quantity::transmittance, in).value_or(unread);
  return o;
}

}  // namespace coldbay
