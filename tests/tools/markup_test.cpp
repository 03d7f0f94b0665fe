#include "tools/report/handout/markup.hpp"

#include <gtest/gtest.h>

#include <iterator>
#include <pugixml.hpp>
#include <string>

// Words between tags and quotes, read back by pugixml: what went in must come out.

namespace coldbay::markup_test {
namespace {

struct Back {
  std::string text, attribute;
};

Back read_back(const std::string& safe) {
  const std::string markup = "<a b=\"" + safe + "\" c='" + safe + "'>x" + safe + "x</a>";
  pugi::xml_document document;
  const pugi::xml_parse_result read = document.load_buffer(
      markup.data(), markup.size(), pugi::parse_full | pugi::parse_ws_pcdata, pugi::encoding_utf8);
  EXPECT_TRUE(read) << read.description();
  const pugi::xml_node node = document.child("a");
  EXPECT_STREQ(node.attribute("b").value(), node.attribute("c").value());
  std::string text = node.text().get();
  EXPECT_GE(text.size(), 2U);
  EXPECT_EQ(std::distance(node.begin(), node.end()), 1) << "one run of text, no element";
  return {text.substr(1, text.size() - 2), node.attribute("b").value()};
}

void expect_back(const std::string& text, const std::string& wanted) {
  const Back back = read_back(escaped(text));
  EXPECT_EQ(back.text, wanted);
  EXPECT_EQ(back.attribute, wanted);
}

TEST(Markup, WordsComeBackAsTheyWent) {
  for (const char* text : {"", "plain", "R&D <b>\"5\" x '4'</b>", "</title><script>alert(1)</script>",
                           "&amp; &#60; &lt", "<!-- --> ]]> <![CDATA[ <?x?>", "é ß 壁 جدار 🔥", "a\u202Eb"})
    expect_back(text, text);
}

TEST(Markup, NothingLeavesTheQuotes) {
  for (const char c : escaped("<>\"'")) EXPECT_EQ(std::string("<>\"'").find(c), std::string::npos) << c;
}

// XML 1.0 (fifth edition), section 2.2, from memory: Char is #x9, #xA, #xD, #x20 to #xD7FF, #xE000 to #xFFFD
// and #x10000 to #x10FFFF.
TEST(Markup, EveryCharacterOfXmlComesBackAndNoOtherGoesIn) {
  for (char32_t first = 0; first <= 0x10FFFF; first += 0x1000) {
    std::u32string all, wanted;
    for (char32_t code = first; code < first + 0x1000; ++code) {
      const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
      const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
      all += code;
      wanted += control ? U' ' : surrogate || code == 0xFFFE || code == 0xFFFF ? U'\xFFFD' : code;
    }
    expect_back(utf8(all), utf8(wanted));
  }
}

// RFC 3629, section 3, and table 3-7 of the Unicode standard (from memory).
TEST(Markup, BytesThatAreNotUtf8AreReplaced) {
  expect_back("a\x80z", "a\uFFFDz");
  expect_back("a\xC0\xAFz", "a\uFFFD\uFFFDz");            // "/" in two bytes
  expect_back("a\xED\xA0\x80z", "a\uFFFD\uFFFD\uFFFDz");  // a surrogate
  expect_back("a\xF4\x90\x80\x80z", "a\uFFFD\uFFFD\uFFFD\uFFFDz");
  expect_back("a\xE2\x82", "a\uFFFD\uFFFD");  // cut short
  expect_back(std::string("a\0b\x1B\x7Fz\r\n\t.", 10), "a b  z   .");
}

TEST(Markup, CharactersAsUtf8) {
  EXPECT_EQ(utf8(U"$¢€\U00010348"),
            "\x24\xC2\xA2\xE2\x82\xAC\xF0\x90\x8D\x88");  // RFC 3629's ranges, one of each
  EXPECT_EQ(utf8(std::u32string(1, static_cast<char32_t>(0x110000))), "\uFFFD");
}

}  // namespace
}  // namespace coldbay::markup_test
