#include "tools/study/variants.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "tools/input/separated.hpp"
#include "tools/study/chance.hpp"
#include "tools/study/study_reader.hpp"

namespace coldbay {
namespace {

/// The fields of a row of a table, quotes taken off.
std::vector<std::string> table_row(const ValueTable& table, std::uint64_t row) {
  const std::size_t at = table.rows[row], end = std::min(table.text.find('\n', at), table.text.size());
  std::string_view line(table.text.data() + at, end - at);
  if (line.ends_with('\r')) line.remove_suffix(1);
  std::vector<Field> fields;
  split_fields(line, table.separator, fields);
  std::vector<std::string> texts;
  texts.reserve(fields.size());
  for (const Field& field : fields) {
    std::string text(field.text);
    for (std::size_t q = 0; (q = text.find("\"\"", q)) != std::string::npos; ++q) text.erase(q, 1);
    if (const std::string& unit = table.units.at(texts.size()); !unit.empty() && !text.empty())
      text = fmt::format("{} {}", text, unit);
    texts.push_back(std::move(text));
  }
  return texts;
}

/// The values that one column of a factor has, one after the other.
template <class F>
void each_value(const StudyFactor& factor, std::size_t column, F f) {
  if (factor.table)
    for (std::size_t r = 0; r < factor.table->rows.size(); ++r) f(table_row(*factor.table, r)[column]);
  for (const std::vector<Node>& row : factor.rows)
    f(row[column].kind == Node::Kind::scalar ? row[column].text : std::string());
}

/// What stands between the words that `as` puts round every value of a factor: "95 mm" of "softwood 45 x 95
/// mm".
std::string_view without_words(const NumberForm& form, std::string_view text) {
  if (text.size() < form.before.size() + form.after.size() || !text.starts_with(form.before) ||
      !text.ends_with(form.after))
    return text;
  return text.substr(form.before.size(), text.size() - form.before.size() - form.after.size());
}

/// The one unit in which all values of a column are numbers; nothing where they are not.
std::optional<std::string> common_unit(const StudyFactor& factor, std::size_t column) {
  std::optional<std::string> unit;
  bool numbers = true;
  each_value(factor, column, [&](const std::string& text) {
    if (!numbers) return;
    const auto value = number_and_unit(without_words(factor.form, text));
    numbers = value && (!unit || value->unit == *unit);
    if (value) unit = value->unit;
  });
  return numbers ? unit : std::nullopt;
}

void add_columns(const StudyFactor& f, std::vector<StudyColumn>& columns) {
  const auto name = [&](std::size_t p) { return f.name.empty() ? f.paths[p].text : f.name; };
  if (!f.row_names.empty())
    columns.push_back({name(0), "", true, true});
  else if (f.range)
    columns.push_back({name(0), f.form.unit, true, false});
  else {
    const std::size_t n = f.table ? f.paths.size() : f.rows.empty() ? 0 : f.rows[0].size();
    for (std::size_t p = 0; p < n; ++p) {
      const auto unit = common_unit(f, p);
      columns.push_back({n == 1 ? name(p) : f.paths[p].text, unit.value_or(""), true, !unit});
    }
  }
}

Node word(std::string text, Place where) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.text = std::move(text);
  node.where = marked(where);
  return node;
}

std::string in_words(const NumberForm& form, const std::string& number) {
  return fmt::format("{}{}{}{}{}", form.before, number, form.unit.empty() ? "" : " ", form.unit, form.after);
}

/// A value in its column: a number without its unit where all of them are.
std::string cell_of(const Node& value, const NumberForm& form, const StudyColumn& column) {
  if (column.is_text) return in_one_line(value);
  return number_text(number_and_unit(without_words(form, value.text))->number);
}

void set_all(const std::vector<CasePath>& paths, const Node& value, Variant& out) {
  for (const CasePath& path : paths) out.settings.push_back({&path, value});
}

/// Adds what a factor's step sets. `columns` are those of the study; the next one is that of the next cell.
void add_step(const StudyFactor& f, std::uint64_t step, const std::vector<StudyColumn>& columns,
              Variant& out) {
  if (f.range) {
    const double number = f.range->from + static_cast<double>(step) * f.range->step;
    std::string text = number_text(number);
    set_all(f.paths, word(in_words(f.form, text), f.where), out);
    out.cells.push_back(std::move(text));
    return;
  }
  std::vector<Node> row;
  if (f.table)
    for (std::string& text : table_row(*f.table, step)) row.push_back(word(std::move(text), f.where));
  else
    row = f.rows[step];
  if (!f.row_names.empty())
    out.cells.push_back(f.row_names[step]);
  else
    for (const Node& value : row) out.cells.push_back(cell_of(value, f.form, columns[out.cells.size()]));
  if (row.size() == 1)
    set_all(f.paths, row[0], out);
  else
    for (std::size_t p = 0; p < row.size(); ++p) out.settings.push_back({&f.paths[p], std::move(row[p])});
}

}  // namespace

std::string number_text(double number) {
  return fmt::format("{:.12g}", number == 0.0 ? 0.0 : number);  // no -0
}

std::uint64_t count_variants(const Study& study) {
  std::uint64_t n = study.draws;
  double all = static_cast<double>(study.draws);
  for (const StudyFactor& f : study.factors) all *= static_cast<double>(f.size());
  const auto too_many = [&] {
    throw InputErrors({{{},
                        fmt::format("this study has more than {} variants: {:.3g}", most_variants, all),
                        "",
                        "vary less at a time, or draw by chance from what is varied"}});
  };
  for (const StudyFactor& f : study.factors) {
    if (f.size() > most_variants / n) too_many();
    n *= f.size();
  }
  if (n > most_variants) too_many();
  return n;
}

std::vector<StudyColumn> varied_columns(const Study& study) {
  std::vector<StudyColumn> columns;
  for (std::size_t f = 0; f < study.factors.size(); ++f) {
    const std::size_t before = columns.size();
    add_columns(study.factors[f], columns);
    for (std::size_t c = before; c < columns.size(); ++c) columns[c].factor = f;
  }
  for (const StudyDraw& d : study.drawn)
    columns.push_back(
        {d.name.empty() ? d.paths[0].text : d.name, d.form.unit, true, false, true, study.factors.size()});
  return columns;
}

Variant variant_at(const Study& study, const std::vector<StudyColumn>& columns, std::uint64_t id) {
  Variant out;
  out.cells.reserve(columns.size());
  const std::uint64_t draws = std::max<std::uint64_t>(1, study.draws), draw = id % draws;
  std::uint64_t rest = id / draws, block = 1;
  for (const StudyFactor& f : study.factors) block *= f.size();
  for (const StudyFactor& f : study.factors) {
    block /= f.size();
    add_step(f, rest / block, columns, out);
    rest %= block;
  }
  for (std::size_t d = 0; d < study.drawn.size(); ++d) {
    const StudyDraw& drawn = study.drawn[d];
    const Stream stream{study.seed, static_cast<std::uint32_t>(d)};
    const double u = study.hypercube ? chance_in_stratum(stream, draw, study.draws) : chance(stream, draw);
    std::string text = number_text(value_below(drawn.distribution, u));
    set_all(drawn.paths, word(in_words(drawn.form, text), drawn.where), out);
    out.cells.push_back(std::move(text));
  }
  return out;
}

}  // namespace coldbay
