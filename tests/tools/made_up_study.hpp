#pragma once

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cstddef>
#include <cstdint>
#include <functional>
#include <pugixml.hpp>
#include <random>
#include <string>
#include <vector>

#include "tools/study/sobol.hpp"
#include "tools/study/table.hpp"
#include "tools/study/variation.hpp"

// Studies made up for tests.

namespace coldbay {

/// The page of a study, which must be well-formed; nodes of it live as long as it does.
inline pugi::xml_document read_page(const std::string& html) {
  pugi::xml_document document;
  const pugi::xml_parse_result result =
      document.load_buffer(html.data(), html.size(), pugi::parse_default | pugi::parse_ws_pcdata_single);
  EXPECT_TRUE(result) << result.description() << " at "
                      << html.substr(static_cast<std::size_t>(result.offset), 80);
  return document;
}

inline std::size_t add_numbers(StudyTable& table, const std::string& name, const std::string& unit,
                               bool varied) {
  table.columns.push_back({name, unit, varied, false});
  table.numbers.emplace_back();
  table.texts.emplace_back();
  return table.columns.size() - 1;
}

inline std::size_t add_texts(StudyTable& table, const std::string& name) {
  table.columns.push_back({name, "", true, true});
  table.numbers.emplace_back();
  table.texts.emplace_back();
  return table.columns.size() - 1;
}

inline void add_row(StudyTable& table, const std::string& failed = "") {
  table.ids.push_back(table.ids.size());
  table.failed.push_back(failed);
}

struct Input {
  std::string name;
  std::vector<double> values;
};

inline StudyTable table_of(const std::vector<Input>& inputs, const std::vector<double>& result) {
  StudyTable table;
  for (const Input& x : inputs) {
    table.columns.push_back({x.name, "m", true, false});
    table.numbers.push_back(x.values);
    table.texts.emplace_back();
  }
  table.columns.push_back({"u_value", "W/m2K", false, false});
  table.numbers.push_back(result);
  table.texts.emplace_back();
  for (std::size_t row = 0; row < result.size(); ++row) table.ids.push_back(row);
  table.failed.resize(result.size());
  return table;
}

/// Even draws of [0, 1), by a formula of our own: those of the standard library differ from one to the next.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : generator_(seed) {}
  double next() { return static_cast<double>(generator_() >> 11U) * 0x1.0p-53; }

 private:
  std::mt19937_64 generator_;
};

using Model = std::function<double(const std::vector<double>& unit)>;

inline StudyTable drawn(std::size_t n_inputs, std::size_t n_rows, std::uint64_t seed, const Model& model) {
  Draws draws(seed);
  std::vector<Input> inputs(n_inputs);
  std::vector<double> result, row(n_inputs);
  for (std::size_t i = 0; i < n_inputs; ++i) inputs[i].name = fmt::format("x{}", i + 1);
  for (std::size_t r = 0; r < n_rows; ++r) {
    for (std::size_t i = 0; i < n_inputs; ++i) inputs[i].values.push_back(row[i] = draws.next());
    result.push_back(model(row));
  }
  return table_of(inputs, result);
}

/// Three drawn parameters crossed with a list of numbers from 0 to 1, the draws the fastest, as a study has
/// them: x1, x2, x3, list.
inline StudyTable crossed(std::size_t n_draws, std::size_t n_listed, std::uint64_t seed, const Model& model) {
  const StudyTable draws = drawn(3, n_draws, seed, [](const auto&) { return 0.0; });
  std::vector<Input> inputs{{"x1", {}}, {"x2", {}}, {"x3", {}}, {"list", {}}};
  std::vector<double> result;
  for (std::size_t l = 0; l < n_listed; ++l)
    for (std::size_t d = 0; d < n_draws; ++d) {
      std::vector<double> row;
      for (std::size_t i = 0; i < 3; ++i) row.push_back(draws.numbers[i][d]);
      row.push_back(n_listed == 1 ? 0.0 : static_cast<double>(l) / static_cast<double>(n_listed - 1));
      for (std::size_t i = 0; i < 4; ++i) inputs[i].values.push_back(row[i]);
      result.push_back(model(row));
    }
  StudyTable table = table_of(inputs, result);
  for (std::size_t i = 0; i < 4; ++i) {
    table.columns[i].drawn = i < 3;
    table.columns[i].factor = i < 3 ? 1 : 0;
  }
  return table;
}

inline std::vector<FirstOrder> indices_of(const StudyTable& table) {
  return first_orders_of(variation_of(table), table.numbers.back());
}

}  // namespace coldbay
