#include "tools/input/weather_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "tools/input/hour_stamp.hpp"
#include "tools/input/separated.hpp"
#include "tools/input/weather_columns.hpp"

namespace coldbay {
namespace {

constexpr std::string_view byte_order_mark = "\uFEFF";

/// One line of the file, without its end.
struct Line {
  int number;
  std::string_view text;

  Place place(std::size_t byte, std::string_view of) const {
    return {number, count_characters(text.substr(0, byte)) + 1, std::max(1, count_characters(of))};
  }
  Place place(const Field& f) const { return place(f.at, f.text); }
};

/// What is being read, and what was found wrong so far.
struct Book {
  char separator = ',';
  std::vector<WeatherColumn> columns;
  std::size_t fields = 0;  ///< that the header names
  WeatherFile out;
  std::vector<InputError> errors;
  std::unordered_map<std::int64_t, int> line_of_hour;
  std::optional<std::int64_t> hour_before;
  char decimal_mark = 0;  ///< the one that the file uses, once it is known
  int decimal_line = 0;

  void error(Place where, std::string title, std::string label = {}, std::string hint = {}) {
    errors.push_back({where, std::move(title), std::move(label), std::move(hint)});
    if (errors.size() >= most_errors) throw InputErrors(std::move(errors));
  }
};

std::string_view name_of(char separator) {
  return separator == '\t' ? "tabs" : separator == ';' ? "semicolons" : "commas";
}

/// Bytes that are no text first: what they do to a header would make no sense in a message.
void check_encoding(std::string_view text) {
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
    fail({}, "this file is UTF-16, not UTF-8", "save it as UTF-8");
  int line = 1;
  std::size_t start = 0;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0)
      fail({line, count_characters(text.substr(start, i - start)) + 1, 1}, "this is not UTF-8",
           "save the file as UTF-8, or write the degree sign of °C away: C");
    if (text[i] == '\n') {
      ++line;
      start = i + 1;
    }
    i += length;
  }
}

std::vector<Line> lines_of(std::string_view text, char separator) {
  std::vector<Line> lines;
  for (int number = 1; !text.empty(); ++number) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.ends_with('\r')) line.remove_suffix(1);
    // What a spreadsheet leaves below its table is lines of nothing but separators.
    const bool empty = std::all_of(line.begin(), line.end(),
                                   [&](char c) { return c == ' ' || c == '\t' || c == separator; });
    if (!empty) lines.push_back({number, line});
  }
  return lines;
}

char separator_of(std::string_view text) {
  const std::string_view header = text.substr(0, text.find('\n'));
  for (const char c : {'\t', ';'})
    if (stands_outside_quotes(header, c)) return c;
  return ',';
}

void add_column(const Line& line, const Field& field, WeatherColumn column, Book& book) {
  const auto same = std::find_if(book.columns.begin(), book.columns.end(),
                                 [&](const WeatherColumn& c) { return c.kind == column.kind; });
  if (same != book.columns.end())
    return book.error(line.place(field),
                      fmt::format("this is the second column with {}", words_of(column.kind)), "",
                      fmt::format("the first is column {}: keep one of them", same->index + 1));
  book.columns.push_back(std::move(column));
}

void read_header(const Line& line, Book& book) {
  std::vector<Field> fields;
  if (const auto fault = split_fields(line.text, book.separator, fields))
    fail(line.place(fault->at, {}), fault->what, "quotes stand in pairs, round a whole field");
  while (!fields.empty() && fields.back().text.empty()) fields.pop_back();
  if (std::any_of(fields.begin(), fields.end(),
                  [](const Field& f) { return std::holds_alternative<std::int64_t>(parse_hour(f.text)); }))
    fail(line.place(fields[0]), "this file has no header: its first line is an hour already",
         "name the columns on a line of their own: time,temperature [°C],wind [m/s],sun [W/m2],rain [mm]");
  book.fields = fields.size();
  for (std::size_t i = 0; i < fields.size(); ++i) {
    auto read = read_weather_column(fields[i].text);
    if (auto* column = std::get_if<WeatherColumn>(&read)) {
      column->index = i;
      add_column(line, fields[i], std::move(*column), book);
    } else if (const auto* faulty = std::get_if<FaultyUnit>(&read)) {
      book.error(line.place(fields[i]), faulty->what, "", faulty->hint);
      add_column(line, fields[i], {faulty->kind, i, "", 1.0, 0.0, 0.0, 0.0, false}, book);
    } else {
      const std::string& near = std::get<UnusedColumn>(read).near;
      const std::string_view text = fields[i].text;
      book.out.notes.push_back({line.place(fields[i]),
                                fmt::format("the column '{}' is not used", shortened(text)), "",
                                near.empty() ? std::string() : fmt::format("did you mean '{}'?", near)});
    }
  }
  for (const WeatherKind kind : {WeatherKind::time, WeatherKind::temperature})
    if (std::none_of(book.columns.begin(), book.columns.end(),
                     [&](const WeatherColumn& c) { return c.kind == kind; }))
      book.error(line.place(0, line.text), fmt::format("no column holds {}", words_of(kind)), "",
                 fmt::format("a column '{}' is needed; the fields of this header are separated by {}",
                             example_of(kind), name_of(book.separator)));
}

/// The number of a field; empty where it is none. `from_chars` knows nan and inf, which are no weather.
std::optional<double> parse_number(std::string text) {
  constexpr std::string_view minus = "−";
  if (text.starts_with(minus)) text.replace(0, minus.size(), "-");
  std::replace(text.begin(), text.end(), ',', '.');
  std::string_view rest = text;
  if (rest.starts_with('+')) rest.remove_prefix(1);
  const std::string_view digits = rest.starts_with('-') && rest.data() == text.data() ? rest.substr(1) : rest;
  if (digits.empty() || !((digits[0] >= '0' && digits[0] <= '9') || digits[0] == '.')) return std::nullopt;
  double value = 0.0;
  const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
  if (error != std::errc() || end != rest.data() + rest.size()) return std::nullopt;
  return value;
}

/// One mark for decimals all through: a file with both may have a comma, or a point, between thousands.
bool mark_fits(const Line& line, const Field& field, Book& book) {
  const bool comma = field.text.find(',') != std::string_view::npos;
  if (!comma && field.text.find('.') == std::string_view::npos) return true;
  const char mark = comma ? ',' : '.';
  if (comma && book.separator == ',') {
    book.error(line.place(field), fmt::format("'{}' has a comma", shortened(field.text)), "",
               "in a file separated by commas write decimals after a point, and nothing between thousands");
    return false;
  }
  if (book.decimal_mark == 0) {
    book.decimal_mark = mark;
    book.decimal_line = line.number;
  }
  if (book.decimal_mark == mark) return true;
  book.error(line.place(field),
             fmt::format("decimals stand after a {} here, after a {} on line {}", comma ? "comma" : "point",
                         comma ? "point" : "comma", book.decimal_line),
             "", "write them one way all through the file, and nothing between thousands");
  return false;
}

/// A value in SI; NaN where it could not be read, which is told.
double read_value(const Line& line, const Field& field, const WeatherColumn& column, Book& book) {
  constexpr double unread = std::numeric_limits<double>::quiet_NaN();
  const std::string_view what = words_of(column.kind), name = what.substr(2);
  if (field.text.empty()) {
    book.error(line.place(field), fmt::format("this hour has no {}", name), "",
               "no weather is guessed: fill it from the hours beside, or from another station");
    return unread;
  }
  const auto number = parse_number(std::string(field.text));
  if (!number) {
    // Two commas, or letters: what is wrong is the number, not its mark.
    book.error(line.place(field), fmt::format("'{}' is not a number", shortened(field.text)), "",
               fmt::format("write {} as digits, such as -3.5; its unit stands in the header", what));
    return unread;
  }
  if (!mark_fits(line, field, book) || !column.known_unit) return unread;
  const double value = column.scale * *number + column.offset;
  if (value < column.least || value > column.most) {
    const auto in_unit = [&](double si) { return (si - column.offset) / column.scale; };
    book.error(line.place(field),
               fmt::format("{} of {} {} cannot be: it lies between {:.0f} and {:.0f}", what,
                           shortened(field.text), column.unit, in_unit(column.least), in_unit(column.most)),
               "", "is it a mark for a missing value, or is the unit in the header another one?");
    return unread;
  }
  return value;
}

/// Hours between two others that no line has given so far: how many, the first and the last.
struct Missing {
  std::int64_t hours = 0, first = 0, last = 0;
};
Missing missing_between(std::int64_t before, std::int64_t hour, const Book& book) {
  // Beyond ten years what lies between is not looked at one by one: a year is mistyped there.
  if (hour - before > 87'600) return {hour - before - 1, before + 1, hour - 1};
  Missing m;
  for (std::int64_t i = before + 1; i < hour; ++i) {
    if (book.line_of_hour.contains(i)) continue;
    if (m.hours++ == 0) m.first = i;
    m.last = i;
  }
  return m;
}

void check_order(const Line& line, const Field& field, std::int64_t hour, Book& book) {
  const auto [same, fresh] = book.line_of_hour.emplace(hour, line.number);
  const std::optional<std::int64_t> before = std::exchange(book.hour_before, hour);
  const Place where = line.place(field);
  if (!fresh)
    return book.error(where, fmt::format("{} is already given on line {}", hour_text(hour), same->second), "",
                      "where clocks go back an hour comes twice: keep to standard time all through the file");
  if (book.line_of_hour.size() == 1) book.out.weather.start = hour;  // the others follow, or errors do
  if (!before || hour == *before + 1) return;
  if (hour < *before)
    return book.error(where, fmt::format("{} comes after {}", hour_text(hour), hour_text(*before)), "",
                      "sort the lines by time");
  const auto [missing, first, last] = missing_between(*before, hour, book);
  if (missing == 0) return;
  const std::string which = missing == 1
                                ? fmt::format("one hour is missing before this one: {}", hour_text(first))
                                : fmt::format("{} hours are missing before this one: {} to {}", missing,
                                              hour_text(first), hour_text(last));
  book.error(
      where, which, "",
      "a line is needed for every hour; where clocks go forward one is left out: keep to standard time "
      "all through the file");
}

/// True where another separator than the header's parts this line.
bool mixed(const Line& line, const std::vector<Field>& fields, const Book& book) {
  for (const char other : {'\t', ';'})
    if (other != book.separator && stands_outside_quotes(line.text, other)) return true;
  return fields.size() == 1 && book.fields > 1 && stands_outside_quotes(line.text, ',');
}

/// Finds fields for every column, or tells why not.
bool fits_header(const Line& line, std::vector<Field>& fields, Book& book) {
  if (const auto fault = split_fields(line.text, book.separator, fields)) {
    book.error(line.place(fault->at, {}), fault->what, "", "quotes stand in pairs, round a whole field");
    return false;
  }
  if (mixed(line, fields, book)) {
    book.error(
        line.place(0, line.text),
        fmt::format("this line is not separated by {} alone, as the header is", name_of(book.separator)), "",
        "use one separator all through the file");
    return false;
  }
  while (fields.size() > book.fields && fields.back().text.empty()) fields.pop_back();
  if (fields.size() == book.fields) return true;
  const bool more = fields.size() > book.fields;
  book.error(line.place(0, line.text),
             fmt::format("{} field{} where the header names {}", fields.size(), fields.size() == 1 ? "" : "s",
                         book.fields),
             "",
             more && book.separator == ','
                 ? "decimals after a comma need semicolons or tabs between the fields"
                 : "a field that is empty still needs its separator");
  return false;
}

std::vector<double>& values_of(Weather& w, WeatherKind kind) {
  return kind == WeatherKind::temperature ? w.temperature
         : kind == WeatherKind::wind      ? w.wind
         : kind == WeatherKind::sun       ? w.sun
                                          : w.rain;
}

void read_line(const Line& line, std::vector<Field>& fields, Book& book) {
  if (!fits_header(line, fields, book)) return;
  for (const WeatherColumn& column : book.columns) {
    const Field& field = fields[column.index];
    if (column.kind != WeatherKind::time) {
      const double value = read_value(line, field, column, book);
      values_of(book.out.weather, column.kind)
          .push_back(column.kind == WeatherKind::sun ? std::max(0.0, value) : value);
      continue;
    }
    const auto hour = parse_hour(field.text);
    if (const auto* faulty = std::get_if<FaultyHour>(&hour)) {
      book.error(line.place(field), faulty->what, "", faulty->hint);
      book.hour_before.reset();  // what the next hour follows is not known
    } else {
      check_order(line, field, std::get<std::int64_t>(hour), book);
    }
  }
}

}  // namespace

WeatherFile read_weather(const SourceText& source) {
  std::string_view text = source.text;
  check_encoding(text);
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  Book book;
  book.separator = separator_of(text.substr(std::min(text.find_first_not_of(" \r\n"), text.size())));
  const std::vector<Line> lines = lines_of(text, book.separator);
  if (lines.empty()) fail({}, "this file is empty", "see cases/weather-example.csv");
  read_header(lines[0], book);
  std::vector<Field> fields;
  for (std::size_t i = 1; i < lines.size(); ++i) read_line(lines[i], fields, book);
  if (lines.size() == 1) book.error({}, "this file has a header, and no hour below it");
  if (!book.errors.empty()) throw InputErrors(std::move(book.errors));
  return std::move(book.out);
}

}  // namespace coldbay
