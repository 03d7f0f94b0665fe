#include "tools/study/study_reader.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <vector>

#include "tools/input/case_path.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/study/variants.hpp"

namespace coldbay::study_reader_test {
namespace {

Study study_of(const std::string& vary, const std::string& more = "") {
  return read_study({"s.yaml", "base: b.yaml\nkeep: [U]\n" + more + "vary:\n" + vary});
}

/// The titles of everything that is wrong.
std::vector<std::string> wrong_with(const std::string& vary, const std::string& more = "") {
  std::vector<std::string> titles;
  try {
    (void)study_of(vary, more);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) titles.push_back(x.title);
  }
  return titles;
}

using Cells = std::vector<std::string>;

std::vector<Cells> all_cells(const Study& study) {
  const std::vector<StudyColumn> columns = varied_columns(study);
  std::vector<Cells> all;
  for (std::uint64_t id = 0; id < count_variants(study); ++id)
    all.push_back(variant_at(study, columns, id).cells);
  return all;
}

/// What a variant writes into a case, in order: "path: value".
std::vector<std::string> written(const Study& study, std::uint64_t id) {
  std::vector<std::string> all;
  const Variant variant = variant_at(study, varied_columns(study), id);
  for (const auto& setting : variant.settings)
    all.push_back(setting.path->text + ": " + in_one_line(setting.value));
  return all;
}

TEST(StudyReader, ListsAndRangesAreCrossedTheLastOneFastest) {
  const Study study = study_of(
      "- {path: a.b, values: [400 mm, 600 mm]}\n"
      "- {path: c, from: -5 °C, to: 5 °C, step: 5 K}\n");
  EXPECT_EQ(all_cells(study),
            (std::vector<Cells>{
                {"400", "-5"}, {"400", "0"}, {"400", "5"}, {"600", "-5"}, {"600", "0"}, {"600", "5"}}));
  EXPECT_EQ(written(study, 3), (std::vector<std::string>{"a.b: 600 mm", "c: -5 °C"}));
  const std::vector<StudyColumn> columns = varied_columns(study);
  EXPECT_EQ(columns[0].name, "a.b");
  EXPECT_EQ(columns[0].unit, "mm");
  EXPECT_EQ(columns[1].unit, "°C");
  EXPECT_FALSE(columns[1].is_text);
}

TEST(StudyReader, ColumnsTellWhatIsVariedTogetherAndWhatIsDrawn) {
  const std::vector<StudyColumn> columns =
      varied_columns(study_of("- {path: a, uniform: {from: 1 m, to: 2 m}}\n"
                              "- {paths: [b, c], rows: [[1 m, 2 m], [3 m, 4 m]]}\n"
                              "- {path: d, uniform: {from: 1 m, to: 2 m}}\n",
                              "draws: 3\n"));
  ASSERT_EQ(columns.size(), 4U);  // what is listed stands before what is drawn
  EXPECT_TRUE(!columns[1].drawn && columns[0].factor && columns[0].factor == columns[1].factor);
  EXPECT_TRUE(columns[2].drawn && columns[3].drawn && columns[2].factor == columns[3].factor);
  EXPECT_NE(columns[1].factor, columns[2].factor);
}

TEST(StudyReader, ARangeHasBothItsEnds) {
  EXPECT_EQ(all_cells(study_of("- {path: a, from: 0.1 m, to: 0.4 m, points: 4}")),
            (std::vector<Cells>{{"0.1"}, {"0.2"}, {"0.3"}, {"0.4"}}));  // in binary 0.1 + 0.2 is not 0.3
  EXPECT_EQ(all_cells(study_of("- {path: a, from: 0.1 m, to: 0.4 m, step: 0.1 m}")).size(), 4u);
  EXPECT_EQ(all_cells(study_of("- {path: a, from: 0.4 m, to: 0.1 m, step: -0.1 m}")).size(), 4u);
  EXPECT_EQ(all_cells(study_of("- {path: a, from: 0.1 m, to: 0.45 m, step: 0.1 m}")).size(), 4u);
  EXPECT_EQ(all_cells(study_of("- {path: a, from: 3-1/2 in, to: 5 1/2 in, points: 2}")),
            (std::vector<Cells>{{"3.5"}, {"5.5"}}));
}

TEST(StudyReader, RowsSetSeveralPathsAndNamesAreTheirColumn) {
  const Study rows = study_of("- {paths: [a, b], rows: [[1 m, x], [2 m, y]]}");
  EXPECT_EQ(all_cells(rows), (std::vector<Cells>{{"1", "x"}, {"2", "y"}}));
  EXPECT_TRUE(varied_columns(rows)[1].is_text);
  const Study named = study_of("- {name: fill, paths: [a, b], rows: {one: [1 m, x], two: [{c: 1}, [d]]}}");
  EXPECT_EQ(all_cells(named), (std::vector<Cells>{{"one"}, {"two"}}));
  EXPECT_EQ(written(named, 1), (std::vector<std::string>{"a: {c: 1}", "b: [d]"}));
  const Study both = study_of("- {paths: [a, b], values: [1 m, 2 m]}");
  EXPECT_EQ(written(both, 1), (std::vector<std::string>{"a: 2 m", "b: 2 m"}));
}

TEST(StudyReader, WordsGoRoundANumber) {
  const Study list = study_of("- {path: a, as: 'softwood 45 x {}', values: [95 mm, 140 mm]}");
  EXPECT_EQ(written(list, 1), (std::vector<std::string>{"a: softwood 45 x 140 mm"}));
  EXPECT_EQ(all_cells(list)[1], Cells{"140"});  // a number in the results
  EXPECT_EQ(varied_columns(list)[0].unit, "mm");
  const Study mixed = study_of("- {path: a, as: 'batt {}', values: [R-13, R-19]}");
  EXPECT_EQ(all_cells(mixed)[1], Cells{"batt R-19"});  // R-19 is no number with a unit
  const Study range = study_of("- {path: a, as: 'R-{}', from: 11, to: 13, points: 3}");
  EXPECT_EQ(written(range, 1), (std::vector<std::string>{"a: R-12"}));
  EXPECT_EQ(all_cells(range)[1], Cells{"12"});
}

TEST(StudyReader, DrawsAreJointAndTheFastest) {
  const Study study = study_of(
      "- {path: a, values: [1 m, 2 m]}\n"
      "- {path: b, uniform: {from: 0 mm, to: 10 mm}}\n"
      "- {path: c, normal: {mean: 0 °C, deviation: 1 K}}\n",
      "draws: 50\nseed: 9\nsampling: latin hypercube\n");
  const auto cells = all_cells(study);
  ASSERT_EQ(cells.size(), 100u);
  std::set<int> strata;
  for (std::size_t i = 0; i < 50; ++i) {
    EXPECT_EQ(cells[i][0], "1");
    EXPECT_EQ(cells[50 + i][0], "2");
    EXPECT_EQ(cells[i][1], cells[50 + i][1]);  // the same draws beside each of the others
    EXPECT_EQ(cells[i][2], cells[50 + i][2]);
    strata.insert(static_cast<int>(std::stod(cells[i][1]) / 10.0 * 50.0));
  }
  EXPECT_EQ(strata.size(), 50u);
}

TEST(StudyReader, ASeedFixesEveryDraw) {
  const std::string vary = "- {path: a, uniform: {from: 0 mm, to: 1 mm}}";
  const auto at = [&](const std::string& more) { return all_cells(study_of(vary, more)); };
  EXPECT_EQ(at("draws: 3\nseed: 1\n"), at("draws: 3\nseed: 1\n"));
  EXPECT_NE(at("draws: 3\nseed: 1\n"), at("draws: 3\nseed: 2\n"));
  // By chance the first draws are those of a longer study, too.
  EXPECT_EQ(at("draws: 3\nseed: 1\n")[2], at("draws: 9\nseed: 1\n")[2]);
}

TEST(StudyReader, ATableNamesItsPathsInItsHeader) {
  Study study = study_of("- {table: t.csv}\n- {path: z, values: [1, 2]}");
  read_study_table({"t.csv", "\uFEFFa.b;\"c\"\r\n1 m;\"say \"\"no\"\"\"\r\n\r\n2 m;x, y\n"},
                   study.factors[0]);
  EXPECT_EQ(all_cells(study),
            (std::vector<Cells>{
                {"1", "say \"no\"", "1"}, {"1", "say \"no\"", "2"}, {"2", "x, y", "1"}, {"2", "x, y", "2"}}));
  EXPECT_EQ(study.factors[0].paths[0].text, "a.b");
  for (const char* bad : {"", "a,b\n", "a,b\n1\n", "a,\n1,2\n", "a,b\n1,\"2\n"})
    EXPECT_THROW(read_study_table({"t.csv", bad}, study.factors[0]), InputErrors) << bad;
}

TEST(StudyReader, TellsWhatIsWrongWithWhatIsVaried) {
  using Titles = std::vector<std::string>;
  EXPECT_EQ(wrong_with("- {path: a, values: []}"), Titles{"this list is empty: there is nothing to vary"});
  EXPECT_EQ(wrong_with("- {path: a, from: 1 m, to: 1 m, points: 3}"),
            Titles{"this range is empty: it ends where it begins"});
  EXPECT_EQ(wrong_with("- {path: a, from: 1 m, to: 2 m, step: -1 m}"),
            Titles{"this range is empty: no step leads from its beginning to its end"});
  EXPECT_EQ(wrong_with("- {path: a, from: 1 m, to: 2 m, step: 0 m}"),
            Titles{"this range is empty: no step leads from its beginning to its end"});
  EXPECT_EQ(wrong_with("- {path: a, from: 1 m, to: 2 in, points: 3}"),
            Titles{"'2 in' has another unit than the number before it, m"});
  EXPECT_EQ(wrong_with("- {path: a, from: 1 m, to: 8 ft 1 in, points: 3}"),
            Titles{"a number with one unit is wanted here"});
  EXPECT_EQ(wrong_with("- {path: a, values: [1 m, 2 m, 1 m]}"), Titles{"this is in the list already"});
  EXPECT_EQ(wrong_with("- {path: a, values: [1 m]}\n- {path: a, values: [2 m]}"),
            Titles{"'a' is varied twice"});
  EXPECT_EQ(wrong_with("- {path: a.b, values: [1 m]}\n- {path: a, values: [2 m]}"),
            Titles{"'a' would undo 'a.b', which is varied before it"});
  EXPECT_TRUE(wrong_with("- {path: a, values: [2 m]}\n- {path: a.b, values: [1 m]}").empty());
  EXPECT_EQ(wrong_with("- {paths: [a, b], rows: [[1 m]]}"),
            Titles{"this row has 1 value, and 2 paths are named"});
  EXPECT_EQ(wrong_with("- {path: a}"), Titles{"what is this given?"});
  EXPECT_EQ(wrong_with("- {path: a, values: [1], rows: [[1]]}"),
            Titles{"this is given in more than one way"});
  EXPECT_EQ(wrong_with("- {path: a, as: gypsum, values: [1]}"),
            Titles{"'as' holds {} once, where the value goes"});
  for (const char* path : {"'[1]'", "'a[0]'", "'a[x]'", "'a[1'", "'a..b'", "'a.'", "'a[1]b'", "''", "[a]"})
    EXPECT_EQ(wrong_with(std::string("- {path: ") + path + ", values: [1]}").size(), 1u) << path;
}

TEST(StudyReader, TellsWhatIsWrongWithADistribution) {
  using Titles = std::vector<std::string>;
  const std::string draws = "draws: 5\n";
  EXPECT_EQ(wrong_with("- {path: a, uniform: {from: 2 m, to: 1 m}}", draws),
            Titles{"this distribution is empty: it ends where it begins, or before"});
  EXPECT_EQ(wrong_with("- {path: a, triangular: {from: 1 m, peak: 3 m, to: 2 m}}", draws),
            Titles{"the peak of this triangle lies beyond its ends"});
  EXPECT_EQ(wrong_with("- {path: a, normal: {mean: 1 m, deviation: 0 m}}", draws),
            Titles{"a deviation lies above 0"});
  EXPECT_EQ(wrong_with("- {path: a, lognormal: {median: 1 m, factor: 1}}", draws),
            Titles{"a factor of spread lies above 1"});
  EXPECT_EQ(wrong_with("- {path: a, lognormal: {median: 0 m, factor: 2}}", draws),
            Titles{"what is lognormal lies above 0"});
  EXPECT_EQ(wrong_with("- {path: a, uniform: {from: 1 m, to: 2 m}}"),
            Titles{"values are drawn by chance, and 'draws' does not say how often"});
  EXPECT_EQ(wrong_with("- {path: a, values: [1]}", draws),
            Titles{"nothing is drawn by chance in this study"});
}

TEST(StudyReader, MoreVariantsThanAStudyMayHave) {
  const std::string many = "- {path: a, from: 0, to: 1, points: 10000}\n- {path: b, from: 0, to: 1, points: ";
  EXPECT_EQ(count_variants(study_of(many + "10000}")), most_variants);
  EXPECT_THROW(count_variants(study_of(many + "10001}")), InputErrors);
}

TEST(CasePath, PutsValuesWhereTheyBelong) {
  const Node base =
      read_document({"c.yaml", "wall:\n  bays:\n    - corner: open\n    - batt R-13\n    - {batt: R-13}\n"});
  Reading in{UnitSystem::metric, built_in_library(), {}, {}};
  const auto after = [&](const std::string& path, const std::string& value) {
    Node root = base, name, node;
    name.kind = node.kind = Node::Kind::scalar;
    name.text = path;
    node.text = value;
    const auto wrong = put(root, read_case_path(name, in).value(), node);
    return wrong ? *wrong : in_one_line(root);
  };
  // Bays are counted as coldbay counts them: the corner is none.
  EXPECT_EQ(after("wall.bays[1]", "nothing"), "{wall: {bays: [{corner: open}, nothing, {batt: R-13}]}}");
  EXPECT_EQ(after("wall.bays[2].clear width", "6 in"),
            "{wall: {bays: [{corner: open}, batt R-13, {batt: R-13, clear width: 6 in}]}}");
  EXPECT_EQ(after("air.outside.film", "0"),
            "{wall: {bays: [{corner: open}, batt R-13, {batt: R-13}]}, air: {outside: {film: 0}}}");
  EXPECT_EQ(after("wall.bays[3]", "x"), "'wall.bays' has 2 items, and no number 3");
  EXPECT_EQ(after("wall[1]", "x"), "'wall' is a map and not a list");
  EXPECT_EQ(after("wall.bays.width", "x"), "'wall.bays' is a list: say which item is meant, as in [1]");
  EXPECT_EQ(after("air", "still"), "{wall: {bays: [{corner: open}, batt R-13, {batt: R-13}]}, air: still}");
  // A bay in one word is the map that says the same; one fill takes the place of another.
  EXPECT_EQ(after("wall.bays[1].gap.left", "6 mm"),
            "{wall: {bays: [{corner: open}, {batt: R-13, gap: {left: 6 mm}}, {batt: R-13}]}}");
  EXPECT_EQ(after("wall.bays[2].fill", "cellulose"),
            "{wall: {bays: [{corner: open}, batt R-13, {fill: cellulose}]}}");
  EXPECT_EQ(after("wall.bays[1].layers", "x"), "{wall: {bays: [{corner: open}, {layers: x}, {batt: R-13}]}}");
  EXPECT_EQ(after("wall.bays[2].batt.width", "x"),
            "'wall.bays[2].batt' is 'R-13', in one word, and takes no 'width': write it as a map");
  EXPECT_TRUE(in.errors.empty());
}

}  // namespace
}  // namespace coldbay::study_reader_test
