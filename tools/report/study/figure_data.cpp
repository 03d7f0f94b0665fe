#include "tools/report/study/figure_data.hpp"

#include <fmt/core.h>

#include <charconv>
#include <cmath>
#include <string_view>

#include "tools/report/handout/markup.hpp"
#include "tools/report/study/figure.hpp"

namespace coldbay {
namespace {

constexpr std::size_t most_rows_shown = 40;

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + '"';
}

/// RFC 3986, section 2.1: everything but what is plain anywhere.
std::string percent_encoded(std::string_view text) {
  constexpr std::string_view plain = "-._~,";
  std::string out;
  out.reserve(text.size() + text.size() / 4);
  for (const char c : text) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (letter || plain.find(c) != std::string_view::npos)
      out += c;
    else
      out += fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
  }
  return out;
}

bool is_text(const FigureData& data, std::size_t column) {
  return column < data.is_text.size() && data.is_text[column];
}

/// To four digits where it is a number.
std::string shown(const FigureData& data, std::size_t column, const std::string& text) {
  if (is_text(data, column) || text.empty()) return escaped(text);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() ? shown_number(value) : escaped(text);
}

std::string table_markup(const FigureData& data) {
  std::string out = "<details><summary>numbers</summary><div class=\"wide\"><table><thead><tr>";
  for (const std::string& head : data.heads) out += "<th>" + escaped(head) + "</th>";
  out += "</tr></thead><tbody>";
  for (const auto& row : data.rows) {
    out += "<tr>";
    for (std::size_t c = 0; c < row.size(); ++c)
      out += fmt::format("<td{}>{}</td>", is_text(data, c) ? " class=\"name\"" : "", shown(data, c, row[c]));
    out += "</tr>\n";
  }
  return out + "</tbody></table></div></details>";
}

}  // namespace

std::string name_with_unit(const StudyColumn& column) {
  return column.unit.empty() ? column.name : fmt::format("{} [{}]", column.name, column.unit);
}

std::string full_number(double value) { return std::isfinite(value) ? fmt::format("{}", value) : ""; }

std::string csv_of(const FigureData& data) {
  std::string out;
  for (std::size_t c = 0; c < data.heads.size(); ++c) {
    if (c > 0) out += ",";
    out += quoted(data.heads[c]);
  }
  out += "\r\n";
  for (const auto& row : data.rows) {
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (c > 0) out += ',';
      out += is_text(data, c) ? quoted(row[c]) : row[c];
    }
    out += "\r\n";
  }
  return out;
}

std::string data_markup(const FigureData& data) {
  std::string out = fmt::format(
      "<div class=\"data\"><a download=\"{}\" href=\"data:text/csv;charset=utf-8,{}\">data, CSV</a>",
      escaped(data.file), percent_encoded(csv_of(data)));
  if (data.rows.size() <= most_rows_shown) out += table_markup(data);
  return out + "</div>\n";
}

}  // namespace coldbay
