#include "tools/study/study_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

#include "tools/input/library_reader.hpp"
#include "tools/input/separated.hpp"

namespace coldbay {
namespace {

void read_keep(const Node& node, Study& study, Reading& in) {
  for (const Node& item : read_list(node, "a list of results", in)) {
    const auto which = read_choice(
        item, "a result that can be kept",
        {"U", "U right", "U uncertainty", "heat flow", "coldest surface", "surface uncertainty",
         "temperature factor", "extra heat", "whole-wall U", "whole-wall U right", "whole-wall extra heat"},
        in);
    if (!which) continue;
    const auto kept = static_cast<Kept>(*which);
    if (std::find(study.keep.begin(), study.keep.end(), kept) != study.keep.end())
      in.error(item.where, fmt::format("'{}' is kept already", shortened(item.text)), "keep one of the two");
    study.keep.push_back(kept);
  }
  if (node.kind == Node::Kind::sequence && node.items.empty())
    in.error(node.where, "nothing is kept", "write keep: [U]");
}

void read_seed(const Node& node, Study& study, Reading& in) {
  const char* end = node.text.data() + node.text.size();
  const auto [stop, error] = std::from_chars(node.text.data(), end, study.seed);
  if (node.kind != Node::Kind::scalar || error != std::errc() || stop != end)
    in.error(node.where, "a seed is a whole number, 0 or more");
}

/// No path twice; and one that is on the way to another comes first, or it would undo it.
void check_paths(const Study& study, Reading& in) {
  std::vector<const CasePath*> all;
  for (const StudyFactor& f : study.factors)
    for (const CasePath& p : f.paths) all.push_back(&p);
  for (const StudyDraw& d : study.drawn)
    for (const CasePath& p : d.paths) all.push_back(&p);
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) {
      if (!leads_to(*all[k], *all[i])) continue;
      if (all[k]->steps.size() == all[i]->steps.size())
        in.error(all[i]->where, fmt::format("'{}' is varied twice", all[i]->text),
                 "leave one out, or vary both in rows");
      else if (all[k]->steps.size() > all[i]->steps.size())
        in.error(all[i]->where,
                 fmt::format("'{}' would undo '{}', which is varied before it", all[i]->text, all[k]->text),
                 "vary the whole before its part");
    }
}

void check_draws(const Node& root, const Node* draws, const Study& study, Reading& in) {
  if (!study.drawn.empty() && !draws)
    in.error(root.where, "values are drawn by chance, and 'draws' does not say how often",
             "write draws: 1000");
  if (study.drawn.empty() && draws)
    in.error(draws->where, "nothing is drawn by chance in this study", "leave 'draws' out");
}

/// A header as results.csv has it, `air.outside.temperature [°C]`: the path, and the unit of its values.
std::pair<std::string, std::string> without_unit(std::string_view header) {
  const std::size_t bracket = header.rfind(" [");
  if (bracket == std::string_view::npos || !header.ends_with(']')) return {std::string(header), ""};
  return {std::string(header.substr(0, bracket)),
          std::string(header.substr(bracket + 2, header.size() - bracket - 3))};
}

}  // namespace

std::uint64_t StudyFactor::size() const {
  if (range) return range->points;
  return table ? table->rows.size() : rows.size();
}

std::optional<NumberAndUnit> number_and_unit(std::string_view text) {
  constexpr std::size_t longest = 60;  // of a number with its unit [bytes]
  if (text.size() > longest) return std::nullopt;
  for (std::size_t n = text.size(); n > 0; --n) {
    const auto number = parse_quantity(text.substr(0, n), Quantity::number, UnitSystem::metric);
    if (!std::holds_alternative<double>(number)) continue;
    std::string_view unit = text.substr(n);
    while (!unit.empty() && unit.front() == ' ') unit.remove_prefix(1);
    while (!unit.empty() && unit.back() == ' ') unit.remove_suffix(1);
    for (std::size_t i = 1; i < unit.size(); ++i)  // 8 ft 1 in
      if (unit[i] >= '0' && unit[i] <= '9' && (unit[i - 1] == ' ' || unit[i - 1] == '\''))
        return std::nullopt;
    return NumberAndUnit{std::get<double>(number), std::string(unit)};
  }
  return std::nullopt;
}

std::string in_one_line(const Node& node) {
  std::string text;
  if (node.kind == Node::Kind::scalar) return harmless(node.text);
  for (const Node& item : node.items) text += (text.empty() ? "" : ", ") + in_one_line(item);
  for (const auto& entry : node.entries)
    text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", harmless(entry.key), in_one_line(entry.value));
  if (node.kind == Node::Kind::sequence) return "[" + text + "]";
  return node.kind == Node::Kind::map ? "{" + text + "}" : "";
}

Study read_study(const SourceText& source) {
  const Node root = read_document(source);
  Reading in{UnitSystem::metric, built_in_library(), {}, {}};
  Study study;
  const Fields fields(root, "a study", {"title", "base", "vary", "draws", "seed", "sampling", "keep"}, in);
  if (const Node* title = fields.optional("title"))
    study.title = read_text(*title, "a title", in).value_or("");
  if (const Node* base = fields.required("base", "name the case that is varied, base: wall.yaml")) {
    study.base = read_text(*base, "the name of a case file", in).value_or("");
    study.base_at = base->where;
  }
  if (const Node* vary = fields.required("vary", "say what is varied: the examples are in cases/studies"))
    for (const Node& item : read_list(*vary, "a list of what is varied", in)) read_varied(item, study, in);
  const Node* draws = fields.optional("draws");
  if (draws)
    study.draws =
        static_cast<std::uint64_t>(read_count(*draws, 1, static_cast<int>(most_variants), in).value_or(1));
  check_draws(root, draws, study, in);
  if (const Node* seed = fields.optional("seed")) read_seed(*seed, study, in);
  if (const Node* sampling = fields.optional("sampling"))
    study.hypercube =
        read_choice(*sampling, "a way to draw", {"by chance", "latin hypercube"}, in) == std::size_t{1};
  if (const Node* keep = fields.required("keep", "say which results are kept, keep: [U]"))
    read_keep(*keep, study, in);
  check_paths(study, in);
  if (!in.errors.empty()) throw InputErrors(std::move(in.errors));
  return study;
}

void read_study_table(const SourceText& source, StudyFactor& factor) {
  std::vector<InputError> errors;
  ValueTable table;
  table.text = source.text;
  if (table.text.starts_with("\uFEFF")) table.text.erase(0, 3);
  std::vector<Field> fields;
  std::size_t columns = 0;
  int line = 0;
  for (std::size_t at = 0; at < table.text.size() && errors.size() < most_errors;) {
    const std::size_t end = std::min(table.text.find('\n', at), table.text.size());
    std::string_view row(table.text.data() + at, end - at);
    if (row.ends_with('\r')) row.remove_suffix(1);
    ++line;
    if (columns == 0 && stands_outside_quotes(row, ';')) table.separator = ';';
    const auto fault = split_fields(row, table.separator, fields);
    const bool empty = fields.size() == 1 && fields[0].text.empty() && !fields[0].quoted;
    if (fault)
      errors.push_back({{line, count_characters(row.substr(0, fault->at)) + 1, 1}, fault->what, "", ""});
    else if (!empty && columns == 0) {
      columns = fields.size();
      Reading in{UnitSystem::metric, built_in_library(), {}, {}};
      for (const Field& field : fields) {
        auto [path_text, unit] = without_unit(field.text);
        table.units.push_back(std::move(unit));
        Node name;
        name.kind = Node::Kind::scalar;
        name.text = std::move(path_text);
        name.where = {line, count_characters(row.substr(0, field.at)) + 1,
                      std::max(1, count_characters(field.text))};
        if (auto path = read_case_path(name, in)) factor.paths.push_back(std::move(*path));
      }
      errors.insert(errors.end(), in.errors.begin(), in.errors.end());
    } else if (!empty) {
      if (fields.size() != columns)
        errors.push_back({{line, 1, 1},
                          fmt::format("this row has {} field{}, and the header {}", fields.size(),
                                      fields.size() == 1 ? "" : "s", columns),
                          "",
                          ""});
      table.rows.push_back(at);
    }
    at = end + 1;
  }
  if (errors.empty() && columns == 0)
    errors.push_back({{}, "this table is empty", "", "its first line names the paths"});
  else if (errors.empty() && table.rows.empty())
    errors.push_back({{}, "this table has a header and no rows", "", ""});
  if (!errors.empty()) throw InputErrors(std::move(errors));
  for (CasePath& path : factor.paths) path.where = factor.where;
  factor.table = std::move(table);
}

}  // namespace coldbay
