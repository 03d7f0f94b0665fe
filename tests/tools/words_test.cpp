#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "tools/input/words_reader.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay::words_test {
namespace {

constexpr std::size_t n_faults = static_cast<std::size_t>(Fault::box_margin) + 1;

const Words& english() { return built_in_words("en"); }
const Words& spanish() { return built_in_words("es"); }

std::set<std::string> braces_in(const std::string& sentence) {
  std::set<std::string> names;
  const auto parts = sentence_parts(sentence);
  if (!parts)
    ADD_FAILURE() << "a brace has no fellow: " << sentence;
  else
    for (const SentencePart& part : *parts)
      if (part.in_braces) names.insert(part.text);
  return names;
}

/// All that is said against a file of one's own, as it is printed.
std::string said_against(const std::string& text) {
  const SourceText own{"own.yaml", text};
  std::string out;
  try {
    words_with(own, english());
  } catch (const InputErrors& e) {
    for (const InputError& error : e.errors()) out += render(error, own);
  }
  return out;
}

// Both languages.

TEST(Words, EveryLanguageHasTheSameKeysAndTheSameBraces) {
  for (const std::string& code : built_in_languages()) {
    const Words& words = built_in_words(code);
    EXPECT_EQ(words.code, code);
    EXPECT_EQ(words.direction, "ltr");
    for (const auto& [key, sentence] : english().text) {
      ASSERT_TRUE(words.text.contains(key)) << code << " lacks " << key;
      EXPECT_EQ(braces_in(words.text.at(key)), braces_in(sentence)) << code << ": " << key;
    }
    EXPECT_EQ(words.text.size(), english().text.size()) << code << " has a key that English lacks";
  }
  EXPECT_THROW(built_in_words("xx"), std::logic_error);
  EXPECT_THROW(built_in_words_file("xx"), std::logic_error);
}

TEST(Words, NothingIsLeftUntranslated) {
  const std::set<std::string> alike{"page.foot"};  // holds names and numbers only
  for (const auto& [key, sentence] : english().text) {
    if (sentence.empty() || alike.contains(key)) continue;
    EXPECT_NE(spanish().text.at(key), sentence) << key;
  }
  for (const std::string& key : alike) EXPECT_EQ(spanish().text.at(key), english().text.at(key)) << key;
}

TEST(Words, OnlyNotesAreEmptyAndInTheSamePlaces) {
  for (const auto& [key, sentence] : english().text) {
    EXPECT_EQ(sentence.empty(), spanish().text.at(key).empty()) << key;
    const bool is_note = key.starts_with("faults.") && key.ends_with(".note");
    EXPECT_TRUE(is_note || !sentence.empty()) << key;
  }
}

TEST(Words, NothingIsMarkup) {
  for (const Words* words : {&english(), &spanish()})
    for (const auto& [key, sentence] : words->text) {
      EXPECT_EQ(sentence.find_first_of("<>&\"\t\n"), std::string::npos) << key << ": " << sentence;
      EXPECT_EQ(sentence.find("  "), std::string::npos) << key << ": " << sentence;
      EXPECT_EQ(sentence.find_first_not_of(' '), sentence.empty() ? std::string::npos : 0u) << key;
      EXPECT_FALSE(sentence.ends_with(' ')) << key;
    }
}

TEST(Words, EveryFaultIsSpokenOfInBoth) {
  std::set<std::string> keys;
  for (std::size_t f = 0; f < n_faults; ++f) {
    const Fault fault = static_cast<Fault>(f);
    keys.emplace(fault_key(fault));
    for (const Words* words : {&english(), &spanish()}) {
      for (const char* what : {"name", "right", "check", "colder", "warmer"})
        EXPECT_FALSE(said_of(*words, fault, what).empty()) << fault_key(fault) << " " << what;
      EXPECT_NO_THROW(said_of(*words, fault, "note"));
      // Which line of a checklist is good is told by "yes": each must ask.
      EXPECT_TRUE(said_of(*words, fault, "check").ends_with('?')) << fault_key(fault);
      EXPECT_NE(said_of(*words, fault, "colder"), said_of(*words, fault, "warmer")) << fault_key(fault);
      for (const char* what : {"colder", "warmer"})  // what it looks like, not how much: that is solved
        EXPECT_EQ(said_of(*words, fault, what).find_first_of("0123456789{"), std::string::npos)
            << fault_key(fault);
    }
  }
  EXPECT_EQ(keys.size(), n_faults);
  for (const Words* words : {&english(), &spanish()})  // and no fault that there is not
    for (const auto& [key, sentence] : words->text) {
      const bool is_fault = key.starts_with("faults.");
      EXPECT_TRUE(!is_fault || keys.contains(key.substr(7, key.rfind('.') - 7))) << key;
    }
}

TEST(Words, ColderAndWarmerAreNotMixedUp) {
  for (std::size_t f = 0; f < n_faults; ++f) {
    const Fault fault = static_cast<Fault>(f);
    EXPECT_NE(said_of(english(), fault, "colder").find("read"), std::string::npos);
    EXPECT_NE(said_of(english(), fault, "colder").find("colder"), std::string::npos) << fault_key(fault);
    EXPECT_NE(said_of(english(), fault, "warmer").find("warmer"), std::string::npos) << fault_key(fault);
    EXPECT_NE(said_of(spanish(), fault, "colder").find(" frí"), std::string::npos) << fault_key(fault);
    EXPECT_NE(said_of(spanish(), fault, "warmer").find(" cálid"), std::string::npos) << fault_key(fault);
  }
}

TEST(Words, TheProgramsOwnReportsSayTheSame) {
  // As they were said before the handout; reports and the catalogue are read by scripts, too.
  EXPECT_EQ(words_of(Fault::missing).name, "nothing in the bay");
  EXPECT_EQ(words_of(Fault::narrow).right, "cut a strip to fill the side");
  EXPECT_EQ(words_of(Fault::box_margin).name, "the batt cut away too wide round a box");
  EXPECT_EQ(words_of(Fault::cold_pipe).note,
            "the heat is not the point here: the pipe is colder than it need be, and may freeze");
  EXPECT_EQ(words_of(Fault::gap).note, "");
}

// Cautions.

TEST(Words, WhatCanHurtIsSaidWithTheFault) {
  using Keys = std::vector<std::string_view>;
  EXPECT_EQ(cautions_of({Fault::box_open}), (Keys{"cautions.wiring", "cautions.foam", "cautions.fibre"}));
  EXPECT_EQ(cautions_of({Fault::settled_fill}),
            (Keys{"cautions.foam", "cautions.fibre", "cautions.old fill"}));
  EXPECT_EQ(cautions_of({Fault::cold_pipe}), (Keys{"cautions.fibre", "cautions.freezing"}));
  EXPECT_EQ(cautions_of({Fault::gap, Fault::pushed_over, Fault::box_margin}),
            (Keys{"cautions.wiring", "cautions.fibre"}));
  EXPECT_EQ(cautions_of({}), Keys{});
  for (std::size_t f = 0; f < n_faults; ++f)
    for (const std::string_view key : cautions_of({static_cast<Fault>(f)}))
      EXPECT_NO_THROW(said(english(), key));
}

TEST(Words, EveryCautionIsOfSomeFaultButTheLast) {
  std::vector<Fault> all;
  for (std::size_t f = 0; f < n_faults; ++f) all.push_back(static_cast<Fault>(f));
  const auto keys = cautions_of(all);
  std::set<std::string> shown(keys.begin(), keys.end());
  shown.insert("cautions.codes");
  for (const auto& [key, sentence] : english().text)
    EXPECT_TRUE(!key.starts_with("cautions.") || shown.contains(key)) << key << " is never shown";
}

// Saying.

TEST(Words, SaidPutsInWhatStandsInBraces) {
  EXPECT_EQ(said(english(), "normal.studs colder", {{"studs", "0.9 K"}}),
            "Sound studs read 0.9 K colder than the bays beside them: that is normal.");
  EXPECT_EQ(said(spanish(), "page.list and", {{"last", "3"}, {"first", "1, 2"}}), "1, 2 y 3");
  EXPECT_EQ(said(english(), "page.bay", {{"number", "{list}"}}), "bay {list}");  // once, not over again
  EXPECT_EQ(said(english(), "page.note", {{"unused", "x"}}), "Note");
}

TEST(Words, SaidWithoutAValueOrAKeyIsOurMistake) {
  EXPECT_THROW(said(english(), "page.no such sentence"), std::logic_error);
  EXPECT_THROW(said(english(), "page.bay"), std::logic_error);
  EXPECT_THROW(said(english(), "page.bay", {{"numbers", "1"}}), std::logic_error);
}

TEST(Words, DoubledBracesAreBraces) {
  Words words;
  words.text["a"] = "{{x}} {x} }}{{ {x}";
  EXPECT_EQ(said(words, "a", {{"x", "1"}}), "{x} 1 }{ 1");
  for (const char* bad : {"{", "}", "a {x", "x} b", "{a{b}}", "{{x}", "{x}}"})
    EXPECT_FALSE(sentence_parts(bad)) << bad;
  const auto parts = sentence_parts("a {b}");
  ASSERT_TRUE(parts);
  ASSERT_EQ(parts->size(), 2u);
  EXPECT_EQ((*parts)[0].text, "a ");
  EXPECT_FALSE((*parts)[0].in_braces);
  EXPECT_EQ((*parts)[1].text, "b");
  EXPECT_TRUE((*parts)[1].in_braces);
}

// One's own.

TEST(Words, OnesOwnFileNeedHoldOnlyWhatItChanges) {
  const Words own = words_with({"own.yaml",
                                "language: Português\ncode: pt-BR\n"
                                "faults: {missing: {name: nada no vão, note: \"veja\"}, forced: {note: }}\n"
                                "page:\n  bay: 'vão {number}'\n"},
                               english());
  EXPECT_EQ(own.language, "Português");
  EXPECT_EQ(own.code, "pt-BR");
  EXPECT_EQ(own.direction, "ltr");
  EXPECT_EQ(said_of(own, Fault::missing, "name"), "nada no vão");
  EXPECT_EQ(said_of(own, Fault::missing, "note"), "veja");
  EXPECT_EQ(said_of(own, Fault::forced, "note"), "");
  EXPECT_EQ(said(own, "page.bay", {{"number", "2"}}), "vão 2");
  EXPECT_EQ(said_of(own, Fault::missing, "right"), "fill it");
  EXPECT_EQ(own.text.size(), english().text.size());
  EXPECT_EQ(said_of(english(), Fault::missing, "name"), "nothing in the bay");
}

TEST(Words, TheFilesThatComeWithItAreFilesOfOnesOwn) {
  for (const std::string& code : built_in_languages()) {
    const Words whole = words_with(built_in_words_file(code), english());
    EXPECT_EQ(whole.text, built_in_words(code).text);
    EXPECT_EQ(whole.language, built_in_words(code).language);
  }
}

TEST(Words, ASentenceMayLeaveOutWhatStandsInBraces) {
  const Words own = words_with({"own.yaml", "page: {of its bay: \"{heat} more\"}\n"}, english());
  EXPECT_EQ(said(own, "page.of its bay", {{"share", "+3 %"}, {"bay", "bay 1"}, {"heat", "2 W"}}), "2 W more");
}

TEST(Words, MarksAndControlsMeanNothing) {
  const Words own = words_with({"own.yaml", "page: {title: \"<b>\\n&amp;\\e[31m\"}\n"}, english());
  EXPECT_EQ(said(own, "page.title"), "<b> &amp; [31m");  // as it stands, on one line; the page escapes it
}

TEST(Words, EveryMistakeIsToldAtOnce) {
  EXPECT_EQ(
      said_against("faults:\n"
                   "  mising:\n"
                   "    name: x\n"
                   "  gap:\n"
                   "    rihgt: y\n"
                   "normal:\n"
                   "  studs colder: \"Studs read {stud} colder\"\n"
                   "cautions:\n"
                   "  foam: \"\"\n"),
      "own.yaml:2:3: error: unknown key 'mising'\n"
      "    2 |   mising:\n"
      "      |   ^^^^^^ not a key of 'faults'\n"
      " hint: did you mean 'missing'? 'faults' takes: box margin, box open, box piece, box squeezed, cold "
      "pipe, folded, forced, gap, inset staples, missing, narrow, pushed over, scraps, settled, short, "
      "shoulders, slumped, squeezed, thin, void\n"
      "own.yaml:5:5: error: unknown key 'rihgt'\n"
      "    5 |     rihgt: y\n"
      "      |     ^^^^^ not a key of 'faults.gap'\n"
      " hint: did you mean 'right'? 'faults.gap' takes: check, colder, name, note, right, warmer\n"
      "own.yaml:7:17: error: nothing stands for {stud} in this sentence\n"
      "    7 |   studs colder: \"Studs read {stud} colder\"\n"
      "      |                 ^^^^^^^^^^^^^^^^^^^^^^^^\n"
      " hint: did you mean {studs}? this sentence may hold {studs}\n"
      "own.yaml:9:9: error: 'cautions.foam' is empty\n"
      "    9 |   foam: \"\"\n"
      "      |         ^\n"
      " hint: leave the key out to keep the sentence that there is\n");
}

TEST(Words, ASentenceIsText) {
  EXPECT_EQ(said_against("normal:\n  studs even: {studs} are alike\n").substr(0, 12),
            "own.yaml:2:2");  // YAML
  EXPECT_EQ(said_against("page:\n  bay: {number}\n  bays: [a]\n  note:\n"),
            "own.yaml:2:8: error: 'page.bay' is a sentence\n"
            "    2 |   bay: {number}\n"
            "      |        ^\n"
            " hint: put it in quotes: what begins with a bracket or a brace is no text without them\n"
            "own.yaml:3:9: error: 'page.bays' is a sentence\n"
            "    3 |   bays: [a]\n"
            "      |         ^\n"
            " hint: put it in quotes: what begins with a bracket or a brace is no text without them\n"
            "own.yaml:4:3: error: 'page.note' is empty\n"
            "    4 |   note:\n"
            "      |   ^^^^\n"
            " hint: leave the key out to keep the sentence that there is\n");
}

TEST(Words, BracesAreChecked) {
  EXPECT_EQ(said_against("page: {title: \"what {x} is\", bay: \"bay {number\"}\n"),
            "own.yaml:1:15: error: nothing stands for {x} in this sentence\n"
            "    1 | page: {title: \"what {x} is\", bay: \"bay {number\"}\n"
            "      |               ^^^^^^^^^^^\n"
            " hint: in this sentence the program puts in nothing; write {{ and }} for braces themselves\n"
            "own.yaml:1:35: error: a brace here has no fellow\n"
            "    1 | page: {title: \"what {x} is\", bay: \"bay {number\"}\n"
            "      |                                   ^^^^^^^^^^^\n"
            " hint: a name in braces is {so}; write {{ and }} for braces themselves\n");
}

TEST(Words, TheHeadIsChecked) {
  EXPECT_EQ(said_against("code: english\ndirection: rlt\nlanguage: [a]\n"),
            "own.yaml:1:7: error: 'english' is not a code of a language\n"
            "    1 | code: english\n"
            "      |       ^^^^^^^\n"
            " hint: such as en, es or pt-BR\n"
            "own.yaml:2:12: error: 'rlt' is not a direction\n"
            "    2 | direction: rlt\n"
            "      |            ^^^\n"
            " hint: did you mean 'rtl'? a direction is one of: ltr, rtl\n"
            "own.yaml:3:11: error: a list stands where the name of a language is wanted\n"
            "    3 | language: [a]\n"
            "      |           ^\n");
  for (const char* code : {"en", "fil", "pt-BR", "zh-Hant-TW", "es-419"})
    EXPECT_EQ(said_against(std::string("code: ") + code + "\n"), "") << code;
  for (const char* code : {"e", "en-", "-en", "en--US", "e5", "en_US", "\"en us\"", "\"\\\"><b\"", "é1"})
    EXPECT_NE(said_against(std::string("code: ") + code + "\n"), "") << code;
}

TEST(Words, AFileOfSomethingElseIsRefused) {
  EXPECT_EQ(
      said_against("wall:\n  bays: [a]\n"),
      "own.yaml:1:1: error: unknown key 'wall'\n"
      "    1 | wall:\n"
      "      | ^^^^ not a key of the file of words\n"
      " hint: the file of words takes: language, code, direction, cautions, faults, normal, page, viewer\n");
  EXPECT_EQ(said_against("just text\n"),
            "own.yaml:1:1: error: a file of words begins with keys\n"
            "    1 | just text\n"
            "      | ^^^^^^^^^\n"
            " hint: write a key, a colon, and the sentence in quotes\n");
  EXPECT_NE(said_against("page: some text\n").find("'page' holds sentences by name"), std::string::npos);
  EXPECT_EQ(said_against("page:\n"), "");  // nothing changed under it
}

}  // namespace
}  // namespace coldbay::words_test
