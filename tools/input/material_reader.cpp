#include "tools/input/material_reader.hpp"

#include <fmt/core.h>

#include <string>
#include <utility>

#include "tools/input/library_reader.hpp"
#include "tools/input/nearest_word.hpp"

namespace coldbay {
namespace {

/// "osb 11 kg" is a known material and a number that is wrong, not a material nobody knows.
WordsAndNumber words_and_number(const std::string& text, const Library& library) {
  WordsAndNumber parts = split_number(text);
  if (!parts.number.empty()) return parts;
  const auto digit = text.find_first_of("0123456789");
  if (digit == std::string::npos || digit == 0 || text[digit - 1] != ' ') return parts;
  const std::string words = text.substr(0, digit - 1);
  return find(library, words) ? WordsAndNumber{words, text.substr(digit)} : parts;
}

}  // namespace

const LibraryEntry* find_material(std::string_view name, Place where, Reading& in) {
  if (const LibraryEntry* entry = find(in.library, name)) return entry;
  std::vector<std::string> known;
  for (const LibraryEntry& entry : in.library) {
    known.push_back(entry.material.name);
    known.insert(known.end(), entry.also.begin(), entry.also.end());
  }
  const std::string as_batt = fmt::format("batt {}", name);
  const std::string near = find(in.library, as_batt) ? as_batt : nearest_word(name, known);
  in.error(where, fmt::format("no material is called '{}'", shortened(name)),
           fmt::format("{}'coldbay materials' lists all; or give {{conductivity: 0.04 W/mK}}",
                       near.empty() ? "" : fmt::format("did you mean '{}'? ", near)));
  return nullptr;
}

std::optional<LibraryEntry> read_material(const Node& node, Reading& in) {
  if (node.kind == Node::Kind::scalar) {
    const LibraryEntry* entry = find_material(node.text, node.where, in);
    return entry ? std::optional(*entry) : std::nullopt;
  }
  const Fields fields(node, "a material",
                      {"conductivity", "along grain", "name", "emissivity", "density", "specific heat",
                       "airflow resistivity", "source"},
                      in);
  LibraryEntry own;
  const Node* k = fields.required("conductivity");
  if (!k || !read_conductivity(*k, own.material, in)) return std::nullopt;
  own.material.name =
      k->kind == Node::Kind::scalar ? fmt::format("conductivity {}", k->text) : "conductivity by temperature";
  own.material.source = "given in the case";
  read_properties(fields, own.material, in);
  if (const Node* name = fields.optional("name"))
    own.material.name = read_text(*name, "a name", in).value_or("");
  if (const Node* source = fields.optional("source"))
    own.material.source = "given in the case: " + read_text(*source, "a source", in).value_or("");
  return own;
}

std::optional<MaterialPiece> read_piece(const Node& node, std::string_view what, Reading& in) {
  if (node.kind == Node::Kind::scalar) {
    const LibraryEntry* whole = find(in.library, node.text);  // a name may end in a number, as batts do
    if (whole) return MaterialPiece{whole->material, whole->thickness};
    const WordsAndNumber parts = words_and_number(node.text, in.library);
    const LibraryEntry* entry = find_material(parts.words.empty() ? node.text : parts.words, node.where, in);
    if (!entry) return std::nullopt;
    MaterialPiece piece{entry->material, entry->thickness};
    if (!parts.number.empty()) {
      Node number = node;
      number.text = parts.number;
      piece.thickness = read_size(&number, in).value_or(unread);
    }
    return piece;
  }
  const Fields fields(node, what, {"material", "thickness", "ventilated"}, in);
  const Node* material = fields.required("material");
  const auto entry = material ? read_material(*material, in) : std::nullopt;
  if (!entry) return std::nullopt;
  MaterialPiece piece{entry->material, entry->thickness};
  if (const Node* t = fields.optional("thickness")) piece.thickness = read_size(t, in).value_or(unread);
  return piece;
}

}  // namespace coldbay
