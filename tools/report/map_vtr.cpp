#include "tools/report/map_vtr.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <utility>

#include "tools/report/map_files.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

// The first child of the root, so that a file of ours is known by its first bytes.
constexpr std::string_view begin = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!--coldbay: ";

/// Text that XML may hold: control characters and what is no UTF-8 are replaced as in pictures. A comment may
/// not hold two hyphens in a row.
std::string comment_text(std::string_view text) {
  std::string all;
  for (const char32_t code : characters(text)) {
    if (code == U'-') {
      all += all.ends_with('-') ? " -" : "-";
    } else if (code < 0x80) {
      all += static_cast<char>(code);
    } else if (code < 0x800) {
      all += static_cast<char>(0xC0 | (code >> 6));
      all += static_cast<char>(0x80 | (code & 0x3F));
    } else if (code < 0x10000) {
      const char32_t allowed = code >= 0xFFFE ? 0xFFFD : code;
      all += static_cast<char>(0xE0 | (allowed >> 12));
      all += static_cast<char>(0x80 | ((allowed >> 6) & 0x3F));
      all += static_cast<char>(0x80 | (allowed & 0x3F));
    } else {
      all += static_cast<char>(0xF0 | (code >> 18));
      all += static_cast<char>(0x80 | ((code >> 12) & 0x3F));
      all += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
      all += static_cast<char>(0x80 | (code & 0x3F));
    }
  }
  return all;
}

/// Numbers in lines of `per_line`, so that a row of cells is a line.
void append_array(pugi::xml_node parent, const char* name, const std::vector<double>& values,
                  std::size_t per_line) {
  pugi::xml_node array = parent.append_child("DataArray");
  array.append_attribute("type") = "Float64";
  array.append_attribute("Name") = name;
  array.append_attribute("format") = "ascii";
  std::string text = "\n";
  text.reserve(20 * values.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    fmt::format_to(std::back_inserter(text), "{}{}", values[i],
                   (i + 1) % per_line == 0 || i + 1 == values.size() ? '\n' : ' ');
  array.append_child(pugi::node_pcdata).set_value(text.c_str());
}

struct Writer : pugi::xml_writer {
  std::vector<std::uint8_t> bytes;
  void write(const void* data, std::size_t size) override {
    const auto* first = static_cast<const std::uint8_t*>(data);
    bytes.insert(bytes.end(), first, first + size);
  }
};

}  // namespace

OutputFile section_as_vtr(const ConductivityGrid& grid, const TemperatureField& field,
                          const MapOrigin& origin, std::string name) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  document.append_child(pugi::node_comment)
      .set_value(comment_text(fmt::format("coldbay: {}; {}; {}; {}; lengths in m, temperature in degC, "
                                          "conductivity in W/(m K); made by {} ",
                                          origin.title, origin.shown, "axes across, up, depth from the room",
                                          origin.source, origin.software))
                     .c_str());
  pugi::xml_node file = document.append_child("VTKFile");
  file.append_attribute("type") = "RectilinearGrid";
  file.append_attribute("version") = "0.1";
  file.append_attribute("byte_order") = "LittleEndian";
  const std::string whole =
      fmt::format("0 {} 0 {} 0 {}", grid.axis[0].cells(), grid.axis[1].cells(), grid.axis[2].cells());
  pugi::xml_node all = file.append_child("RectilinearGrid");
  all.append_attribute("WholeExtent") = whole.c_str();
  pugi::xml_node piece = all.append_child("Piece");
  piece.append_attribute("Extent") = whole.c_str();

  const auto row = static_cast<std::size_t>(grid.axis[0].cells());
  pugi::xml_node cells = piece.append_child("CellData");
  cells.append_attribute("Scalars") = "temperature";
  append_array(cells, "temperature", field.celsius, row);
  constexpr std::array<const char*, 3> along{"conductivity_across", "conductivity_up", "conductivity_depth"};
  for (std::size_t d = 0; d < 3; ++d)
    if (!grid.conductivity[d].empty()) append_array(cells, along[d], grid.conductivity[d], row);
  pugi::xml_node coordinates = piece.append_child("Coordinates");
  constexpr std::array<const char*, 3> axes{"across", "up", "depth"};
  for (std::size_t d = 0; d < 3; ++d) append_array(coordinates, axes[d], grid.axis[d].edges(), 8);

  Writer writer;
  document.save(writer, " ", pugi::format_indent, pugi::encoding_utf8);
  return {std::move(name), std::move(writer.bytes)};
}

bool is_our_vtr(const std::vector<std::uint8_t>& bytes) {
  return bytes.size() >= begin.size() &&
         std::equal(begin.begin(), begin.end(), bytes.begin(),
                    [](char a, std::uint8_t b) { return static_cast<std::uint8_t>(a) == b; });
}

}  // namespace coldbay
