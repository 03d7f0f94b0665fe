#include "tools/input/document.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace coldbay::document_test {
namespace {

Node read(const std::string& text) { return read_document({"case.yaml", text}); }

/// What is wrong with a text, its first error; a failure where nothing is.
InputError error_of(const std::string& text) {
  try {
    read(text);
  } catch (const InputErrors& e) {
    return e.errors().front();
  }
  ADD_FAILURE() << "read without an error: " << text.substr(0, 200);
  return {};
}

void expect_error(const std::string& text, int line, int column, const std::string& title) {
  const InputError e = error_of(text);
  EXPECT_EQ(e.where.line, line) << text.substr(0, 200);
  EXPECT_EQ(e.where.column, column) << text.substr(0, 200);
  EXPECT_EQ(e.title, title) << text.substr(0, 200);
}

std::string repeated(std::string_view text, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += text;
  return out;
}

TEST(Document, KeepsValuesWithTheirPlacesAndPaths) {
  const Node root = read("wall:\n  bays:\n    - nothing\n    - {batt: R-13}\n");
  const Node& batt = node_at(root, "wall.bays[1].batt");
  EXPECT_EQ(batt.text, "R-13");
  EXPECT_EQ(batt.path, "wall.bays[1].batt");
  EXPECT_EQ(batt.where.line, 4);
  EXPECT_EQ(batt.where.column, 14);
  EXPECT_EQ(batt.where.length, 4);
  const auto& entry = node_at(root, "wall.bays[1]").entries.at(0);
  EXPECT_EQ(entry.where.column, 8);
  EXPECT_EQ(entry.where.length, 4);
}

TEST(Document, APathBeyondTheFileEndsAtItsDeepestNode) {
  const Node root = read("wall: {bays: [a, b]}\n");
  EXPECT_EQ(node_at(root, "").path, "");
  EXPECT_EQ(node_at(root, "wall.bays[1]").text, "b");
  EXPECT_EQ(node_at(root, "wall.bays[7]").path, "wall.bays");
  EXPECT_EQ(node_at(root, "wall.bays[0].box.depth").path, "wall.bays[0]");
  EXPECT_EQ(node_at(root, "wall.height").path, "wall");
  EXPECT_EQ(node_at(root, "nothing.like[3].it").path, "");
}

TEST(Document, APathFindsKeysThatHoldDotsAndBrackets) {
  // Probes bear any name: A.1 of a drawing, [2] of a list.
  const Node root = read("probes: {A: 0, A.1: 1, 'A.1.x': 2, 'b[0]': [3, 4]}\n");
  EXPECT_EQ(node_at(root, "probes.A").text, "0");
  EXPECT_EQ(node_at(root, "probes.A.1").text, "1");
  EXPECT_EQ(node_at(root, "probes.A.1.x").text, "2");
  EXPECT_EQ(node_at(root, "probes.b[0][1]").text, "4");
}

TEST(Document, DuplicateKeysNameBothLines) {
  expect_error("a: 1\nb: 2\na: 3\n", 3, 1, "'a' is already given on line 1");
  EXPECT_EQ(error_of("x:\n  a: 1\n  a: 1\n").where.line, 3);
  expect_error("{a: 1, b: 2, a: 3}\n", 1, 14, "'a' is already given on line 1");
  EXPECT_EQ(read("x: {a: 1}\ny: {a: 1}\n").entries.size(), 2u);  // not duplicates: two maps
}

// How long it takes grows with the length alone: tests/bench/input_bench.cpp.
TEST(Document, ReadsManyKeys) {
  std::string text;
  for (int i = 0; i < 90'000; ++i) text += "key" + std::to_string(i) + ": 1\n";
  EXPECT_EQ(read(text).entries.size(), 90'000u);
}

TEST(Document, ReadsALongLine) {
  const std::string text = fmt::format("[{}é, end]\n", repeated("ab, ", 150'000));
  EXPECT_EQ(read(text).items.back().where.column, 600'000 + 5);
}

TEST(Document, MergesAndLetsTheKeysBesideWin) {
  const Node root = read("base: &b {k: 1, m: 2}\nown: {k: 3, <<: *b}\n");
  const Node* own = root.find("own");
  ASSERT_TRUE(own);
  EXPECT_EQ(own->entries.size(), 2u);
  EXPECT_EQ(own->find("k")->text, "3");
  EXPECT_EQ(own->find("m")->text, "2");
  EXPECT_EQ(own->find("m")->path, "own.m");
  EXPECT_EQ(own->find("<<"), nullptr);

  const Node both = read("- &a {k: 1}\n- &b {k: 2, m: 3}\n- {<<: [*a, *b]}\n");
  EXPECT_EQ(both.items[2].find("k")->text, "1");  // the earlier of the list wins
  EXPECT_EQ(both.items[2].find("m")->text, "3");
  expect_error("a: 1\n<<: 5\n", 2, 5, "'<<' merges maps, and this is not one");
}

TEST(Document, AnAliasStandsWhereItIsUsed) {
  const Node root = read("a: &size 5 mm\nb:  *size\n");
  EXPECT_EQ(root.find("b")->text, "5 mm");
  EXPECT_EQ(root.find("b")->where.line, 2);
  EXPECT_EQ(root.find("b")->where.column, 5);
  EXPECT_EQ(root.find("b")->path, "b");
  EXPECT_EQ(error_of("a: *nowhere\n").where.column, 4);
}

TEST(Document, AnAliasInsideItsOwnAnchorIsRefused) {
  expect_error("&a [*a]\n", 1, 5, "this alias stands inside its own anchor");
  expect_error("x: &a {y: [1, *a]}\n", 1, 15, "this alias stands inside its own anchor");
}

TEST(Document, AnAliasBombIsRefused) {
  std::string text = "l0: &l0 x\n";
  for (int level = 1; level <= 9; ++level) {
    const std::string below = fmt::format("*l{}, ", level - 1);
    text += fmt::format("l{0}: &l{0} [{1}*l{2}]\n", level, repeated(below, 9), level - 1);
  }
  const InputError e = error_of(text);
  EXPECT_EQ(e.title, "this file holds more than 200000 values, counting what its aliases stand for");
  EXPECT_EQ(e.where.line, 6);  // level 5: a hundred thousand of its own, and a copy for whoever refers to it
}

TEST(Document, AnchorsRoundAnchorsDoNotMultiply) {
  // Each anchor keeps a copy of what is inside: ninety of these took gigabytes.
  std::string text;
  for (int i = 0; i < 90; ++i) text += "&a" + std::to_string(i) + " [";
  text += repeated("1,", 100'000) + repeated("]", 90) + "\n";
  EXPECT_EQ(error_of(text).title,
            "this file holds more than 200000 values, counting what its aliases stand for");
}

TEST(Document, DeepNestingIsRefusedHoweverItIsWritten) {
  for (const std::string& text :
       {repeated("[", 100'000), repeated("{", 100'000), repeated("[", 1000) + repeated("]", 1000),
        repeated("- ", 100'000), repeated("{a: ", 1000) + "1" + repeated("}", 1000)})
    EXPECT_EQ(error_of(text).title, "nested too deeply") << text.substr(0, 20);
  expect_error("x: 1\ny: " + repeated("[", 1000) + repeated("]", 1000), 2, 103, "nested too deeply");
  EXPECT_EQ(read(repeated("[", 99) + "deep" + repeated("]", 99)).kind, Node::Kind::sequence);
}

TEST(Document, KeysAreWords) {
  for (const char* text : {"? [a]\n: b\n", "{[a]: b}\n", "? {a: 1}\n: b\n", "[a]: b\n", "[[a, b\n"})
    EXPECT_EQ(error_of(text).title, "a key is a word, not a list or a map") << text;
  expect_error("a: 1\n: 3\n", 2, 1, "a key is a word");
  expect_error("~: 1\n", 1, 1, "a key is a word");
  EXPECT_TRUE(read("'null': 1\n").find("null"));
}

TEST(Document, TagsAreRefused) {
  for (const char* text : {"a: !!python/object:os.system ls\n", "a: !foo 5\n", "a: !!int 5\n",
                           "a: !foo [1]\n", "a: !foo {b: 1}\n"})
    EXPECT_NE(error_of(text).title.find("means nothing here"), std::string::npos) << text;
  expect_error("a: !foo 5\n", 1, 4, "the tag '!foo' means nothing here");
}

TEST(Document, NothingIsNotACase) {
  for (const char* text : {"", " \n\n", "# only a remark\n", "---\n", "~\n", "null\n", "\xEF\xBB\xBF"}) {
    const InputError e = error_of(text);
    EXPECT_EQ(e.title, "this file is empty") << text;
    EXPECT_EQ(e.where.line, 0) << text;
  }
}

TEST(Document, ASecondDocumentIsRefused) {
  for (const char* text : {"a: 1\n---\nb: 2\n", "a: 1\n---\n", "a: 1\n...\n---\nb: 2\n"})
    EXPECT_EQ(error_of(text).title, "this file holds more than one document") << text;
  expect_error("- a\nb: 1\n", 2, 1, "this file holds more than one document");  // as the parser sees it
  EXPECT_EQ(read("%YAML 1.2\n---\na: 1\n...\n").find("a")->text, "1");
}

TEST(Document, OnlyUtf8IsText) {
  expect_error("a: 1\nbé: caf\xE9\n", 2, 8, "this is not UTF-8 text");  // Latin-1
  expect_error("a: \xC0\xAF\n", 1, 4, "this is not UTF-8 text");        // not the shortest form
  for (const char* overlong : {"a: \xE0\x80\xAF\n", "a: \xF0\x80\x80\xAF\n"})
    expect_error(overlong, 1, 4, "this is not UTF-8 text");
  expect_error("a: \xED\xA0\x80\n", 1, 4, "this is not UTF-8 text");      // half of a pair
  expect_error("a: \xF4\x90\x80\x80\n", 1, 4, "this is not UTF-8 text");  // beyond the last character
  expect_error("a: \xE2\x82", 1, 4, "this is not UTF-8 text");            // cut off
  expect_error(
      "\xFF\xFE"
      "a\0",
      1, 1, "this is not UTF-8 text");  // UTF-16
  expect_error(std::string("a: b\0c\n", 7), 1, 5, "this file holds a zero byte, so it is not text");
  EXPECT_EQ(read("a: \xF0\x9F\x9A\xAA é ½\n").find("a")->text, "🚪 é ½");
}

TEST(Document, ColumnsCountCharactersNotBytes) {
  const Node root = read("{été: ½ in, door 🚪: b, last: c}\n");
  EXPECT_EQ(root.find("last")->where.column, 30);
  EXPECT_EQ(root.entries[1].where.column, 13);
  EXPECT_EQ(root.entries[1].where.length, 6);
  EXPECT_EQ(root.find("été")->where.length, 4);
}

TEST(Document, AByteOrderMarkTakesNoColumn) {
  const Node root = read("\xEF\xBB\xBF{a: 1, b: 2}\n");
  EXPECT_EQ(root.entries[0].where.column, 2);
  EXPECT_EQ(root.entries[1].where.column, 8);
}

TEST(Document, LinesMayEndAsOnOtherSystems) {
  const Node root = read("a: 1 mm\r\nb:\r\n  c: two\r\n");
  EXPECT_EQ(root.find("a")->text, "1 mm");
  EXPECT_EQ(node_at(root, "b.c").text, "two");
  EXPECT_EQ(node_at(root, "b.c").where.line, 3);
}

TEST(Document, ATabInTheIndentationIsNamed) {
  for (const char* text : {"a:\n\tb: 1\n", "a:\n  b: 1\n\tc: 2\n"})
    EXPECT_EQ(error_of(text).hint, "indent with spaces: this line begins with a tab") << text;
}

TEST(Document, BrokenYamlHasAPlaceAndAHint) {
  const InputError e = error_of("title: x\nair: inside: 3\n");
  EXPECT_EQ(e.where.line, 2);
  EXPECT_EQ(e.title.find("this is not YAML"), 0u);
  EXPECT_EQ(e.hint, "look for a missing colon, comma, bracket or space of indentation");
  for (const char* text : {"a: [1, 2\n", "a: {b: 1\n", "a: ]\n", "a: @b\n", "a: 'open\n---\n", "a: %x\n"})
    EXPECT_GT(error_of(text).where.line, 0) << text;
}

}  // namespace
}  // namespace coldbay::document_test
