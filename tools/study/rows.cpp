#include "tools/study/rows.hpp"

#include <fmt/core.h>
#include <zlib.h>

#include <charconv>
#include <cmath>
#include <limits>

namespace coldbay {
namespace {

constexpr std::size_t seal_length = 9;  ///< "#0123abcd"

std::string seal_of(std::string_view row) {
  const auto sum =
      crc32(crc32(0, nullptr, 0), reinterpret_cast<const Bytef*>(row.data()), static_cast<uInt>(row.size()));
  return fmt::format("#{:08x}", sum);
}

bool looks_like_formula(std::string_view text) {
  return !text.empty() && std::string_view("=+-@'").find(text.front()) != std::string_view::npos;
}

/// Nine digits: more than any solve knows, and the same bytes wherever the same double comes out.
std::string kept_field(double number) {
  if (!std::isfinite(number)) return {};
  return fmt::format("{:.9g}", number == 0.0 ? 0.0 : number);
}

}  // namespace

std::string text_field(std::string_view text) {
  std::string out = looks_like_formula(text) ? "'" : "";
  out += text;
  if (out.find_first_of(",\"'\r\n;") == std::string::npos) return out;
  for (std::size_t at = 0; (at = out.find('"', at)) != std::string::npos; at += 2) out.insert(at, 1, '"');
  return '"' + out + '"';
}

std::string row_line(std::uint64_t id, const std::vector<StudyColumn>& varied,
                     const std::vector<std::string>& cells, const std::vector<double>& kept,
                     std::size_t n_kept, const std::string& failed) {
  std::string line = fmt::format("{}", id);
  for (std::size_t c = 0; c < cells.size(); ++c)
    line += ',' + (varied[c].is_text ? text_field(cells[c]) : cells[c]);
  for (std::size_t k = 0; k < n_kept; ++k) line += ',' + (k < kept.size() ? kept_field(kept[k]) : "");
  return line + ',' + text_field(failed);
}

std::string header_line(const std::vector<StudyColumn>& columns) {
  std::string line = "variant";
  for (const StudyColumn& c : columns)
    line += ',' + text_field(c.unit.empty() ? c.name : fmt::format("{} [{}]", c.name, c.unit));
  return line + ",failed";
}

std::vector<std::string> fields_of(std::string_view line) {
  std::vector<std::string> fields;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    std::string field;
    if (i < line.size() && line[i] == '"') {
      for (++i;; ++i) {
        if (i >= line.size()) return {};
        if (line[i] == '"' && (i + 1 >= line.size() || line[i + 1] != '"')) break;
        if (line[i] == '"') ++i;
        field += line[i];
      }
      if (++i < line.size() && line[i] != ',') return {};
    } else {
      while (i < line.size() && line[i] != ',') field += line[i++];
    }
    if (field.starts_with('\'')) field.erase(0, 1);
    fields.push_back(std::move(field));
  }
  return fields;
}

double number_in(const std::string& field) {
  double value = std::numeric_limits<double>::quiet_NaN();
  std::from_chars(field.data(), field.data() + field.size(), value);
  return value;
}

std::string sealed(const std::string& row) { return row + seal_of(row) + '\n'; }

std::optional<std::string_view> unsealed(std::string_view line) {
  if (line.size() <= seal_length) return std::nullopt;
  const std::string_view row = line.substr(0, line.size() - seal_length);
  if (line.substr(row.size()) != seal_of(row)) return std::nullopt;
  return row;
}

std::optional<std::uint64_t> id_of(std::string_view row) {
  std::uint64_t id = 0;
  const auto [stop, error] = std::from_chars(row.data(), row.data() + row.size(), id);
  if (error != std::errc() || stop == row.data() + row.size() || *stop != ',') return std::nullopt;
  return id;
}

bool has_failed(std::string_view row) { return !row.ends_with(','); }

}  // namespace coldbay
