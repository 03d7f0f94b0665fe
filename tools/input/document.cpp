#include "tools/input/document.hpp"

#include <fmt/core.h>
#include <yaml-cpp/depthguard.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>
#include <utility>

#include "tools/input/case_document.hpp"
#include "tools/input/places.hpp"

namespace coldbay {
namespace {

constexpr int deepest = 100;
constexpr std::size_t most_nodes = 200'000;

std::string nesting_hint() { return fmt::format("at most {} levels", deepest); }

std::size_t size_of(const Node& node) {
  std::size_t n = 1;
  for (const Node& item : node.items) n += size_of(item);
  for (const auto& entry : node.entries) n += size_of(entry.value);
  return n;
}

/// The keys of a map and their lines, for finding one among many quickly.
using KeyLines = std::map<std::string, int>;

/// Adds the keys of `from` that the map does not write itself.
void merge(Node& map, KeyLines& keys, const Node& from) {
  if (from.kind == Node::Kind::sequence) {
    for (const Node& item : from.items) merge(map, keys, item);
    return;
  }
  if (from.kind != Node::Kind::map)
    fail(from.where, "'<<' merges maps, and this is not one",
         "write <<: *name, where &name stands before a map");
  for (const auto& entry : from.entries)
    if (keys.emplace(entry.key, entry.where.line).second) map.entries.push_back(entry);
}

class TreeBuilder : public YAML::EventHandler {
 public:
  explicit TreeBuilder(const Places& places) : places_(places) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    Node node;
    node.where = places_.at(mark);
    add(std::move(node), anchor);
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_tag(mark, tag);
    Node node;
    node.where = places_.at(mark, value);
    const bool plain = tag != "!";
    node.kind =
        plain && (value == "~" || value == "null" || value.empty()) ? Node::Kind::null : Node::Kind::scalar;
    node.text = value;
    add(std::move(node), anchor);
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    const Place where = places_.at(mark);
    const auto known = anchors_.find(anchor);
    if (known == anchors_.end())
      fail(where, "this alias stands inside its own anchor", "write the values out");
    Node copy = known->second;
    count(size_of(copy), where);
    copy.where = where;
    add(std::move(copy), 0);
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Node::Kind::sequence);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Node::Kind::map);
  }
  void OnMapEnd() override { close(); }

  Node take() { return std::move(root_); }

 private:
  struct Open {
    Node node;
    YAML::anchor_t anchor;
    bool has_key = false;
    std::string key;
    Place key_at;
    KeyLines keys;
    std::vector<Node> merged;
  };

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) const {
    if (tag.empty() || tag == "?" || tag == "!") return;
    fail(places_.at(mark), fmt::format("the tag '{}' means nothing here", shortened(tag)), "leave it out");
  }

  void count(std::size_t more, Place where) {
    nodes_ += more;
    if (nodes_ > most_nodes)
      fail(
          where,
          fmt::format("this file holds more than {} values, counting what its aliases stand for", most_nodes),
          "write fewer, or fewer aliases of aliases");
  }

  void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, Node::Kind kind) {
    refuse_tag(mark, tag);
    const Place where = places_.at(mark);
    if (open_.size() >= deepest) fail(where, "nested too deeply", nesting_hint());
    if (!open_.empty() && open_.back().node.kind == Node::Kind::map && !open_.back().has_key) {
      // The parser takes a bracket that is never closed for a key, and so hides how deep it goes.
      if (places_.brackets_at(mark) > deepest) fail(where, "nested too deeply", nesting_hint());
      fail(where, "a key is a word, not a list or a map",
           "write the key before the colon; or is a bracket here not closed?");
    }
    Open o;
    o.node.kind = kind;
    o.node.where = where;
    o.anchor = anchor;
    open_.push_back(std::move(o));
  }

  void close() {
    Open done = std::move(open_.back());
    open_.pop_back();
    for (const Node& from : done.merged) merge(done.node, done.keys, from);
    add(std::move(done.node), done.anchor);
  }

  void add(Node node, YAML::anchor_t anchor) {
    count(1, node.where);
    if (anchor != 0) {
      count(size_of(node), node.where);  // the copy kept for its aliases takes memory as well
      anchors_[anchor] = node;
    }
    if (open_.empty()) {
      root_ = std::move(node);
      return;
    }
    Open& parent = open_.back();
    if (parent.node.kind == Node::Kind::sequence)
      parent.node.items.push_back(std::move(node));
    else if (!parent.has_key)
      take_key(parent, node);
    else {
      parent.has_key = false;
      if (parent.key == "<<")
        parent.merged.push_back(std::move(node));
      else
        parent.node.entries.push_back({parent.key, parent.key_at, std::move(node)});
    }
  }

  static void take_key(Open& map, const Node& key) {
    if (key.kind != Node::Kind::scalar) fail(key.where, "a key is a word", "write the key before the colon");
    const auto [before, is_new] = map.keys.emplace(key.text, key.where.line);
    if (!is_new && key.text != "<<")
      fail(key.where, fmt::format("'{}' is already given on line {}", shortened(key.text), before->second),
           "keep one of the two");
    map.has_key = true;
    map.key = key.text;
    map.key_at = key.where;
  }

  const Places& places_;
  Node root_;
  std::vector<Open> open_;
  std::map<YAML::anchor_t, Node> anchors_;
  std::size_t nodes_ = 0;
};

void require_text(const std::string& text) {
  Place at{1, 1, 1};
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0) fail(at, "this is not UTF-8 text", "save the file as UTF-8");
    if (text[i] == '\0') fail(at, "this file holds a zero byte, so it is not text");
    if (text[i] == '\n')
      at = {at.line + 1, 1, 1};
    else
      ++at.column;
    i += length;
  }
}

}  // namespace

void set_paths(Node& node, const std::string& path) {
  node.path = path;
  for (std::size_t i = 0; i < node.items.size(); ++i)
    set_paths(node.items[i], fmt::format("{}[{}]", path, i));
  for (auto& entry : node.entries) set_paths(entry.value, path.empty() ? entry.key : path + "." + entry.key);
}

const Node* Node::find(const std::string& key) const {
  const auto it = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
  return it == entries.end() ? nullptr : &it->value;
}

Node read_document(const SourceText& source) {
  require_text(source.text);
  std::string_view text = source.text;
  constexpr std::string_view byte_order_mark = "\uFEFF";
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());  // no column of its own
  const Places places(text);
  TreeBuilder builder(places), second(places);
  std::istringstream in{std::string(text)};
  in.imbue(std::locale::classic());
  try {
    YAML::Parser parser(in);
    if (!parser.HandleNextDocument(builder)) fail({}, "this file is empty", "see the examples in cases/");
    if (parser.HandleNextDocument(second))
      fail(second.take().where, "this file holds more than one document",
           "one case, one file: leave out the '---' between them; without one, is this line indented right?");
  } catch (const YAML::DeepRecursion& e) {
    fail(places.at(e.mark), "nested too deeply", nesting_hint());
  } catch (const YAML::Exception& e) {
    fail(places.at(e.mark), "this is not YAML: " + e.msg,
         places.tab_indents(e.mark) ? "indent with spaces: this line begins with a tab"
                                    : "look for a missing colon, comma, bracket or space of indentation");
  }
  Node root = builder.take();
  if (root.kind == Node::Kind::null) fail({}, "this file is empty", "see the examples in cases/");
  set_paths(root, "");
  return root;
}

const Node& node_at(const Node& root, const std::string& path) {
  const Node* at = &root;
  std::size_t i = 0;
  while (i < path.size()) {
    const Node* next = nullptr;
    if (path[i] == '[') {
      const std::size_t end = path.find(']', i);
      std::size_t index = 0;
      for (++i; i < end && i < path.size(); ++i) index = 10 * index + static_cast<std::size_t>(path[i] - '0');
      if (index < at->items.size()) next = &at->items[index];
      ++i;
    } else {
      if (path[i] == '.') ++i;
      // A key may hold dots and brackets itself: the longest that fits is meant.
      std::size_t end = i;
      for (const auto& entry : at->entries) {
        const std::size_t stop = i + entry.key.size();
        const bool whole =
            stop == path.size() || (stop < path.size() && (path[stop] == '.' || path[stop] == '['));
        if (stop < end || !whole || path.compare(i, entry.key.size(), entry.key) != 0) continue;
        next = &entry.value;
        end = stop;
      }
      i = end;
    }
    if (!next) break;
    at = next;
  }
  return *at;
}

const char* name_of(Node::Kind kind) {
  switch (kind) {
    case Node::Kind::null:
      return "nothing";
    case Node::Kind::scalar:
      return "a word";
    case Node::Kind::sequence:
      return "a list";
    case Node::Kind::map:
      break;
  }
  return "a map";
}

}  // namespace coldbay
