#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "tools/study/study_reader.hpp"

namespace coldbay {
namespace {

/// `as: gypsum board {}`: the words round a number.
void read_form(const Node& node, NumberForm& form, Reading& in) {
  const std::string text = read_text(node, "words with {} in them", in).value_or("{}");
  const std::size_t at = text.find("{}");
  if (at == std::string::npos || text.find("{}", at + 2) != std::string::npos)
    return in.error(node.where, "'as' holds {} once, where the value goes", "write as: \"gypsum board {}\"");
  form.before = text.substr(0, at);
  form.after = text.substr(at + 2);
}

/// Numbers of one entry: all in the unit of the first.
class InOneUnit {
 public:
  InOneUnit(NumberForm& form, Reading& in) : form_(form), in_(in) {}

  /// `also`: another unit that would do, as K does beside °C.
  double read(const Node* node, std::string_view also = {}) {
    if (!node) return unread;
    const auto value = node->kind == Node::Kind::scalar ? number_and_unit(node->text) : std::nullopt;
    if (!value) {
      in_.error(node->where, "a number with one unit is wanted here", "write, for example, 400 mm");
      return unread;
    }
    if (first_) form_.unit = value->unit;
    first_ = false;
    if (value->unit != form_.unit && value->unit != also)
      in_.error(node->where,
                fmt::format("'{}' has another unit than the number before it, {}", shortened(node->text),
                            form_.unit.empty() ? "which has none" : form_.unit),
                "write both in one unit");
    return value->number;
  }
  /// A difference: of temperatures it may be in kelvins.
  double read_difference(const Node* node) {
    const bool celsius = form_.unit.ends_with('C');
    return read(node, celsius ? "K" : form_.unit);
  }

 private:
  NumberForm& form_;
  Reading& in_;
  bool first_ = true;
};

void read_range(const Node& node, const Fields& fields, StudyFactor& factor, Reading& in) {
  InOneUnit unit(factor.form, in);
  StudyFactor::Range range;
  range.from = unit.read(fields.required("from"));
  range.to = unit.read(fields.required("to"));
  const Node *points = fields.optional("points"), *step = fields.optional("step");
  if ((points != nullptr) == (step != nullptr))
    return in.error(node.where, "a range has either 'points' or a 'step'",
                    "write points: 5, both ends among them, or step: 50 mm");
  if (range.from == range.to)
    return in.error(node.where, "this range is empty: it ends where it begins", "give one of values: [...]");
  if (points) {
    range.points =
        static_cast<std::uint64_t>(read_count(*points, 2, static_cast<int>(most_variants), in).value_or(2));
    range.step = (range.to - range.from) / static_cast<double>(range.points - 1);
  } else {
    range.step = unit.read_difference(step);
    const double steps = (range.to - range.from) / range.step;
    if (!(steps > 0.0 || std::isnan(steps)) || std::isinf(steps))
      return in.error(step->where, "this range is empty: no step leads from its beginning to its end",
                      "a step goes up or down as the range does");
    if (steps >= static_cast<double>(most_variants))
      return in.error(step->where, "this range has more steps than a study may have variants");
    constexpr double rounding = 1e-9;
    if (steps >= 0.0) range.points = static_cast<std::uint64_t>(std::floor(steps + rounding)) + 1;
  }
  factor.range = range;
}

/// A distribution's own words.
void read_distribution(const Fields& all, StudyDraw& draw, Reading& in) {
  using Kind = Distribution::Kind;
  InOneUnit unit(draw.form, in);
  Distribution& d = draw.distribution;
  const std::size_t errors = in.errors.size();
  const Node* place = nullptr;
  const auto bounds = [&](const Fields& fields, bool needed) {
    const auto end = [&](const char* key) {
      const Node* node = needed ? fields.required(key) : fields.optional(key);
      return node ? std::optional(unit.read(node)) : std::nullopt;
    };
    d.from = end("from");
    d.to = end("to");
  };
  if (const Node* node = place = all.optional("uniform"); node) {
    const Fields fields(*node, "a uniform distribution", {"from", "to"}, in);
    d.kind = Kind::uniform;
    bounds(fields, true);
  } else if ((node = place = all.optional("triangular"))) {
    const Fields fields(*node, "a triangular distribution", {"from", "peak", "to"}, in);
    d.kind = Kind::triangular;
    bounds(fields, true);
    d.middle = unit.read(fields.required("peak"));
    if (d.from && d.to && (d.middle < *d.from || d.middle > *d.to))
      in.error(node->where, "the peak of this triangle lies beyond its ends");
  } else if ((node = place = all.optional("normal"))) {
    const Fields fields(*node, "a normal distribution", {"mean", "deviation", "from", "to"}, in);
    d.kind = Kind::normal;
    d.middle = unit.read(fields.required("mean"));
    d.spread = unit.read_difference(fields.required("deviation"));
    bounds(fields, false);
  } else {
    node = place = all.optional("lognormal");
    const Fields fields(*node, "a lognormal distribution", {"median", "factor", "from", "to"}, in);
    d.kind = Kind::lognormal;
    d.middle = unit.read(fields.required("median"));
    if (const Node* factor = fields.required("factor", "16 % of the values lie above the median times this"))
      d.spread = plain_log(read_quantity(*factor, Quantity::number, in).value_or(unread));
    bounds(fields, false);
    if (d.middle <= 0.0 || (d.from && *d.from <= 0.0) || (d.to && *d.to <= 0.0))
      in.error(node->where, "what is lognormal lies above 0");
  }
  if (in.errors.size() != errors) return;
  if (d.from && d.to && !(*d.from < *d.to))
    in.error(place->where, "this distribution is empty: it ends where it begins, or before",
             "write the smaller number first");
  const bool needs_spread = d.kind == Kind::normal || d.kind == Kind::lognormal;
  if (needs_spread && !(d.spread > 0.0))
    in.error(place->where,
             d.kind == Kind::normal ? "a deviation lies above 0" : "a factor of spread lies above 1");
}

/// One row of values: as many as there are paths.
std::vector<Node> read_row(const Node& node, std::size_t n_paths, Reading& in) {
  std::vector<Node> row = read_list(node, "a row of values", in);
  if (node.kind == Node::Kind::sequence && row.size() != n_paths)
    in.error(node.where, fmt::format("this row has {} value{}, and {} paths are named", row.size(),
                                     row.size() == 1 ? "" : "s", n_paths));
  for (Node& value : row) mark_as_of_study(value);
  return row;
}

/// A list of values or rows, or a map of them with their names.
void read_rows(const Node& node, bool one_value, StudyFactor& factor, Reading& in) {
  const auto add = [&](const Node& item) {
    if (one_value) {
      Node value = item;
      if (value.kind == Node::Kind::scalar) value.text = factor.form.before + value.text + factor.form.after;
      mark_as_of_study(value);
      factor.rows.push_back({std::move(value)});
    } else {
      factor.rows.push_back(read_row(item, factor.paths.size(), in));
    }
  };
  if (node.kind == Node::Kind::map)
    for (const auto& entry : node.entries) {
      factor.row_names.push_back(harmless(entry.key));
      add(entry.value);
    }
  else
    for (const Node& item : read_list(node, "a list, or a map of names,", in)) add(item);
  if (factor.rows.empty() && (node.kind == Node::Kind::map || node.kind == Node::Kind::sequence))
    in.error(node.where, "this list is empty: there is nothing to vary", "give a value or more");
  std::set<std::string> seen;
  for (const std::vector<Node>& row : factor.rows) {
    std::string text;
    for (const Node& value : row) text += in_one_line(value) + '\n';
    if (!row.empty() && !seen.insert(text).second)
      in.error(unmarked(row[0].where), "this is in the list already", "keep one of the two");
  }
}

std::vector<CasePath> read_paths(const Node* one, const Node* several, Reading& in) {
  std::vector<CasePath> paths;
  const auto add = [&](const Node& node) {
    if (auto path = read_case_path(node, in)) paths.push_back(std::move(*path));
  };
  if (one) add(*one);
  if (several)
    for (const Node& node : read_list(*several, "a list of paths", in)) add(node);
  return paths;
}

}  // namespace

void read_varied(const Node& node, Study& study, Reading& in) {
  const Fields fields(node, "an entry of what is varied",
                      {"name", "path", "paths", "as", "values", "rows", "from", "to", "points", "step",
                       "table", "uniform", "normal", "triangular", "lognormal"},
                      in);
  if (!fields.is_map()) return;
  StudyFactor factor;
  factor.where = node.where;
  if (const Node* name = fields.optional("name")) factor.name = read_text(*name, "a name", in).value_or("");
  const Node *path = fields.optional("path"), *paths = fields.optional("paths");
  const Node* table = fields.optional("table");
  if ((path ? 1 : 0) + (paths ? 1 : 0) + (table ? 1 : 0) != 1)
    return in.error(node.where, "what is varied here?",
                    "give one of: path, paths (a list of them), table (a file whose header has the paths)");
  const std::size_t errors = in.errors.size();
  factor.paths = read_paths(path, paths, in);
  if (in.errors.size() != errors) return;
  if (paths && factor.paths.empty()) return in.error(paths->where, "this list of paths is empty");
  if (const Node* as = fields.optional("as")) read_form(*as, factor.form, in);

  std::size_t ways = 0;
  const auto there = [&](std::initializer_list<const char*> keys) {
    const bool any =
        std::any_of(keys.begin(), keys.end(), [&](const char* key) { return fields.optional(key); });
    ways += any ? 1 : 0;
    return any;
  };
  const bool values = there({"values"}), rows = there({"rows"}),
             range = there({"from", "to", "points", "step"});
  bool drawn = false;
  for (const char* kind : {"uniform", "normal", "triangular", "lognormal"}) drawn = there({kind}) || drawn;
  if (table) {
    if (ways > 0 || fields.optional("as"))
      return in.error(node.where, "a table says itself what its paths are given", "leave the rest out");
    factor.table_file = read_text(*table, "the name of a file", in).value_or("");
    factor.where = table->where;
    study.factors.push_back(std::move(factor));
    return;
  }
  if (ways != 1)
    return in.error(node.where, ways == 0 ? "what is this given?" : "this is given in more than one way",
                    "give one of: values, rows, from and to, uniform, normal, triangular, lognormal");
  if (drawn) {
    StudyDraw draw{factor.name, factor.paths, {}, factor.form, factor.where};
    read_distribution(fields, draw, in);
    study.drawn.push_back(std::move(draw));
    return;
  }
  if (range) read_range(node, fields, factor, in);
  if (values) read_rows(*fields.optional("values"), true, factor, in);
  if (rows) read_rows(*fields.optional("rows"), false, factor, in);
  study.factors.push_back(std::move(factor));
}

}  // namespace coldbay
