#pragma once

#include <string>
#include <vector>

#include "tools/input/input_error.hpp"

namespace coldbay {

/// A value of a YAML file with its place and its path, read from the parser's events.
///
/// The tree is our own because the parser's is not fit for people's files: it keeps duplicate keys
/// silently, places an alias at its anchor, and lets ten lines of aliases grow without bound.
struct Node {
  enum class Kind { null, scalar, sequence, map };
  struct Entry;
  Kind kind = Kind::null;
  std::string text;  ///< of a scalar
  Place where;
  std::string path;  ///< "wall.bays[2].batt"
  std::vector<Node> items;
  std::vector<Entry> entries;  ///< of a map, in the order of the file

  const Node* find(const std::string& key) const;  ///< null where the map has no such key
};

struct Node::Entry {
  std::string key;
  Place where;
  Node value;
};

/// What stands somewhere, for messages: "a list".
const char* name_of(Node::Kind kind);

/// Reads one YAML document.
///
/// Throws InputErrors for text that is not UTF-8 or not YAML, an empty file, a second document, duplicate
/// keys, keys that are not plain text, tags, nesting deeper than 100, more than 200,000 values
/// once aliases are copied, an alias inside its own anchor. Merge keys (`<<: *name`) are merged: keys written
/// beside them win.
Node read_document(const SourceText& source);

/// The node at a path; the deepest one on the way to it where the path goes on past the file.
const Node& node_at(const Node& root, const std::string& path);

}  // namespace coldbay
