#include "tools/input/library_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <string>
#include <utility>

// materials/library.yaml, put into the program by the build (CMakeLists.txt, coldbay_embed).
extern "C" const char coldbay_library_begin[];
extern "C" const char coldbay_library_end[];

namespace coldbay {
namespace {

/// A batt: its label, measured at the temperature that stands here, gives its conductivity at every other.
void read_batt(const Node& node, LibraryEntry& entry, Reading& in) {
  const auto measured = read_quantity(node, Quantity::temperature, in);
  Material& m = entry.material;
  if (!measured || !entry.thickness || !(m.conductivity > 0.0)) return;
  if (m.law) {
    in.error(node.where, "a batt's conductivity by temperature follows from its label", "give it one number");
    return;
  }
  entry.batt = Batt{m.conductivity, *entry.thickness, *measured};
  if (!(*measured >= -20.0 && *measured <= 60.0)) {
    in.error(node.where, "no label is measured at that temperature", "usual are 24 °C (75 °F) and 10 °C");
    return;
  }
  m.law = batt_law(*entry.batt, label_density(*entry.batt));
  m.conductivity = conductivity_at(m, 10.0);
}

/// One material: a conductivity, or a resistance at a thickness.
std::optional<LibraryEntry> read_entry(const Node& node, const std::string& default_source, Reading& in) {
  const Fields fields(node, "a material",
                      {"name", "also", "conductivity", "along grain", "resistance", "thickness", "density",
                       "specific heat", "airflow resistivity", "emissivity", "batt", "air space", "source"},
                      in);
  if (!fields.is_map()) return std::nullopt;
  LibraryEntry entry;
  Material& m = entry.material;
  if (const Node* name = fields.required("name")) m.name = read_text(*name, "a name", in).value_or("");
  if (const Node* also = fields.optional("also"))
    for (const Node& word : read_list(*also, "a list of words", in)) entry.also.push_back(word.text);
  entry.thickness = read_size(fields.optional("thickness"), in);
  const Node* source = default_source.empty() ? fields.required("source") : fields.optional("source");
  m.source = source ? read_text(*source, "a source", in).value_or("") : default_source;
  read_properties(fields, m, in);
  const Node* batt = fields.optional("batt");
  if (batt && !entry.thickness) in.error(node.where, "a batt needs the thickness of its label");
  m.is_air_space = fields.optional("air space") != nullptr;
  if (m.is_air_space && m.airflow_resistivity)
    in.error(fields.optional("airflow resistivity")->where, "in an air space nothing resists the air",
             "leave it out: it follows from the size of the space");
  if (m.is_air_space) return entry;

  const Node* k = fields.optional("conductivity");
  const auto R = read_quantity(fields.optional("resistance"), Quantity::resistance, in);
  if (k)
    read_conductivity(*k, m, in);
  else if (R && *R > 0.0 && entry.thickness)
    m.conductivity = *entry.thickness / *R;
  else
    in.error(node.where, "a material needs a conductivity, or a resistance and its thickness",
             "write conductivity: 0.04 W/mK, or resistance: 2.3 m2K/W with thickness: 89 mm");
  if (batt) read_batt(*batt, entry, in);
  return entry;
}

/// Every name and other word of an entry.
std::vector<std::string> words_of(const LibraryEntry& entry) {
  std::vector<std::string> words = entry.also;
  words.push_back(entry.material.name);
  return words;
}

/// Reads a file of materials over a library.
Library read_over(Library library, const SourceText& source, const std::string& default_source) {
  const Node root = read_document(source);
  const Library none;
  Reading in{UnitSystem::metric, none, {}, {}};
  read_materials(root, library, default_source, in);
  if (!in.errors.empty()) throw InputErrors(std::move(in.errors));
  return library;
}

}  // namespace

const Library& built_in_library() {
  static const Library library =
      read_over({}, {"materials/library.yaml", std::string(coldbay_library_begin, coldbay_library_end)}, "");
  return library;
}

Library library_with(const SourceText& own) {
  return read_over(built_in_library(), own, fmt::format("given in {}", own.name));
}

void read_properties(const Fields& fields, Material& m, Reading& in) {
  m.density = read_quantity(fields.optional("density"), Quantity::density, in);
  m.specific_heat = read_quantity(fields.optional("specific heat"), Quantity::specific_heat, in);
  m.airflow_resistivity =
      read_quantity(fields.optional("airflow resistivity"), Quantity::airflow_resistivity, in);
  m.along_grain = read_quantity(fields.optional("along grain"), Quantity::conductivity, in);
  if (const Node* e = fields.optional("emissivity")) {
    m.emissivity = read_quantity(e, Quantity::fraction, in).value_or(0.9);
    if (m.emissivity == 0.0) in.error(e->where, "an emissivity lies above 0 and at most at 1");
  }
}

bool read_conductivity(const Node& node, Material& m, Reading& in) {
  if (node.kind != Node::Kind::map) {
    const auto k = read_quantity(node, Quantity::conductivity, in);
    m.conductivity = k.value_or(unread);
    return k.has_value();
  }
  const Fields fields(node, "a conductivity by temperature",
                      {"at 0 °C", "per K", "per K2", "per K3", "from", "to"}, in);
  const std::size_t errors = in.errors.size();
  const auto number = [&](const char* key) {
    const Node* n = fields.optional(key);
    return n ? read_quantity(*n, Quantity::number, in).value_or(0.0) : 0.0;
  };
  TemperatureLaw law;
  law.k0 = read_quantity(fields.required("at 0 °C"), Quantity::conductivity, in).value_or(unread);
  law.k1 = number("per K");
  law.k2 = number("per K2");
  law.k3 = number("per K3");
  law.from = read_quantity(fields.required("from"), Quantity::temperature, in).value_or(unread);
  law.to = read_quantity(fields.required("to"), Quantity::temperature, in).value_or(unread);
  if (in.errors.size() != errors) return false;
  m.law = law;
  m.conductivity = conductivity_at(m, 10.0);
  if (!(law.from < law.to)) {
    in.error(node.where, "this law holds from no temperature to another", "write 'from' below 'to'");
    return false;
  }
  // A cubic may dip below zero between its ends: look at every hundredth of the range.
  for (int i = 0; i <= 100; ++i)
    if (!(conductivity_at(m, law.from + (law.to - law.from) * i / 100.0) > 0.0)) {
      in.error(node.where, "this law gives a conductivity that is not above 0 within its own range");
      return false;
    }
  return true;
}

void read_materials(const Node& list, Library& library, const std::string& default_source, Reading& in) {
  Library read;
  for (const Node& node : read_list(list, "a list of materials", in)) {
    auto entry = read_entry(node, default_source, in);
    if (!entry) continue;
    for (const std::string& word : words_of(*entry))
      if (const LibraryEntry* other = find(read, word))
        in.error(node.where, fmt::format("'{}' is the name of two materials", word),
                 fmt::format("it is a word for {} already", other->material.name));
    read.push_back(std::move(*entry));
  }
  for (LibraryEntry& entry : read) {
    // The newcomer takes its names: an old entry gives way, or loses the one word.
    for (const std::string& word : words_of(entry)) {
      std::erase_if(library, [&](const LibraryEntry& old) { return same_name(old.material.name, word); });
      for (LibraryEntry& old : library)
        std::erase_if(old.also, [&](const std::string& w) { return same_name(w, word); });
    }
    library.push_back(std::move(entry));
  }
}

}  // namespace coldbay
