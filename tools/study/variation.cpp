#include "tools/study/variation.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <unordered_map>
#include <utility>

#include "tools/study/variants.hpp"

namespace coldbay {
namespace {

/// Which combination of values each row has, numbered as they first occur; Levels::none where it lacks one.
struct Joint {
  std::vector<std::uint32_t> of_row;
  std::vector<std::size_t> first_row;  ///< of each
};

Joint joint_of(const std::vector<const Levels*>& all, std::size_t n_rows) {
  Joint joint{std::vector<std::uint32_t>(n_rows, 0), {}};
  for (const Levels* one : all) {
    std::unordered_map<std::uint64_t, std::uint32_t> known;
    for (std::size_t row = 0; row < n_rows; ++row) {
      std::uint32_t& of = joint.of_row[row];
      if (of == Levels::none || one->of_row[row] == Levels::none) {
        of = Levels::none;
        continue;
      }
      const std::uint64_t key = (std::uint64_t{of} << 32U) | one->of_row[row];
      of = known.try_emplace(key, static_cast<std::uint32_t>(known.size())).first->second;
    }
  }
  for (std::size_t row = 0; row < n_rows; ++row)
    if (joint.of_row[row] == joint.first_row.size()) joint.first_row.push_back(row);
  return joint;
}

/// Two columns of numbers, ten values and more, of which either tells the other, but not whether it is high
/// or low: four deviations of the rank correlation of independent draws, 1/sqrt(n - 1). Of few values that is
/// more than 1, and 0.95 comes by chance once in 50,000 times with ten.
bool look_drawn(const StudyTable& table, std::size_t a, std::size_t b, std::size_t n_values) {
  constexpr std::size_t fewest = 10;
  if (table.columns[a].is_text || table.columns[b].is_text || n_values < fewest) return false;
  const double most = std::min(0.95, 4.0 / std::sqrt(static_cast<double>(n_values - 1)));
  return std::abs(rank_correlation(table.numbers[a], table.numbers[b])) < most;
}

bool may_be_together(const StudyColumn& a, const StudyColumn& b) {
  return !a.drawn && !b.drawn && (!a.factor || !b.factor || *a.factor == *b.factor);
}

std::string value_text(const StudyTable& table, std::size_t column, std::size_t row) {
  if (table.columns[column].is_text) return table.texts[column][row];
  const std::string& unit = table.columns[column].unit;
  const double number = table.numbers[column][row];
  return fmt::format("{}{}{}{}", number < 0.0 ? "−" : "", number_text(std::abs(number)),
                     unit.empty() ? "" : " ", unit);
}

VariedPart part_of(const StudyTable& table, const std::vector<std::size_t>& columns,
                   std::vector<Levels> levels) {
  VariedPart part{columns, table.columns[columns[0]], {}, false};
  if (columns.size() == 1) {
    part.levels = std::move(levels[0]);
    return part;
  }
  std::vector<const Levels*> all;
  all.reserve(levels.size());
  for (const Levels& one : levels) all.push_back(&one);
  Joint joint = joint_of(all, table.ids.size());
  part.column.unit.clear();
  part.column.is_text = true;
  for (std::size_t i = 1; i < columns.size(); ++i)
    part.column.name += " with " + table.columns[columns[i]].name;
  part.levels.texts.reserve(joint.first_row.size());
  for (const std::size_t row : joint.first_row) {
    std::string text;
    for (const std::size_t c : columns) {
      if (!text.empty()) text += ", ";
      text += value_text(table, c, row);
    }
    part.levels.texts.push_back(std::move(text));
  }
  part.levels.of_row = std::move(joint.of_row);
  return part;
}

/// Parts that were drawn, or are of the one table that stands for draws: see variation_of().
std::vector<std::size_t> sampled_parts(const std::vector<VariedPart>& parts,
                                       const std::vector<std::vector<std::size_t>>& drawn_elsewhere,
                                       std::size_t n_rows) {
  std::vector<std::size_t> sampled;
  for (std::size_t p = 0; p < parts.size(); ++p)
    if (parts[p].column.drawn) sampled.push_back(p);
  if (!sampled.empty()) return sampled;
  std::size_t most = 0;
  const auto try_these = [&](const std::vector<std::size_t>& some) {
    if (some.size() < 2) return;
    std::vector<const Levels*> levels;
    levels.reserve(some.size());
    std::size_t all = 1;
    for (const std::size_t p : some) {
      levels.push_back(&parts[p].levels);
      all = all > n_rows ? all : all * parts[p].levels.count();
    }
    const std::size_t n = joint_of(levels, n_rows).first_row.size();
    if (n >= all || n <= most) return;
    most = n;
    sampled = some;
  };
  for (const auto& some : drawn_elsewhere) try_these(some);
  for (std::size_t p = 0; p < parts.size(); ++p) {
    if (!parts[p].column.factor) continue;
    std::vector<std::size_t> some;
    for (std::size_t q = p; q < parts.size(); ++q)
      if (parts[q].column.factor == parts[p].column.factor) some.push_back(q);
    try_these(some);
  }
  return sampled;
}

Crossing crossing_of(const std::vector<VariedPart>& parts, std::size_t n_rows) {
  std::vector<const Levels*> drawn, listed;
  for (const VariedPart& part : parts) (part.sampled ? drawn : listed).push_back(&part.levels);
  Crossing crossing;
  if (drawn.empty()) {
    crossing.draw_of_row.resize(n_rows);
    std::iota(crossing.draw_of_row.begin(), crossing.draw_of_row.end(), 0U);
    crossing.cell_of_row.assign(n_rows, 0);
    crossing.draws = n_rows;
    return crossing;
  }
  Joint draws = joint_of(drawn, n_rows), cells = joint_of(listed, n_rows);
  crossing = {std::move(draws.of_row), std::move(cells.of_row), draws.first_row.size(),
              cells.first_row.size(), true};
  return crossing;
}

}  // namespace

Variation variation_of(const StudyTable& table) {
  const std::vector<std::size_t> parameters = parameters_of(table);
  const std::size_t n = parameters.size();
  std::vector<Levels> levels;
  levels.reserve(n);
  for (const std::size_t p : parameters) levels.push_back(levels_of(table, p));
  std::vector<std::size_t> first(n);  // the first parameter that each is together with
  std::iota(first.begin(), first.end(), std::size_t{0});
  std::vector<std::vector<std::size_t>> with(n);  // those that look drawn with each
  for (std::size_t b = 0; b < n; ++b)
    for (std::size_t a = 0; a < b && first[b] == b; ++a) {
      const StudyColumn &one = table.columns[parameters[a]], &other = table.columns[parameters[b]];
      if (first[a] != a || levels[a].count() != levels[b].count() || !may_be_together(one, other)) continue;
      if (joint_of({&levels[a], &levels[b]}, table.ids.size()).first_row.size() != levels[a].count())
        continue;
      if (look_drawn(table, parameters[a], parameters[b], levels[a].count()))
        with[a].push_back(b);
      else
        first[b] = a;
    }
  Variation all;
  std::vector<std::size_t> part_of_first(n, 0);
  for (std::size_t a = 0; a < n; ++a) {
    if (first[a] != a) continue;
    std::vector<std::size_t> columns;
    std::vector<Levels> theirs;
    for (std::size_t b = a; b < n; ++b)
      if (first[b] == a) {
        columns.push_back(parameters[b]);
        theirs.push_back(std::move(levels[b]));
      }
    part_of_first[a] = all.parts.size();
    all.parts.push_back(part_of(table, columns, std::move(theirs)));
  }
  std::vector<std::vector<std::size_t>> drawn_elsewhere;
  for (std::size_t a = 0; a < n; ++a) {
    if (first[a] != a || with[a].empty()) continue;
    std::vector<std::size_t> some{part_of_first[a]};
    for (const std::size_t b : with[a])
      if (first[b] == b) some.push_back(part_of_first[b]);
    drawn_elsewhere.push_back(std::move(some));
  }
  const std::vector<std::size_t> sampled = sampled_parts(all.parts, drawn_elsewhere, table.ids.size());
  for (const std::size_t p : sampled) all.parts[p].sampled = true;
  all.aliased = sampled.size() > 1;
  all.crossing = crossing_of(all.parts, table.ids.size());
  return all;
}

}  // namespace coldbay
