#include "tools/input/material_reader.hpp"

#include <fmt/format.h>

#include <string>
#include <utility>

#include "tools/input/nearest_word.hpp"

// materials/library.yaml, put into the program by the build (CMakeLists.txt, coldbay_embed).
extern "C" const char coldbay_library_begin[];
extern "C" const char coldbay_library_end[];

namespace coldbay {
namespace {

/// One entry of the library: a conductivity, or a resistance at a thickness.
std::optional<LibraryEntry> read_entry(const Node& node, Reading& in) {
  const Fields fields(node, "a material of the library",
                      {"name", "also", "conductivity", "resistance", "thickness", "emissivity", "batt",
                       "air space", "source"},
                      in);
  LibraryEntry entry;
  if (const Node* name = fields.required("name"))
    entry.material.name = read_text(*name, "a name", in).value_or("");
  if (const Node* also = fields.optional("also"))
    for (const Node& word : read_list(*also, "a list of words", in)) entry.also.push_back(word.text);
  entry.thickness = read_size(fields.optional("thickness"), in);
  if (const Node* source = fields.required("source"))
    entry.material.source = read_text(*source, "a source", in).value_or("");
  if (const auto e = read_quantity(fields.optional("emissivity"), Quantity::fraction, in))
    entry.material.emissivity = *e;
  entry.is_batt = fields.optional("batt") != nullptr;
  entry.material.is_air_space = fields.optional("air space") != nullptr;
  if (entry.material.is_air_space) return entry;

  const auto k = read_quantity(fields.optional("conductivity"), Quantity::conductivity, in);
  const auto R = read_quantity(fields.optional("resistance"), Quantity::resistance, in);
  if (k)
    entry.material.conductivity = *k;
  else if (R && *R > 0.0 && entry.thickness)
    entry.material.conductivity = *entry.thickness / *R;
  else
    in.error(node.where, "a material needs a conductivity, or a resistance and its thickness");
  return entry;
}

Library read_library() {
  const SourceText source{"materials/library.yaml", std::string(coldbay_library_begin, coldbay_library_end)};
  const Node root = read_document(source);
  Library library;
  const Library none;
  Reading in{UnitSystem::metric, none, {}, {}};
  for (const Node& node : read_list(root, "a list of materials", in))
    if (auto entry = read_entry(node, in)) {
      if (find(library, entry->material.name))
        in.error(node.where, fmt::format("'{}' is already in the library", entry->material.name));
      library.push_back(std::move(*entry));
    }
  if (!in.errors.empty()) throw InputErrors(std::move(in.errors));
  return library;
}

}  // namespace

const Library& built_in_library() {
  static const Library library = read_library();
  return library;
}

const LibraryEntry* find_material(std::string_view name, Place where, Reading& in) {
  if (const LibraryEntry* entry = find(in.library, name)) return entry;
  std::vector<std::string> known;
  for (const LibraryEntry& entry : in.library) {
    known.push_back(entry.material.name);
    known.insert(known.end(), entry.also.begin(), entry.also.end());
  }
  const std::string near = nearest_word(name, known);
  in.error(where, fmt::format("no material is called '{}'", quoted(name)),
           fmt::format("{}'coldbay materials' lists all; or give {{conductivity: 0.04 W/mK}}",
                       near.empty() ? "" : fmt::format("did you mean '{}'? ", near)));
  return nullptr;
}

std::optional<LibraryEntry> read_material(const Node& node, Reading& in) {
  if (node.kind == Node::Kind::scalar) {
    const LibraryEntry* entry = find_material(node.text, node.where, in);
    return entry ? std::optional(*entry) : std::nullopt;
  }
  const Fields fields(node, "a material", {"conductivity", "name", "source"}, in);
  const auto k = read_quantity(fields.required("conductivity"), Quantity::conductivity, in);
  if (!k) return std::nullopt;
  LibraryEntry own;
  own.material.conductivity = *k;
  own.material.name = fmt::format("conductivity {}", fields.required("conductivity")->text);
  own.material.source = "given in the case";
  if (const Node* name = fields.optional("name"))
    own.material.name = read_text(*name, "a name", in).value_or("");
  if (const Node* source = fields.optional("source"))
    own.material.source = "given in the case: " + read_text(*source, "a source", in).value_or("");
  return own;
}

std::optional<Piece> read_piece(const Node& node, std::string_view what, Reading& in) {
  if (node.kind == Node::Kind::scalar) {
    const LibraryEntry* whole = find(in.library, node.text);  // a name may end in a number, as batts do
    if (whole) return Piece{whole->material, whole->thickness};
    const WordsAndNumber parts = split_number(node.text);
    const LibraryEntry* entry = find_material(parts.words, node.where, in);
    if (!entry) return std::nullopt;
    Piece piece{entry->material, entry->thickness};
    if (!parts.number.empty()) {
      Node number = node;
      number.text = parts.number;
      piece.thickness = read_size(&number, in).value_or(unread);
    }
    return piece;
  }
  const Fields fields(node, what, {"material", "thickness"}, in);
  const Node* material = fields.required("material");
  const auto entry = material ? read_material(*material, in) : std::nullopt;
  if (!entry) return std::nullopt;
  Piece piece{entry->material, entry->thickness};
  if (const Node* t = fields.optional("thickness")) piece.thickness = read_size(t, in).value_or(unread);
  return piece;
}

}  // namespace coldbay
